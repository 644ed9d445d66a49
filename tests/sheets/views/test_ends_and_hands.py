"""Heads, heels and hands of every kind on the sheets: areas by closed forms, mirror images, seams, rails, open ends."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as File

import ezdxf.filemanagement
import numpy as np
import pytest
from sheet_cases import INCHES, NAMES, ROUTED, check_readable, layout_of, path_of

from neckmodel import presets
from neckmodel.design import read
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.body.place import BodyPlace, CutOut
from neckmodel.layout.channel.step import Step, plain
from neckmodel.layout.workshop.router import router_settings
from neckmodel.layout.workshop.sled import sled_of
from neckmodel.sheets import draw, draw_all
from neckmodel.sheets.kinds.routing import draw_routing
from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.clip import clipped
from neckmodel.sheets.marks.display import Circle, Drawing, Path, Text
from neckmodel.sheets.marks.layers import HEAD, NECK
from neckmodel.sheets.pages.sizes import PAPERS
from neckmodel.sheets.pages.titles import titles_of
from neckmodel.sheets.views.outlines import area, head_plan, neck_plan
from neckmodel.sheets.views.plan import plan_half, wing_boxes
from neckmodel.work.order import order_of_work

LEFT = 'design.hand="left"'
# unlike on both sides: straight from the swell on, a half circle of radius 12 standing out on the treble side
OUTLINE = [(5, -24), (5, 22), (-80, 22), (-104, 22), (-160, 30), (-170, -28)]
HALF_CIRCLE = 1.0
LEGEND = -210.0  # mm; everything of the title block lies on the head side of this


def on_layer(drawing: Drawing, name: str) -> list[Path]:
    """The layer's lines, without the sample that the legend shows of it."""
    paths = [mark for mark in drawing.marks if isinstance(mark, Path) and mark.layer.name == name]
    return [path for path in paths if max(x for x, _ in path.points) > LEGEND]


def drawn_head(folder: File, *over: str) -> Layout:
    """redpoll with its head read from a drawing, written by a library that is not this project's."""
    document = ezdxf.filemanagement.new(setup=False)
    document.header["$INSUNITS"] = 4
    points = [(x, y, HALF_CIRCLE if (x, y) == (-80, 22) else 0.0) for x, y in reversed(OUTLINE)]
    points = [(x, y, -HALF_CIRCLE if (x, y) == (-104, 22) else 0.0) for x, y, _ in points]
    document.layers.add("outline")
    document.modelspace().add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "outline"})
    document.saveas(folder / "head.dxf")
    text = path_of("redpoll").read_text(encoding="utf-8")
    stated = next(line for line in text.splitlines() if line.startswith("outline = "))
    (folder / "redpoll.toml").write_text(text.replace(stated, 'outline = {file = "head.dxf", layer = "outline"}'))
    return lay_out(read(folder / "redpoll.toml", over))


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_drawn_head_is_drawn_as_it_is(hand: str, tmp_path: File) -> None:
    """Beyond the swell the head's area is the drawing's there, by the shoelace formula and half a circle more."""
    layout = drawn_head(tmp_path, f'design.hand="{hand}"')
    contour = layout.head.contour
    assert contour is not None
    path = head_plan(HEAD, layout)
    first, last = contour.corners[0], contour.corners[-1]
    between = layout.head.x_line - first[0]
    neck = (
        sum(2 * layout.outside.half_width(first[0] + between * (k + 0.5) / 4000) for k in range(4000)) * between / 4000
    )
    assert area(path) == pytest.approx(contour.area + neck, abs=0.5)  # the cove is drawn in chords
    assert first[0] == last[0] == layout.head.x_swell
    (face,) = on_layer(draw("head", layout, None, ("long",))[0].pages[0], "head")
    arcs = [arc_of(*stretch) for stretch in face.stretches() if stretch[2]]
    assert len(arcs) == 3  # the other two lead out to the wider bass side
    side = 1 if hand == "right" else -1
    assert arcs[0][0] == pytest.approx((-92.0, 22.0 * side), abs=1e-6)
    assert arcs[0][1] == pytest.approx(12.0)
    assert arcs[0][3] * side == pytest.approx(math.pi)
    assert area(face) == pytest.approx(area(path), abs=1e-6)


@pytest.mark.parametrize("name", [name for name in presets.names() if name != "godwit"])  # its end is square
def test_head_and_neck_have_the_area_of_the_layout(name: str) -> None:
    """By the layout's own half widths, summed up, less each rounded corner by its closed form."""
    layout = layout_of(name)
    head, heel, outside = layout.head, layout.heel, layout.outside

    def between(low: float, high: float, count: int = 4000) -> float:
        step = (high - low) / count
        return sum(2 * outside.half_width(low + (k + 0.5) * step) for k in range(count)) * step

    def corners(radius: float, widens: float) -> float:
        """Both corners of an end, toward which each side leans out by so much a mm: `r2 (1/tan(t/2) - (pi - t)/2)`."""
        inside = math.pi / 2 - math.atan(widens)
        return 2 * radius**2 * (1 / math.tan(inside / 2) - (math.pi - inside) / 2)

    whole = between(head.x_far, head.x_line) - corners(8.0, (head.far - head.near) / 2 / (head.x_line - head.x_far))
    assert area(head_plan(HEAD, layout)) == pytest.approx(whole, abs=0.5)  # the cove is drawn in chords
    face = on_layer(draw("head", layout, None, ("long",))[0].pages[0], "head")[0]
    slant = math.cos(math.radians(head.angle))
    # a corner seen aslant is drawn in chords within 0.01 mm of its 12.6 mm
    assert area(face) * slant == pytest.approx(area(head_plan(HEAD, layout)), abs=0.01 * 2 * 12.6)
    rest = between(head.x_line, heel.x_joint) + between(heel.x_joint + 1e-9, heel.x_end)
    if heel.tenon is None:
        rest -= corners(heel.corner_radius, layout.fretboard.slope)
    assert area(neck_plan(NECK, layout)) == pytest.approx(whole + rest, abs=1.0)


HANDED = [(kind, name) for kind in ("pockets", "templates") for name in ROUTED]
HANDED += [(kind, name) for kind in ("fretboard", "head") for name in NAMES if (kind, name) != ("head", "godwit")]


@pytest.mark.parametrize(("kind", "name"), HANDED)
def test_a_left_handed_drawing_is_the_mirror_image(kind: str, name: str) -> None:
    right, left = (
        draw(kind, layout_of(name, hand), None, ("long",))[0].pages[0] for hand in ('design.hand="right"', LEFT)
    )
    pairs = 0
    lines = ([mark for mark in page.marks if not isinstance(mark, Text)] for page in (right, left))
    for one, other in zip(*lines, strict=True):
        assert type(one) is type(other)
        assert one.layer == other.layer
        if isinstance(one, Path) and isinstance(other, Path) and one.layer.name not in ("blank", "datum"):
            assert np.allclose(np.array(one.points) * (1, -1), other.points, atol=1e-12)
            assert np.allclose(np.negative(one.bulges), other.bulges, atol=1e-12)
            pairs += 1
        if isinstance(one, Circle) and isinstance(other, Circle):
            assert (one.at[0], -one.at[1], one.radius) == pytest.approx((*other.at, other.radius))
    assert pairs > 0
    said = " ".join(text.says for text in left.texts())
    up, down = "the bass side up", "the treble side up"
    if kind in ("pockets", "templates") and layout_of(name).back_strip is not None:
        up, down = down, up  # seen from the back
    assert up in said
    assert down not in said


def test_left_handed_numbers_are_those_of_the_finished_neck() -> None:
    """garganey's first bar lies 9 mm on the bass side, which is y = +9 of a left-handed neck; its fence does not move:
    it always lies along the bass side."""
    right, left = layout_of("garganey"), layout_of("garganey", LEFT)
    assert right.step("bar-1").y == -9.0
    said = [
        " ".join(
            text.says for page in draw_routing(layout, titles_of(layout, None), PAPERS["A4"]) for text in page.texts()
        )
        for layout in (right, left)
    ]
    assert "4.10 mm wide, its middle at y -9.00 mm" in said[0]
    assert "4.10 mm wide, its middle at y 9.00 mm" in said[1]
    assert [s.fences for s in router_settings(right)] == [s.fences for s in router_settings(left)]
    drills = [next(work for work in order_of_work(layout) if work.title == "Drill").says for layout in (right, left)]
    assert "at y -17.00 mm" in drills[0][1]
    assert "at y 17.00 mm" in drills[1][1]


def test_a_cut_that_leaves_the_wood_at_the_heel_has_no_stop_there() -> None:
    """whimbrel's channel runs out at the heel's end, x 510; redpoll's ends in the wood."""
    (run,) = [s for s in router_settings(layout_of("whimbrel")) if s.step.name == "run"]
    assert run.step.x_end == 510.0
    assert run.stop_end is None
    assert run.stop_start == pytest.approx(23.5 - (75 - 3))
    assert all(s.stop_end is not None for s in router_settings(layout_of("redpoll")))
    (fit,) = [work for work in order_of_work(layout_of("whimbrel")) if work.title == "Fit the neck to the body"]
    assert any("For the adjuster: x 510.00 mm to 521.50 mm" in line for line in fit.says)


def test_rails_of_a_sled() -> None:
    """Three points 6, 10, 6 deep over 300 mm: sagitta 4, and the circle through them has the radius
    `300**2/(8 x 4) + 4/2 = 2814.5`. A straight ramp has none; a level floor needs no sled."""
    bent = sled_of(Step("run", 0.0, 300.0, 6.0, 6.0, 6.0, depth_middle=10.0))
    assert bent is not None
    assert (bent.sagitta, bent.radius, bent.rise) == pytest.approx((4.0, 2814.5, 0.0))
    ramp = sled_of(Step("access-slot", -20.0, 0.0, 6.0, 3.0, 9.0))
    assert ramp is not None
    assert (ramp.sagitta, ramp.rise, ramp.length, ramp.radius) == (0.0, 6.0, 20.0, math.inf)
    assert sled_of(Step("run", 0.0, 300.0, 6.0, 9.0, 9.0)) is None


def test_work_of_wheatear() -> None:
    """Its pieces, its washer's pocket and its strip stand in the order of work, with the numbers of both seams: under
    a shaft 20 thick at 14 degrees the seam comes out at -6 - 20/tan 14 = -86.22."""
    layout = layout_of("wheatear")
    works = {work.title: work for work in order_of_work(layout)}
    scarf, heel = works["Glue on the head"], " ".join(works["Glue on the heel"].says)
    assert "one cut at 14 deg" in scarf.says[0]
    assert "its sloping face 82.67 mm long" in scarf.says[0]  # 20/sin 14
    assert "with its sloping face under the shaft" in scarf.says[2]
    assert any("the seam comes out at x -86.22 mm" in check for check in scarf.checks)
    assert [heel.index(f"heel block {k}") for k in (1, 2, 3)] == sorted(
        heel.index(f"heel block {k}") for k in (1, 2, 3)
    )
    assert "heel block 2, 104.00 mm x 61.00 mm x 20.00 mm: its upper face 40.00 mm deep, from x 282.02 mm" in heel
    assert "washer" in works["Rout the channel"].cuts
    strip = " ".join(works["Glue in the cover strip"].says)
    assert "maple" in strip
    assert "5.20 mm x 7.50 mm" in strip
    seams = on_layer(draw("marking-out", layout, None, ("long",))[0].pages[0], "glue seams")
    assert any(path.points[0][0] == path.points[1][0] == pytest.approx(-86.22, abs=0.005) for path in seams)
    deep = [path for path in seams if path.points[0][1] == path.points[1][1]]
    assert len(deep) == 4  # the scarf's level seam and three blocks


def test_floors_are_told_at_both_ends_and_half_way() -> None:
    layout = layout_of("wheatear")
    said = " ".join(
        text.says for page in draw_routing(layout, titles_of(layout, None), PAPERS["A3"]) for text in page.texts()
    )
    run, slot = layout.step("run"), layout.step("access-slot")
    assert run.depth_middle is not None
    assert (
        f"{run.depth_start:.2f} mm at its start, {run.depth_middle:.2f} mm half way, {run.depth_end:.2f} mm at" in said
    )
    assert f"{slot.depth_start:.2f} mm at its start to {slot.depth_end:.2f} mm at its end" in said
    assert "lower by the sagitta of" in said


def test_wings_and_a_zero_fret_and_a_groove() -> None:
    over = (
        "board.width=50.0",
        'head.wings=[{side="bass", width=12.0}, {side="treble", width=12.0}]',
        "fretboard.zero_fret=true",
        'nut.seat="groove"',
        "head.starts_at=-20.0",
        "head.outline={near=46.0, far=70.0}",
    )
    layout = layout_of("redpoll", *over)
    boxes = wing_boxes(layout)
    assert [box.name for box in boxes] == ["wing-1", "wing-2"]
    assert boxes[0].y_to == -boxes[1].y_from == pytest.approx(-layout.blank_half_width)
    page = draw("marking-out", layout, None, ("long",))[0].pages[0]
    assert len(on_layer(page, "glued pieces")) == 2
    said = [text.says for text in page.texts()]
    assert any(words.startswith("zero fret: 0.00 mm") for words in said)
    assert any("x = 0 is the zero fret's middle line" in words for words in said)
    slots = on_layer(draw("fretboard", layout, None, ("long",))[0].pages[0], "fret slots")
    assert len(slots) == layout.design.fretboard.frets + 1
    strip = on_layer(draw("fretboard", layout, None, ("long",))[0].pages[0], "fretboard behind the nut")
    assert len(strip) == 1
    assert any(plain("wing-1") in words for words in said)


OTHERS = (
    ("redpoll", LEFT),
    ("whimbrel", LEFT),
    (INCHES, LEFT),
    ("wheatear", LEFT, 'head.scarf="on-ramp"', "head.volute={length=40.0, height=3.0}"),
    ("redpoll", 'nut.seat="groove"', "fretboard.zero_fret=true", "head.starts_at=-20.0"),
)


@pytest.mark.parametrize("case", OTHERS, ids=lambda case: f"{case[0]} {case[1][:11]}")
def test_other_hands_and_ends_can_be_read(case: tuple[str, ...]) -> None:
    for sheet in draw_all(layout_of(*case), None, ("long", "A4")):
        for page in sheet.pages:
            check_readable(page)


def test_a_drawn_head_and_wings_can_be_read(tmp_path: File) -> None:
    for layout in (drawn_head(tmp_path), drawn_head(tmp_path, LEFT, 'nut.seat="groove"', "head.starts_at=-16.0")):
        for sheet in draw_all(layout, None, ("long", "A4")):
            for page in sheet.pages:
                check_readable(page)


def test_what_of_the_body_lies_over_the_blank() -> None:
    """A body that begins at the joint, with a drawn hole on the treble side and a stated cut-out from 450 on."""
    bare = layout_of("redpoll", LEFT)
    x = bare.heel.x_joint
    outline = np.array([(x, -160.0), (x + 400.0, -160.0), (x + 400.0, 160.0), (x, 160.0)])
    hole = np.array([(x + 20.0, 10.0), (x + 40.0, 10.0), (x + 40.0, 20.0), (x + 20.0, 20.0)])
    layout = replace(bare, body=BodyPlace(outline, (CutOut(450.0, 500.0, "stated"),), (hole,)))
    page = draw("marking-out", layout, None, ("long",))[0].pages[0]
    paths = [path.points for path in on_layer(page, "body")]
    half = plan_half(layout)
    assert ((x, half), (x, -half)) in [points[::-1] for points in paths] + paths
    assert ((450.0, half), (450.0, -half)) in paths  # mirrored, as everything is
    assert any(min(y for _, y in points) == -20.0 and max(y for _, y in points) == -10.0 for points in paths)
    assert "body's cut-out begins: 450.00 mm" in [text.says for text in page.texts()]
    check_readable(page)


def test_an_outline_is_cut_to_a_box() -> None:
    """A square of 10 round the origin in a box to the right: its right half, three sides of it."""
    square = [(-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0)]
    (line,) = clipped(square, (0.0, -9.0, 9.0, 9.0))
    assert line == [(0.0, -5.0), (5.0, -5.0), (5.0, 5.0), (0.0, 5.0)]
    assert clipped(square, (6.0, -9.0, 9.0, 9.0)) == []
