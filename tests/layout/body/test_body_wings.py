"""What is glued to the sides of a neck that runs through: placed, built, told, refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from ends_samples import dxf, line, polyline
from measured_runs import found_on, measured_parts

from neckmodel.checks.bench import Bench
from neckmodel.checks.body import check_wings
from neckmodel.design import read
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.json.layout import layout_json
from neckmodel.report.materials import order_list
from neckmodel.solids import build
from neckmodel.solids.kernel.gate import is_sound, volume
from neckmodel.work.order import order_of_work

PRESET = Path(__file__).parents[3] / "presets" / "garganey.toml"
JOINT = 852.0 * (1 - 2 ** (-20 / 12))
HALF, DEPTH, END = 37.5, 42.0, 1010.0  # the preset's centre block
TWO = '[{side = "bass", width = 130, length = 440}, {side = "treble", width = 130, length = 440}]'
BODY = [(-60.0, 30.0), (-40.0, 165.0), (300.0, 180.0), (420.0, 0.0), (300.0, -150.0), (30.0, -150.0), (0.0, -30.0)]


def laid_out(*sets: str, path: Path = PRESET) -> Layout:
    return lay_out(read(path, sets))


def drawn(folder: Path, body: list[tuple[float, float]], *sets: str) -> Layout:
    lines = line((-20.0, 0.0), (500.0, 0.0), "centre line") + line((0.0, -30.0), (0.0, 30.0), "joint line")
    (folder / "body.dxf").write_text(dxf(polyline(body, "body") + lines))
    shutil.copy(PRESET, folder)
    sets = ('body.outline={file="body.dxf", layer="body"}', *sets)
    return laid_out(*sets, path=folder / PRESET.name)


def test_wings_lie_along_the_block() -> None:
    layout = laid_out(f"heel.wings={TWO}")
    bass, treble = layout.body_wings
    assert layout.heel.x_joint == pytest.approx(JOINT)
    assert (bass.y_from, bass.y_to, bass.seam) == (-HALF - 130, -HALF, -HALF)
    assert (treble.y_from, treble.y_to, treble.seam) == (HALF, HALF + 130, HALF)
    for wing in layout.body_wings:
        assert (wing.x_start, wing.x_end) == (pytest.approx(JOINT), pytest.approx(JOINT + 440))
        assert wing.stock == pytest.approx((440, 130, DEPTH))
        assert wing.glued == pytest.approx(END - JOINT)  # the block is shorter than the wing
        assert wing.beyond == pytest.approx(JOINT + 440 - END)
    told = layout_json(layout)["body_wings"]
    assert [w["y"] for w in told] == [-HALF, HALF]
    (step,) = [work for work in order_of_work(layout) if "wings of the body" in work.title]
    size = "body wing 1, 440.00 mm x 130.00 mm x 42.00 mm"
    assert f"{size}: from x 583.64 mm, its inner side at y -37.50 mm." in step.says
    rows = [row for row in order_list(layout) if "body wing" in row[0]]
    assert len(rows) == 2


def test_a_second_wing_is_glued_to_the_first() -> None:
    second = '[{side = "bass", width = 20, length = 300}, {side = "bass", width = 60, length = 350, from_joint = 10}]'
    inner, outer = laid_out(f"heel.wings={second}").body_wings
    assert (outer.y_from, outer.y_to, outer.seam) == (-HALF - 80, -HALF - 20, -HALF - 20)
    assert outer.glued == pytest.approx(290)
    assert inner.glued == pytest.approx(300)


def test_the_solids_touch_the_neck_and_share_nothing_with_it() -> None:
    layout = laid_out('heel.wings=[{side = "bass", width = 130, length = 380}]')
    parts = build(layout)
    wing = parts["body-wing-1"].solid
    assert is_sound(wing)
    assert volume(wing) == pytest.approx(130 * 380 * DEPTH, rel=1e-9)
    assert wing.distance(parts["neck"].solid) == pytest.approx(0, abs=1e-9)
    findings = found_on(Bench(parts))
    assert findings["overlap/none"].verdict == "pass"
    glued = findings["body/wings"]
    assert (glued.verdict, glued.measured, glued.spare) == ("pass", 0.0, 0.01)
    assert "380.00 mm or more" in glued.says


def test_a_wing_longer_than_the_block_is_told_with_a_remedy_that_does() -> None:
    layout = laid_out('heel.wings=[{side = "bass", width = 90, length = 470}]')
    (found,) = check_wings(Bench(measured_parts(layout)))
    assert found.verdict == "warn"
    assert found.measured == pytest.approx(JOINT + 470 - END, abs=1e-6)
    assert found.spare < 0
    assert found.remedy is not None
    sets = [f"{key}={value}" for key, value in found.remedy.set.items()]
    longer = laid_out('heel.wings=[{side = "bass", width = 90, length = 470}]', *sets)
    assert longer.body_wings[0].beyond == 0


def test_left_handed_wings_change_sides() -> None:
    sets = ('heel.wings=[{side = "bass", width = 90, length = 300}]', "design.hand=left")
    layout = laid_out(*sets)
    bounds = build(layout)["body-wing-1"].solid.BoundingBox()
    assert (bounds.ymin, bounds.ymax) == (pytest.approx(HALF, abs=1e-6), pytest.approx(HALF + 90, abs=1e-6))
    assert layout_json(layout)["body_wings"][0]["y"] == HALF


def test_drawn_bodies_give_the_wings_their_outline(tmp_path: Path) -> None:
    """The wing is what of the outline lies beyond the block: its area by the shoelace formula times its thickness."""
    wings = (
        '[{side = "treble", width = 150, length = 500, from_joint = -70}, {side = "bass", width = 120, length = 430}]'
    )
    layout = drawn(tmp_path, BODY, f"heel.wings={wings}")
    parts = build(layout)
    # corners of the outline above y = 37.5, where it crosses that line by proportion
    treble = [(-60 + 20 * 7.5 / 135, 37.5), (-40, 165), (300, 180), (420 - 120 * 37.5 / 180, 37.5)]
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(treble, treble[1:] + treble[:1], strict=True))) / 2
    solid = parts["body-wing-1"].solid
    assert is_sound(solid)
    assert volume(solid) == pytest.approx(area * DEPTH, rel=1e-6)
    assert volume(parts["body-wing-2"].solid) < 120 * 430 * DEPTH * 0.95
    assert found_on(Bench(parts))["overlap/none"].verdict == "pass"


@pytest.mark.parametrize(
    ("body", "wings", "key", "says"),
    [
        (BODY, '[{side = "bass", width = 80, length = 430}]', "heel.wings[0].width", "at least 112.50 mm"),
        (BODY, '[{side = "treble", width = 150, length = 500}]', "heel.wings[0].from_joint", "at most -58.89 mm"),
        (BODY, '[{side = "bass", width = 113, length = 300}]', "heel.wings[0].length", "at least 390"),
        (
            [(0.0, 30.0), (0.0, -160.0), (100.0, -20.0), (200.0, -160.0), (400.0, 0.0)],
            '[{side = "bass", width = 130, length = 420}]',
            "heel.wings[0]",
            "4 times",
        ),
        (
            BODY,
            '[{side = "bass", width = 113, length = 430}, {side = "bass", width = 20, length = 430}]',
            "heel.wings[1]",
            "leave",
        ),
    ],
)
def test_stock_that_does_not_hold_the_outline(
    body: list[tuple[float, float]], wings: str, key: str, says: str, tmp_path: Path
) -> None:
    with pytest.raises(DesignError) as caught:
        drawn(tmp_path, body, f"heel.wings={wings}")
    assert caught.value.problems[0].key == key
    assert says in str(caught.value)


def test_other_heels_say_that_wings_have_no_effect() -> None:
    layout = laid_out(f"heel.wings={TWO}", "heel.kind=bolted", "heel.wood_ends_at=620")
    assert layout.body_wings == ()
