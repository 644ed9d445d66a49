"""How each step is cut: the stick-out by the way it is cut, one line where the fit allows, what stays in corners."""

from __future__ import annotations

import math

import pytest
from layout_samples import laid_out, plain
from shapely import box, unary_union
from shapely.geometry.base import BaseGeometry

from neckmodel import presets
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.corners import shoulder_area
from neckmodel.layout.channel.cutters import line_count
from neckmodel.layout.channel.step import Step
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.workshop.router import router_settings

BASE = 8.0  # mm of a router's base plate: common practice, no source
RAIL = 6.0  # mm of a sled's rails over the glue plane where they are lowest: common practice, no source
ROUND = 256  # chords a quarter circle: areas to 1e-4 of a cutter's
SQUARE = 2 * (1 - math.pi / 4)  # of a radius squared: both corners of a square end


def rack(*cutters: tuple[float, float]) -> str:
    said = ", ".join(f"{{diameter = {d}, flute_length = 22.0, stick_out = {out}}}" for d, out in cutters)
    return f"workshop.cutters=[{said}]"


# --- reach -----------------------------------------------------------------------------------------------------------
def test_a_level_floor_is_cut_along_the_fence_and_needs_no_template() -> None:
    """redpoll's run is 9.30 deep: 17.30 through the base plate, though a guide bush is stated."""
    layout = laid_out("redpoll", rack((4.0, 20.0), (6.0, 20.0)))
    run = layout.cutting("run")
    assert layout.design.workshop.guide_bush == 16.0
    assert (run.way, run.reach) == ("fence", pytest.approx(9.30 + BASE))
    assert run.stick_out - run.reach == pytest.approx(2.70)
    assert run.template_room == pytest.approx(2.70)  # no template is so thin


def test_a_curved_floor_takes_a_sled() -> None:
    """wheatear's run: the axis is deepest half way, 9.5, half the rod of 5.0 and 0.15 deeper; its rails."""
    run = laid_out("wheatear").cutting("run")
    assert (run.way, run.template_room) == ("sled", None)
    assert run.reach == pytest.approx(9.5 + 2.5 + 0.15 + RAIL + BASE, abs=1e-3)


@pytest.mark.parametrize(("base", "way"), [("30", "sled"), ("75", "fence, in steps")])
def test_a_ramp_too_steep_for_rails_is_cut_in_steps(base: str, way: str) -> None:
    """wheatear's access slot rises at 15 degrees: rails carried on under a base of 75 lie 20.1 lower at its deep end
    than at the slot's, and no cutter reaches through that; under one of 30 it is 8.0."""
    layout = laid_out("wheatear", f"workshop.router_base={base}")
    slot, cutting = layout.step("access-slot"), layout.cutting("access-slot")
    lower = float(base) * math.tan(math.radians(15.0))
    assert cutting.way == way
    need = slot.depth_end + BASE + (RAIL + lower if way == "sled" else 0.0)
    assert cutting.reach == pytest.approx(need, abs=1e-6)
    assert slot.depth_end + BASE + RAIL + 75.0 * math.tan(math.radians(15.0)) > 38.0


# --- one line --------------------------------------------------------------------------------------------------------
def test_one_line_where_what_lies_in_it_still_fits() -> None:
    """A rod of 6.00 in a run of 6.10: a cutter of 6.00 leaves it no play, which the fit allows, one of 5.95 not."""
    assert [laid_out("redpoll", rack((d, 38.0), (4.0, 38.0))).cutting("run").lines for d in (6.0, 6.05, 5.95)] == [
        1,
        1,
        2,
    ]
    run = laid_out("redpoll").cutting("run")
    assert (run.diameter, run.lines, run.width) == (6.0, 1, 6.0)


def test_one_line_for_an_access_slot_whose_key_keeps_its_least_clearance() -> None:
    """A key of 4 mm, 4.53 across corners (JIS B 4648): 5.53 wide with 0.5 at each side, 5.13 with the 0.3 that is the
    least of what is usual. A cutter of 5.5 leaves 0.485."""
    for diameter, lines in ((5.5, 1), (5.14, 1), (5.12, 2)):
        slot = laid_out("dunnock", rack((diameter, 38.0))).cutting("access-slot")
        assert (slot.lines, slot.width) == (lines, diameter if lines == 1 else pytest.approx(5.53))
    tight = laid_out("dunnock", "channel.key_clearance=0.2", rack((4.9, 38.0))).cutting("access-slot")
    assert tight.lines == 2  # no less than what is stated


def test_one_line_for_an_adjuster_that_keeps_its_least_clearance() -> None:
    """7.00 in diameter, 0.8 of clearance stated, 0.5 the least of what is usual."""
    assert [laid_out("redpoll", rack((d, 38.0))).cutting("adjuster").lines for d in (7.5, 7.45)] == [1, 2]


def test_a_glued_bar_keeps_the_room_for_its_glue() -> None:
    bar = laid_out("garganey").cutting("bar-1")
    assert (bar.diameter, bar.lines, bar.width) == (4.0, 2, pytest.approx(4.1))


def test_a_stated_width_alone_asks_for_all_of_it() -> None:
    assert [line_count(6.1, 6.0), line_count(6.1, 6.0, narrowest=6.0), line_count(6.1, 5.9, narrowest=6.0)] == [2, 1, 2]


def test_json_says_what_comes_out() -> None:
    steps = {step["step"]: step for step in layout_json(laid_out("dunnock"))["channel"]}
    slot, run = steps["access-slot"], steps["run"]
    assert (slot["lines"], slot["width_as_cut"]) == (1, 5.5)
    assert slot["width"] == pytest.approx(5.53)
    assert (run["lines"], run["width_as_cut"]) == (2, run["width"])
    assert (run["way"], run["stick_out_needed"]) == ("fence", pytest.approx(10.7 + BASE))
    bare = layout_json(lay_out(plain()))["channel"][0]
    assert (bare["cutter"], bare["way"], bare["width_as_cut"], bare["corners"]) == (None, None, None, [])


@pytest.mark.parametrize("name", presets.names())
def test_the_lines_cover_the_width_that_is_told(name: str) -> None:
    """From the outer side of the first line to that of the last; neighbours overlap."""
    layout = laid_out(name)
    for setting in router_settings(layout):
        first, last = setting.centres[0] - setting.cutter / 2, setting.centres[-1] + setting.cutter / 2
        assert len(setting.centres) == setting.cutting.lines
        assert last - first == pytest.approx(setting.cutting.width)
        assert (first + last) / 2 == pytest.approx(layout.blank_half_width + setting.step.y)
        assert setting.step.narrowest is None or last - first >= setting.step.narrowest - 1e-9
        apart = [b - a for a, b in zip(setting.centres, setting.centres[1:], strict=False)]
        assert all(0.05 < gap < setting.cutter for gap in apart), setting.step.name


# --- corners ---------------------------------------------------------------------------------------------------------
def test_a_run_deeper_than_the_adjusters_pocket_has_square_corners_at_both_ends() -> None:
    """redpoll's run goes down to 9.30 and the pocket that it begins in to 8.20: `2 r**2 (1 - pi/4)` there as well."""
    near, far = laid_out("redpoll").cutting("run").corners_at
    assert (near.end, near.x, near.deep_from, near.deep_to) == ("start", 17.0, pytest.approx(8.2), pytest.approx(9.3))
    assert (far.end, far.x, far.deep_from) == ("end", pytest.approx(428.0), 0.0)
    assert (near.area, far.area) == (pytest.approx(SQUARE * 9.0), pytest.approx(SQUARE * 9.0))


@pytest.mark.parametrize(("name", "radius"), [("dunnock", 2.75), ("garganey", 2.75)])
def test_the_basses_have_them_too(name: str, radius: float) -> None:
    layout = laid_out(name)
    run = layout.cutting("run")
    assert [corner.x for corner in run.corners_at] == [layout.step("run").x_start, layout.step("run").x_end]
    assert run.corners == pytest.approx(2 * SQUARE * radius**2)


def test_a_deeper_pocket_leaves_the_run_none_there() -> None:
    """An adjuster lower than the rod: its pocket, 9.80 deep, lets the run's cutter through; the run is the shallower
    one now, and below its floor the pocket has a wall."""
    layout = laid_out("redpoll", "rod.adjuster.axis_below_top=5.8")
    assert [corner.end for corner in layout.cutting("run").corners_at] == ["end"]
    inner = layout.cutting("adjuster").corners_at[-1]
    assert (inner.x, inner.area) == (17.0, pytest.approx(SQUARE * 9.0))


def plan(step: Step, width: float | None = None) -> BaseGeometry:
    half = (step.width if width is None else width) / 2
    return box(step.x_start, step.y - half, step.x_end, step.y + half)


def swept(layout: Layout, step: Step, there: list[Step]) -> BaseGeometry:
    """What a step's cutter sweeps at a depth: the step, as wide on into what is as deep and as wide, and out of the
    wood where it leaves it, opened (shrunk and grown) by the cutter's radius. there: the steps as deep at this end."""
    region = [plan(step), *(plan(other, step.width) for other in there if other.width >= step.width - 1e-9)]
    half = step.width / 2
    if step.end_start == "open" and step.x_start <= layout.head.x_line + 1e-6:
        region.append(box(step.x_start - 20.0, step.y - half, step.x_start + 1.0, step.y + half))
    if step.end_end == "open" and step.x_end >= layout.heel.x_end - 1e-6:
        region.append(box(step.x_end - 1.0, step.y - half, step.x_end + 20.0, step.y + half))
    radius = layout.cutting(step.name).diameter / 2 - 1e-4  # a step as long as its cutter is wide is not lost
    return unary_union(region).buffer(-radius, quad_segs=ROUND).buffer(radius, quad_segs=ROUND)


def left_over(layout: Layout, step: Step, end: str) -> float:
    """Area in plan near one of a step's ends that no cutter takes out, just above its floor, by shapely."""
    x, kind = (step.x_start, step.end_start) if end == "start" else (step.x_end, step.end_end)
    if kind == "round":
        return 0.0
    level, radius = step.depth_at(x) - 1e-4, layout.cutting(step.name).diameter / 2
    # a short step may open into a deeper one at its other end, where its cutter runs on: dunlin's adjuster's pocket
    least, most = step.x_start - 1e-6, step.x_end + 1e-6
    here = [s for s in layout.steps if s.y == step.y and s.x_start <= most and s.x_end >= least]
    there = [other for other in here if other.depth_at(min(max(x, other.x_start), other.x_end)) > level]
    near = box(x, -99.0, x + radius, 99.0) if end == "start" else box(x - radius, -99.0, x, 99.0)
    gone = unary_union([swept(layout, other, there) for other in there])
    return float(((plan(step) & near) - gone).area)


@pytest.mark.parametrize("name", presets.names())
def test_corners_are_what_no_cutter_reaches(name: str) -> None:
    """The second route: the region at each end, opened (shrunk and grown) by the cutter's radius."""
    layout = laid_out(name)
    told = 0
    for step in (one for one in layout.steps if not one.bored):
        corners = {corner.end: corner for corner in layout.cutting(step.name).corners_at}
        for end in ("start", "end"):
            area = corners[end].area if end in corners else 0.0
            assert area == pytest.approx(left_over(layout, step, end), abs=1e-3), (step.name, end)
            told += area > 0
    assert told >= bool(layout.steps)


def test_a_shoulder_beside_a_run_as_deep() -> None:
    """redpoll's adjuster pocket where the deeper run, 6.10 wide, enters it; `2 (F(r) - F(w/2))` worked out there."""
    (_, inner) = laid_out("redpoll").cutting("adjuster").corners_at
    assert inner.area == pytest.approx(shoulder_area(3.0, 6.1, 7.8))
    assert inner.deep_from == 0.0
