"""String height and neck angle by trigonometry; and a whole design in inches, read, shown and kept exact."""

from __future__ import annotations

import json
import math
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scale_samples import laid_out
from typer.testing import CliRunner

from neckmodel.cli.app import app
from neckmodel.cli.terminal.lengths import limit, measured
from neckmodel.design import read_text
from neckmodel.layout import lay_out
from neckmodel.lengths import in_both, in_unit, inches

ANGLED = (
    "strings.scale=642",
    "neck.joint_fret=14",
    "action.bridge_height=16",
    "action.fretboard_above_body=7.2",
    "action.at_12=2.0",
    "action.at_nut=0.4",
    "bars.length=350",
)


def test_the_worked_neck_angle() -> None:
    """h_s = 2 x 2.0 - 0.4 = 3.6; atan((16 - 3.6 - 7.2)/(642 - x_14)) = 1.0417 degrees."""
    action = laid_out(*ANGLED).action
    assert action.at_bridge == pytest.approx(3.6)
    assert action.angle == pytest.approx(1.0417, abs=5e-5)
    assert action.level == pytest.approx(10.8)


def test_a_neck_at_that_angle_meets_the_bridge() -> None:
    """Drawn from the joint: the frets' line, tilted back, and the strings' height over it end at the bridge."""
    layout = laid_out(*ANGLED)
    action, x_joint = layout.action, layout.heel.x_joint
    assert action.angle is not None
    line = action.over_body + math.tan(math.radians(action.angle)) * (642 - x_joint)
    assert line + action.at_bridge == pytest.approx(16.0)


def test_no_bridge_no_angle_and_the_height_over_the_body_follows() -> None:
    """Bolted: the heel 19 deep in a pocket of 16 leaves the body's top at z -3; the frets' tops at 6 + 1.1."""
    action = laid_out().action
    assert (action.bridge, action.angle, action.derived) == (None, None, True)
    assert action.over_body == pytest.approx(6.0 + 1.1 + 3.0)
    level = laid_out(f"action.bridge_height={action.level}").action
    assert level.angle == pytest.approx(0.0, abs=1e-9)


@given(st.floats(0.5, 4), st.floats(0, 1), st.floats(5, 30))
def test_a_higher_bridge_tilts_the_neck_farther(at_12: float, at_nut: float, bridge: float) -> None:
    low, high = (
        laid_out(f"action.at_12={at_12}", f"action.at_nut={at_nut}", f"action.bridge_height={h}").action.angle
        for h in (bridge, bridge + 1)
    )
    assert low is not None
    assert high is not None
    assert low < high


def test_marks_for_nut_and_saddle() -> None:
    layout = laid_out("strings.divided_by=centres")
    data = json.loads(json.dumps(_json(layout)))
    assert [s["along_nut"] for s in data["strings"]] == pytest.approx([3.5 + 7.2 * k for k in range(6)], abs=1e-4)
    assert [s["along_saddle"] for s in data["strings"]] == pytest.approx([10.4 * k for k in range(6)], abs=1e-4)
    assert data["action"]["angle"] is None


def _json(layout: object) -> dict[str, object]:
    from neckmodel.layout.json.layout import layout_json

    return layout_json(layout)  # type: ignore[arg-type]


WREN = Path(__file__).with_name("wren.toml")


def test_a_design_in_inches_is_the_same_design_in_mm() -> None:
    """Every number of the file times 25.4 exactly, through fractions; the layout's data is in mm either way."""
    inch = read_text(WREN.read_text(encoding="utf-8"))
    assert inch.strings.scale.bass == 647.7
    assert inch.rod is not None
    assert inch.rod.length == float(Fraction("16.5") * Fraction("25.4"))
    assert inch.rod.adjuster.diameter == float(Fraction(9, 32) * Fraction("25.4"))
    metric = read_text(
        WREN.read_text(encoding="utf-8").replace('units = "in"', 'units = "mm"'),
        overrides=[
            "strings.scale=647.7",
            "fretboard.thickness=6.0325",
            "neck.thickness={fret_1 = 20.955, fret_12 = 22.86}",
            "rod.width=6.096",
            "rod.height=9.144",
            "rod.adjuster.length=10.16",
            "rod.adjuster.axis_below_top=4.191",
            "rod.adjuster.socket.depth=5.08",
            "adjusting_key.length=190.5",
        ],
    )
    one, other = _json(lay_out(inch)), _json(lay_out(metric))
    for name in ("frets", "fretboard", "rod", "channel", "stations"):
        assert one[name] == other[name]
    assert one["unit"] == "mm"


def run(*arguments: str) -> str:
    done = CliRunner().invoke(app, [*arguments], env={"COLUMNS": "120"})  # so wide that no cell is folded
    return done.output


def test_layout_in_inches() -> None:
    """Fret 12 at 12 3/4 in exactly, fret 1 at 1.431 in: 25.5 (1 - 2**(-1/12))."""
    out = run("layout", str(WREN), "--quiet")
    assert "Lengths in inches" in out
    assert "12.750 (12 3/4)" in out
    assert "1.431 (1 7/16)" in out
    assert f"{25.5 * (1 - 2 ** (-1 / 12)):.3f}" == "1.431"


def test_check_in_inches() -> None:
    out = run("check", str(WREN), "--quiet")
    assert "Lengths in inches" in out
    assert "0.118 (1/8)" in out  # the limit of 3.0 mm
    assert " mm" not in out.replace("'", "").split("Not checked")[0].split("--set")[0]


def test_refusals_in_inches() -> None:
    assert "allowed are 0.473 (31/64) to 1.377 (1 3/8) in" in run(
        "layout", str(WREN), "--set", "neck.thickness.fret_1=0.2"
    )
    assert 'or "7/32 in"' in run("layout", str(WREN), "--set", "rod.length=long")  # examples stay as they are written


def test_explain_says_both() -> None:
    assert "3.0 mm = 0.118 in (1/8)" in run("explain", "wall/run")


@pytest.mark.parametrize(
    ("said", "turned"),
    [
        ("3.0 mm, or more", "0.118 in (1/8), or more"),
        ("from x 4.00 to 40.24 mm; then", "from x 0.157 (5/32) to 1.584 (1 37/64) in; then"),
        ("12.3 mm3, about 0.100 mm deep", "12.3 mm3, about 0.00394 in deep"),
        ("at fret 3, 4.00 mm short", "at fret 3, 0.157 in (5/32) short"),
        ("-25.4 mm", "-1.000 in (-1)"),
        ('write "5.5 mm" there', 'write "5.5 mm" there'),
        ("18 degrees", "18 degrees"),
    ],
)
def test_sentences_in_inches(said: str, turned: str) -> None:
    assert in_unit(said, "in") == turned
    assert in_unit(said, "mm") == said


BARRED = """
[design]
name = "one"
[strings]
courses = 6
scale = 640
[fretboard]
[neck]
joint_fret = 16
[bars]
width = 5
height = 8
"""


@given(st.integers(51, 2267))  # bars are 20 to 900 mm long
def test_a_fraction_typed_comes_back_as_typed(count: int) -> None:
    """Nothing is lost between "27/64 in" in the file and 27/64 on the screen."""
    stated = Fraction(count, 64)
    bars = read_text(f'{BARRED}length = "{stated} in"').bars
    assert bars is not None
    assert bars.length == float(stated * Fraction("25.4"))
    whole, part = divmod(stated, 1)
    assert inches(bars.length).endswith(f"({' '.join(str(piece) for piece in (whole, part) if piece)})")


def test_measured_numbers_stay_apart_from_their_limits_in_inches() -> None:
    assert measured(2.9999, 3.0, "in") == "0.118106 (1/8)"  # 3.0 mm are 0.118110 in
    assert measured(3.0, 3.0, "in") == "0.118 (1/8)"
    assert limit(3.0, "in") == "0.118 (1/8)"
    assert limit(0.0001, "in") == "0.000004"
    assert measured(2.44, 3.0, "mm") == "2.44"
    assert in_both("0 mm or more") == "0 mm = 0.000 in or more"
