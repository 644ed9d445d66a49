"""Which way the router is fed, and in which order its lines and steps are cut: the rules of the trade, and a cutter
that is turned tooth by tooth."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from sheet_cases import INCHES, NAMES, layout_of
from work_cases import laid_out

from neckmodel.layout import Layout
from neckmodel.layout.workshop.feed import Feed, along_edge, along_fence, base_reach, fence_lines, guide_lines
from neckmodel.layout.workshop.router import RouterSetting, router_settings
from neckmodel.work.order import order_of_work
from neckmodel.work.settings import setting_rows

LEFT = 'design.hand="left"'
BOTH = [(name, *over) for name in NAMES for over in ((), (LEFT,))]


def forces(from_deg: float, to_deg: float) -> tuple[float, float]:
    """(forward, to the left): the force of the wood on a cutter that turns clockwise seen from above and cuts from one
    angle to another, counted counterclockwise from straight ahead. Every tooth is pushed against its own way, and the
    chip is as thick as the feed takes it, `cos` of the angle from straight ahead; only the way counts here."""
    angles = np.radians(np.linspace(from_deg, to_deg, 2001))
    forward, left = np.cos(angles), np.sin(angles)  # where the tooth stands
    way = np.stack([left, -forward])  # clockwise: from ahead to the right
    push = -way * np.cos(angles).clip(0)
    return float(push[0].mean()), float(push[1].mean())


def test_the_wood_pushes_a_router_to_the_left_in_a_full_groove() -> None:
    """The rule of the trade, as a magazine's page on routing ("With a Router, You Need Direction") has it: guide at 6
    o'clock, feed toward 3 o'clock; a straightedge that the base runs along lies at 12 o'clock. So the guide lies on the
    right of the way, the straightedge on its left."""
    _, left = forces(-90, 90)
    assert left > 0.4
    assert along_edge(layout_of("redpoll")).hand == "right"
    assert along_fence(layout_of("redpoll")).hand == "left"
    # cutting on its left the cutter is held back, on its right it is pulled on: it climbs
    assert forces(60, 90)[0] < 0 < forces(-90, -60)[0]


@pytest.mark.parametrize("case", BOTH, ids=str)
def test_fence_and_guide_lie_on_the_side_that_is_told(case: tuple[str, ...]) -> None:
    """Seen from above, x to the right and y up: the left of the way toward +x is +y. The bass side lies at -y, on a
    left-handed neck at +y."""
    layout = layout_of(*case)
    bass = 1 if layout.left_handed else -1
    for feed in (along_fence(layout), along_edge(layout)):
        way = 1 if feed.toward == "body" else -1
        left = way if layout.back_strip is None else -way  # turned over, the other side lies on the left
        assert feed.hand == ("left" if left == bass else "right")
        last = bass if feed.last == "bass" else -bass
        assert last == left  # each next line lies on the left of the one before
        assert {feed.toward, feed.begins} == {"head", "body"}


def lines_of(layout: Layout, setting: RouterSetting, how: str) -> Iterator[float]:
    """y of the cutter's middle on the finished neck for each line, in the order in which they are cut."""
    base, half = layout.design.workshop.router_base, layout.blank_half_width
    from_edge = [fence + base for fence in fence_lines(setting)] if how == "fence" else list(guide_lines(setting))
    yield from (layout.across(edge - half) for edge in from_edge)


@pytest.mark.parametrize("how", ["fence", "guide"])
@pytest.mark.parametrize("case", BOTH, ids=str)
def test_no_line_of_any_cut_climbs(case: tuple[str, ...], how: str) -> None:
    """Every cut of the order of work, line after line and depth after depth, in wood that what came before has left:
    where there is wood before the cutter, there is some on the left half of its front. With wood on the right half
    alone it climbs."""
    layout = layout_of(*case)
    assert climbing(layout, along_fence(layout) if how == "fence" else along_edge(layout), how) == []


def test_no_line_climbs_in_designs_of_any_kind(tmp_path: Path) -> None:
    """Those of the generator that have cutters: rods and keys at either end, pockets, bars, both hands."""
    samples = [layout for _, _, layout in laid_out(tmp_path, range(7100, 7150)) if layout.design.workshop.cutters]
    assert len(samples) > 20
    assert {layout.left_handed for layout in samples} == {True, False}
    for layout in samples:
        assert climbing(layout, along_fence(layout), "fence") == [], layout.name
        assert climbing(layout, along_edge(layout), "guide") == [], layout.name


def climbing(
    layout: Layout, feed: Feed, how: str, wrong: Callable[[list[str]], list[str]] = lambda cuts: cuts
) -> list[str]:
    """The cuts that climb. wrong: puts the cuts into another order."""
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    cuts = wrong([name for work in order_of_work(layout) for name in work.cuts if name in settings])
    ends = sorted({x for name in cuts for x in (settings[name].step.x_start, settings[name].step.x_end)})
    xs = np.array([(a + b) / 2 for a, b in itertools.pairwise(ends)])
    ys = np.arange(-40.0, 40.0, 0.02) + 0.003
    floor = np.zeros((len(xs), len(ys)))  # how deep it is cut
    left = 1.0 if (feed.toward == "body") is (layout.back_strip is None) else -1.0
    found = []
    for name in cuts:
        setting = settings[name]
        step, radius = setting.step, setting.cutter / 2
        inside = np.flatnonzero((xs > step.x_start) & (xs < step.x_end))
        for y in lines_of(layout, setting, how):
            under = np.abs(ys - y) < radius
            for k in range(setting.cutting.passes):
                for i in inside:
                    deep = step.depth_at(float(xs[i])) - setting.cutting.pass_depth * (setting.cutting.passes - 1 - k)
                    wood = under & (floor[i] < deep - 1e-6)
                    on_left, on_right = (np.any(wood & ((ys - y) * left * side > 0.02)) for side in (1.0, -1.0))
                    if on_right and not on_left:
                        found.append(f"{name} at {xs[i]:.1f}")
                    floor[i] = np.where(under, np.maximum(floor[i], deep), floor[i])
    return found


def test_the_simulated_cutter_does_climb_when_it_is_led_wrongly() -> None:
    """The test above can fail: fed the other way, and with the run cut before the wider pocket that it goes into."""
    layout = layout_of("wheatear")
    other = Feed("body", "right", "treble")
    assert climbing(layout, other, "fence") != []
    layout = layout_of("wheatear", "workshop.cutters=[{diameter = 4.98, flute_length = 20.0, stick_out = 38.0}]")
    assert climbing(layout, along_fence(layout), "fence") == []  # its run takes two lines
    run_first = lambda cuts: sorted(cuts, key=lambda name: name != "run")  # noqa: E731
    assert any(found.startswith("anchor") for found in climbing(layout, along_fence(layout), "fence", run_first))


def test_settings_of_redpoll() -> None:
    """The slot: 5.53 wide with a cutter of 4, so its lines lie 0.765 either side of 31.5 from the edge; the base's
    radius is 75. Its treble line is farther from the bass-side edge, so the fence stands nearer to the blank for it."""
    layout = layout_of("redpoll")
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    aside = (5.53 - 4) / 2
    assert fence_lines(settings["access-slot"]) == pytest.approx((31.5 + aside - 75, 31.5 - aside - 75), abs=0.002)
    assert guide_lines(settings["access-slot"]) == pytest.approx((31.5 - aside, 31.5 + aside), abs=0.002)
    rows = dict(setting_rows(layout, settings["access-slot"], "mm"))
    assert rows["fence"].startswith("42.74 mm outside the reference edge")
    assert rows["feed along the fence"].startswith(
        "from the body toward the head, the fence on your left; plunge at the"
    )
    guide = rows["or an edge guide"]
    assert (
        "its face 30.74 mm, then 32.27 mm from the cutter's middle (28.74 mm, then 30.27 mm from its near edge)"
        in guide
    )
    assert "from the head toward the body, the guide on your right, bass side first" in guide
    assert "past x -6.00 mm, into wood that is sawn away with the head's face" in rows["stop blocks"]
    assert "clockwise round the opening" in rows["with the guide bush"]


def test_a_left_handed_neck_is_fed_the_other_way() -> None:
    layout = layout_of("whimbrel", LEFT)
    (run,) = router_settings(layout)
    rows = dict(setting_rows(layout, run, "mm"))
    assert rows["feed along the fence"].startswith(
        "from the head toward the body, the fence on your left; plunge at the head"
    )
    right = dict(setting_rows(layout_of("whimbrel"), run, "mm"))
    # the run goes out at the heel's end, x 510; the blank is 10 longer there
    assert right["feed along the fence"].endswith(
        "plunge at the body-side end, in the 10.00 mm that the blank is longer there"
    )
    assert "body side none: the cutter's middle goes past x 510.00 mm, into the 10.00 mm" in right["stop blocks"]


@pytest.mark.parametrize("name", NAMES)
def test_every_depth_to_set_is_told(name: str) -> None:
    """As many as passes, a step of the pass's depth apart, the last the whole depth; half the cutter or less each."""
    layout = layout_of(name)
    unit = layout.design.design.units
    for setting in router_settings(layout):
        says = dict(setting_rows(layout, setting, unit))["passes"]
        assert setting.cutting.pass_depth <= setting.cutter / 2 + 1e-9
        if setting.cutting.passes == 1 or unit == "in":
            continue
        told = [float(depth) for depth in re.findall(r"(\d+\.\d\d) mm", says.split("set ")[1])]
        equal = setting.step.depth / setting.cutting.passes
        assert told == pytest.approx([equal * k for k in range(1, setting.cutting.passes + 1)], abs=0.0051)


def test_a_step_as_long_as_its_cutter_is_only_plunged() -> None:
    """wheatear's washer lies in a pocket 4 long, cut with a cutter of 4; its run is 349 long."""
    layout = layout_of("wheatear")
    rows = {s.step.name: dict(setting_rows(layout, s, "mm")) for s in router_settings(layout)}
    assert rows["washer"]["feed along the fence"].startswith("none: the step is as long as the cutter")
    assert rows["run"]["feed along the fence"].startswith("from the body toward the head")


def test_how_far_the_base_goes() -> None:
    """redpoll: the slot leaves the wood at x -6, its middle goes so far, the base 75 farther; the run ends at 428 with
    a cutter of 6, so the base's edge at 428 - 3 + 75."""
    layout = layout_of("redpoll")
    assert base_reach(layout, router_settings(layout)) == pytest.approx((-81.0, 500.0))
    assert base_reach(layout, ()) is None
    inch = layout_of(INCHES)
    (start, end), runs = base_reach(inch, router_settings(inch)) or (0.0, 0.0), router_settings(inch)
    base = inch.design.workshop.router_base
    assert start < min(s.step.x_start for s in runs) < max(s.step.x_end for s in runs) < end
    assert end == pytest.approx(max(s.step.x_end - s.cutter / 2 for s in runs) + base)


def test_forces_of_a_thin_slice() -> None:
    """The model itself: a slice taken on the left half only is cut against the feed over its whole arc."""
    forward, _ = forces(20, 90)
    assert forward < 0
    assert math.isclose(forces(-90, 90)[0], 0.0, abs_tol=1e-9)
