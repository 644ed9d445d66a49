"""The body's template: placed by its own lines however it is drawn, its holes in the neck's way, its skew told."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from ends_samples import BOLTED, circle, dxf, line, polyline
from measured_runs import measured_parts

from neckmodel.checks.bench import Bench
from neckmodel.checks.body import check_body
from neckmodel.design import read
from neckmodel.errors import DesignError
from neckmodel.findings import Finding
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.json.layout import layout_json

JOINT = 642 * (1 - 2 ** (-14 / 12))
BODY = [
    (0.0, 0.0),
    (0.0, 140.0),
    (80.0, 160.0),
    (300.0, 190.0),
    (380.0, 60.0),
    (380.0, -60.0),
    (300.0, -200.0),
    (0.0, -120.0),
]
CENTRE, SQUARE = ((-20.0, 0.0), (400.0, 0.0)), ((0.0, -30.0), (0.0, 30.0))
HOLE = [(130.0, 30.0), (130.0, -30.0), (165.0, -30.0), (165.0, 30.0)]

Points = list[tuple[float, float]]


def moved(points: object, turn: float, by: tuple[float, float]) -> Points:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return [(x * c - y * s + by[0], x * s + y * c + by[1]) for x, y in points]  # type: ignore[attr-defined]


def template(
    turn: float = 0.0, by: tuple[float, float] = (0.0, 0.0), skew: float = 0.0, holes: tuple[Points, ...] = ()
) -> str:
    joint = moved(SQUARE, skew, (0, 0))
    text = polyline(moved(BODY, turn, by), "body")
    text += line(*moved(CENTRE, turn, by), "centre line")
    text += line(*moved(joint, turn, by), "joint line")
    return dxf(text + "".join(polyline(moved(hole, turn, by), "cut-outs") for hole in holes))


def laid_out(folder: Path, drawing: str, *more: str) -> Layout:
    (folder / "body.dxf").write_text(drawing)
    text = BOLTED + '[body]\noutline = {file = "body.dxf", layer = "body"}\n' + "".join(more)
    (folder / "linnet.toml").write_text(text)
    return lay_out(read(folder / "linnet.toml"))


@pytest.mark.parametrize("turn", [0.0, 30.0, 90.0, 180.0, 201.5])
def test_the_template_is_placed_by_its_own_lines(turn: float, tmp_path: Path) -> None:
    """Turned and moved on its sheet, and its lines drawn either way, it comes to lie in the same place."""
    body = laid_out(tmp_path, template(turn, (-77.0, 1234.5))).body
    assert body.outline is not None
    expected = {(round(x + JOINT, 4), round(y, 4)) for x, y in BODY}
    assert {(round(float(x), 4) + 0.0, round(float(y), 4) + 0.0) for x, y in body.outline} == expected
    assert body.skew == pytest.approx(0, abs=1e-9)
    assert layout_json(laid_out(tmp_path, template(turn)))["body"]["outline"] is not None


def of_body(layout: Layout) -> dict[str, Finding]:
    """What the body's own check finds on the solids."""
    return {finding.check: finding for finding in check_body(Bench(measured_parts(layout)))}


@pytest.mark.parametrize("skew", [-1.5, -0.3, 0.0, 0.2])
def test_a_skewed_joint_line_shows_at_the_bridge(skew: float, tmp_path: Path) -> None:
    """A joint line turned by an angle turns a neck set square on it by as much: (L - x_joint) tan."""
    layout = laid_out(tmp_path, template(40.0, (5.0, 6.0), skew))
    off = (642 - JOINT) * math.tan(math.radians(skew))
    assert layout.body.skew == pytest.approx(skew, abs=1e-6)
    assert layout.body.off_at_bridge == pytest.approx(off, abs=1e-5)
    told = [remark for remark in layout.remarks if "off square" in remark]
    assert len(told) == (skew != 0)
    if skew:
        assert f"{abs(off):.2f} mm to the {'treble' if skew > 0 else 'bass'} side" in told[0]
    found = of_body(layout)["body/skew"]
    assert found.measured == pytest.approx(abs(off), abs=1e-5)
    assert found.verdict == ("warn" if abs(off) > 0.5 else "pass")
    assert found.spare == pytest.approx(0.5 - abs(off), abs=1e-5)


def test_a_drawn_hole_stands_in_the_way_of_wood_and_rod(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, template(33.0, (9.0, 9.0), holes=(HOLE,)))
    (hole,) = layout.body.cut_outs
    assert (hole.x_from, hole.x_to, hole.source) == (pytest.approx(JOINT + 130), pytest.approx(JOINT + 165), "drawing")
    assert layout.rod is not None
    bound = next(b for b in layout.rod.upper if b.reason == "a body cut-out")
    assert bound.x == pytest.approx(JOINT + 130 - 6 - 1 - 360)
    found = of_body(layout)["body/cut-outs"]
    assert found.measured == pytest.approx(JOINT + 130 - layout.heel.x_end, abs=1e-3)
    assert found.verdict == "pass"


def test_wood_that_reaches_into_a_hole_fails_and_its_remedy_holds(tmp_path: Path) -> None:
    near = [(x - 60, y) for x, y in HOLE]
    layout = laid_out(tmp_path, template(holes=(near,)))
    found = of_body(layout)["body/cut-outs"]
    assert found.verdict == "fail"
    assert found.measured == pytest.approx(JOINT + 70 - layout.heel.x_end, abs=1e-3)
    assert found.remedy is not None
    sets = [f"{key}={value}" for key, value in found.remedy.set.items()]
    shorter = lay_out(read(tmp_path / "linnet.toml", sets))
    assert of_body(shorter)["body/cut-outs"].verdict != "fail"


def test_holes_beside_the_neck_and_round_ones(tmp_path: Path) -> None:
    """A hole beside the wood is not in the way; a round one is from where it comes within the wood's half width."""
    beside = [(50.0, 60.0), (90.0, 60.0), (90.0, 90.0), (50.0, 90.0)]
    assert laid_out(tmp_path, template(holes=(beside,))).body.cut_outs == ()
    drawing = template().replace("0\nENDSEC\n0\nEOF\n", circle((200.0, 40.0), 50.0, "cut-outs") + "0\nENDSEC\n0\nEOF\n")
    layout = laid_out(tmp_path, drawing)
    half = layout.outside.half_width(layout.heel.x_end)
    (hole,) = layout.body.cut_outs
    assert hole.x_from == pytest.approx(JOINT + 200 - math.sqrt(50**2 - (40 - half) ** 2), abs=0.05)


def test_stated_holes_stay_and_the_design_keeps_its_name(tmp_path: Path) -> None:
    layout = laid_out(tmp_path, template(holes=(HOLE,)), "cutouts = [{from = 520.0, to = 560.0}]\n")
    assert [one.source for one in layout.body.cut_outs] == ["stated", "drawing"]
    assert len(layout.design.body.cutouts) == 2
    assert layout.body.x_back == pytest.approx(JOINT + 130)
    assert layout.design.sha256 == read(tmp_path / "linnet.toml").sha256
    assert np.array(layout_json(layout)["body"]["cut_outs"][0]["from"]) == 520


@pytest.mark.parametrize(
    ("drawing", "says"),
    [
        (template().replace("centre line", "middle"), 'no line on the layer "centre line"'),
        (template().replace("joint line", "edge"), 'no line on the layer "joint line"'),
        (template(skew=20.0), "20.00 degrees off square"),
        (template(skew=90.0), "does not cross"),
        (template(holes=(HOLE,)).replace("90\n4\n70\n1\n", "90\n4\n70\n0\n"), "not closed"),
        (
            dxf(
                polyline([(x / 10, y / 10) for x, y in BODY], "body")
                + line((-9, 0), (9, 0), "centre line")
                + line((0, -9), (0, 9), "joint line")
            ),
            "38.00 mm long",
        ),
        (
            dxf(polyline(BODY, "body") + line((-1, 0), (1, 0), "centre line") + line((0, -9), (0, 9), "joint line")),
            "straight line of at least 5 mm",
        ),
        (
            dxf(polyline(BODY, "body") + circle((0, 0), 40, "centre line") + line((0, -9), (0, 9), "joint line")),
            "straight line of at least 5 mm",
        ),
    ],
)
def test_templates_that_say_too_little(drawing: str, says: str, tmp_path: Path) -> None:
    with pytest.raises(DesignError, match=says) as caught:
        laid_out(tmp_path, drawing)
    assert caught.value.problems[0].key == "body.outline"
