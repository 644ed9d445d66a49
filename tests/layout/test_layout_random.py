"""Random designs through the layout: every one is laid out soundly, or refused by name."""

from __future__ import annotations

import collections
import itertools
import math
from typing import Any

import numpy as np
import pytest
from designs import Tables, design_of, designs
from hypothesis import given, settings
from shape_oracle import crosses_itself, spans_at
from wall_oracle import brute_wall

from neckmodel.design import Design
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.neck.outside import Outside
from neckmodel.layout.neck.section import Opening


def test_any_design_is_laid_out_soundly_or_refused_by_name() -> None:
    hold_many(160)


@pytest.mark.sweep
def test_two_thousand_designs_are_laid_out_soundly_or_refused_by_name() -> None:
    hold_many(2000)


def hold_many(count: int) -> None:
    """About half of these designs are laid out, give or take half the root of their count by the binomial law: four
    times that below it something is refused that was not, and a property over refused designs alone would prove
    nothing."""
    seen: collections.Counter[str] = collections.Counter()

    @settings(max_examples=count)
    @given(designs())
    def every_design(tables: Tables) -> None:
        layout, refusal = attempt(tables)
        seen["refused" if layout is None else "laid out"] += 1
        if refusal is not None:
            check_refusal(refusal)
        if layout is not None:
            check_all(layout, tables)

    every_design()
    assert seen["laid out"] >= count / 2 - 2 * math.sqrt(count)
    assert seen["refused"] >= count / 20


def check_all(layout: Layout, tables: Tables) -> None:
    check_frets(layout)
    check_strings(layout)
    check_place(layout, tables)
    check_steps(layout)
    check_walls(layout)
    check_profile(layout)
    check_transitions(layout.outside)


def attempt(tables: Tables) -> tuple[Layout | None, DesignError | None]:
    """The layout, or why there is none; any other exception is a fault of ours."""
    try:
        return lay_out(design_of(tables)), None
    except DesignError as error:
        return None, error


def check_refusal(error: DesignError) -> None:
    assert error.problems
    for problem in error.problems:
        assert problem.key.partition(".")[0] in Design.model_fields
        assert problem.says


def check_frets(layout: Layout) -> None:
    x = np.array([0.0] + [fret.x for fret in layout.frets.frets])
    assert np.all(np.diff(x) > 0)
    left = layout.frets.scale - x
    assert left[:-1] / left[1:] == pytest.approx([2 ** (1 / 12)] * (len(x) - 1), abs=1e-9)
    board = layout.fretboard
    assert len(board.slots) == len(x) - 1
    assert x[-1] <= board.x_end
    for slot in board.slots:
        assert slot.wood_below <= board.thickness - board.slot_depth + 1e-9


def check_strings(layout: Layout) -> None:
    lines, board, stated = layout.frets.strings, layout.fretboard, layout.design.strings
    for x, margin in ((0.0, board.margin_nut), (layout.frets.frets[-1].x, board.margin_last)):
        assert board.half_width(x) - lines[-1].y(x) == pytest.approx(margin, abs=1e-9)
        assert board.half_width(x) + lines[0].y(x) == pytest.approx(margin, abs=1e-9)
        assert margin > 0
    for ends in ("y_nut", "y_bridge"):
        y = np.array([getattr(line, ends) for line in lines])
        wide = np.array([line.diameter for line in lines])
        apart = np.diff(y)
        if stated.divided_by == "gaps":
            apart = apart - (wide[1:] + wide[:-1]) / 2
        assert apart == pytest.approx(np.full(len(y) - 1, apart[0]), abs=1e-9)
        assert y[0] == pytest.approx(-y[-1], abs=1e-9)


def check_place(layout: Layout, tables: Tables) -> None:
    """The places that a rod has, and the lengths that have one, against arithmetic on what the design file states."""
    for bar in layout.bars:
        assert bar.x_end - bar.x_start == pytest.approx(tables["bars"]["length"])
    rod = layout.rod
    if rod is None:
        return
    low, high, _ = room_by_hand(tables, rod.length)
    assert (rod.x_min, rod.x_max) == (pytest.approx(low, abs=1e-9), pytest.approx(high, abs=1e-9))
    stated = tables["rod_place"]["from_nut"]
    if stated != "auto":
        assert rod.x_adjuster == stated
    elif low <= high:
        assert low <= rod.x_adjuster <= high
    for length, longer in ((rod.fitting_from, 1e-3), (rod.fitting_to, -1e-3)):
        if rod.fitting_from < rod.fitting_to - 2e-3:
            assert room_by_hand(tables, length + longer)[2] > -1e-9
        assert room_by_hand(tables, length - longer)[2] < -1e-4
    at = rod.x_adjuster
    for part in ("adjuster", "block", "span", "anchor"):
        length = length_of(tables["rod"], part)
        if part == "adjuster":
            assert rod.x_block == pytest.approx(at + length)
        else:
            lies = rod.segment(part)
            assert (lies.x_start, lies.x_end) == (pytest.approx(at), pytest.approx(at + length))
        at += length
    assert at == pytest.approx(rod.x_anchor_end) == pytest.approx(rod.x_adjuster + tables["rod"]["length"])


ACROSS_CORNERS = {3.0: 3.39, 4.0: 4.53, 5.0: 5.67, 3.96875: 0.1774 * 25.4}  # JIS B 4648:2008; ASME B18.3-2012, 5/32 in


def room_by_hand(tables: Tables, length: float) -> tuple[float, float, float]:
    """(from, to) where the face of a rod so long may lie, adjuster at the head, and how much room there is, mm; with
    the block before fret 1 where no key's arm says how far in it may lie, as long as the gap from the nut allows that.

    Left out of these designs, and so as README.md's defaults have it: 4 mm from the nut, 15 past the joint, 6 of wood
    beyond the channel, which runs 1 past the rod; a nut 5 thick, a key that goes in as deep as it is wide and passes
    0.5 from the nut.
    """
    scale, board, rod = tables["strings"]["scale"], tables["fretboard"], tables["rod"]

    def fret(n: int) -> float:
        return scale - scale * 0.5 ** (n / 12)

    cut_outs = [cut["from"] for cut in tables.get("body", {}).get("cutouts", [])]
    wood, covered = min([tables["heel"]["wood_ends_at"], *cut_outs]), fret(board["frets"]) + board["past_last_fret"]
    low, high = max(4.0, fret(tables["neck"]["joint_fret"]) + 15 - length), min(wood - 6, covered) - 1 - length
    key = tables.get("adjusting_key", {"kind": "none"})
    before = max(4.0, fret(1) - length_of(rod, "adjuster") - length_of(rod, "block"))
    if key["kind"] == "L-key":
        arm = key[f"{key['arm_in_socket']}_arm"]
        high = min(high, arm - key["size"] - ACROSS_CORNERS[key["size"]] - 0.5 - tables["nut"].get("thickness", 5.0))
        before = math.inf
    return low, high, min(high, before) - low


def length_of(rod: dict[str, Any], part: str) -> float:
    """Of the adjuster, the block behind it, the anchor at the far end, or what is between."""
    if part == "span":
        return rod["length"] - sum(length_of(rod, other) for other in ("adjuster", "block", "anchor"))
    return rod.get(part, {}).get("length", 0.0)


def check_steps(layout: Layout) -> None:
    x0, x1 = (f(x for x, _ in layout.blank_profile) for f in (min, max))
    for step in layout.steps:
        assert step.x_start < step.x_end
        assert step.width > 0
        assert step.depth_start > 0
        assert step.depth_end > 0
        assert x0 <= step.x_start
        assert 2 * max(step.corner_start, step.corner_end) <= step.width + 1e-9
    if layout.rod is not None:
        adjuster, run = layout.step("adjuster"), layout.step("run")
        assert adjuster.x_end == run.x_start
        assert run.x_end >= layout.rod.x_anchor_end
        assert run.width > layout.design.rod.width - 1e-9
        own = (layout.rod.segment("block"), layout.rod.segment("anchor"))
        for part in (*own, layout.rod.segment("span")):
            there = [s for s in layout.steps if s.x_start - 1e-9 <= part.x_start and part.x_end <= s.x_end + 1e-9]
            roomy = [s for s in there if s.width >= part.width - 1e-9 and s.depth >= part.height - 1e-9]
            assert roomy, f"no step takes the rod's {part.name}"
    for cutting in layout.cuttings:
        step = layout.step(cutting.step)
        if cutting.diameter is None:
            least = min(step.width, step.x_end - step.x_start)
            assert min(c.diameter for c in layout.design.workshop.cutters) > least
        else:
            leaves = "open" in (step.end_start, step.end_end)  # then its length does not bound the cutter's
            assert cutting.diameter <= min(step.width, math.inf if leaves else step.x_end - step.x_start) + 1e-6
            assert cutting.passes * cutting.pass_depth == pytest.approx(step.depth)
    for one, two in itertools.pairwise(layout.stations):
        assert one.x <= two.x
    assert x1 >= layout.heel.x_end


def check_walls(layout: Layout) -> None:
    """At the reported place as a brute search finds it, and at the ends of the shaft's part of the step no less."""
    heel = layout.heel
    for found in layout.walls:
        step = layout.step(found.step)
        for x in {found.x, max(step.x_start, 0.0), min(step.x_end, heel.x_joint)}:
            if max(step.x_start, 0.0) <= x <= min(step.x_end, heel.x_joint):
                opening = Opening(step.y - step.width / 2, step.y + step.width / 2, step.depth_at(x))
                brute = brute_wall(layout.back.section(x), opening)
                assert found.wall <= brute + 1e-3
                if x == found.x:
                    assert found.wall == pytest.approx(brute, abs=1e-3)


def check_profile(layout: Layout) -> None:
    """The blank encloses the finished neck: in plan by its sides, in the side view by wood to carve."""
    outside, allowance, profile = layout.outside, layout.design.allowance, np.array(layout.blank_profile)
    head, heel = outside.head, outside.heel
    assert not crosses_itself(profile)
    assert profile[:, 0].min() == pytest.approx(head.x_far - allowance.ends)
    assert profile[:, 0].max() == pytest.approx(heel.x_end + allowance.ends)
    for x in np.linspace(head.x_far + 1e-6, heel.x_end - 1e-6, 60):
        assert outside.half_width(x) + allowance.sides <= layout.blank_half_width + 1e-9
        low, high = spans_at(profile, x)
        keel = outside.keel(x)
        assert high == pytest.approx(head.face(x) if x < head.x_line else 0.0, abs=1e-5)
        assert low <= -keel + 1e-6
        if outside.x_head_stock <= x <= heel.x_swell:
            assert -keel - low >= min(0.2, allowance.back) - 1e-6  # the carve has wood to take
        if x <= outside.x_head_run_out or x >= outside.x_heel_run_out:
            assert low == pytest.approx(-keel, abs=1e-6)  # the saw's flat back stays


def check_transitions(outside: Outside) -> None:
    """The carve swells toward head and heel and never back, its curvature changes sign once, and it crosses the flat
    back for good before its end."""
    head, heel, back = outside.head, outside.heel, outside.back
    assert head.x_swell < outside.x_head_run_out < outside.x_head_stock <= 0
    assert heel.x_swell < outside.x_heel_run_out < heel.x_joint
    for start, end in ((outside.x_blend, head.x_swell), (heel.x_swell, heel.x_joint)):
        x = np.linspace(start, end, 83)[1:-1]  # the heel and the head have no law of their own at the very joins
        depth = np.array([outside.carved(v) for v in x])
        over = depth - [back.depth(v) for v in x]
        deepens = back.depth(end) > back.depth(start)  # the thickness line itself, on the way to the flat back
        assert np.all(np.diff(depth if deepens else over) > -1e-9)
        bends = np.sign(np.diff(over, 2).round(9))
        assert np.count_nonzero(np.diff(bends[bends != 0])) == 1
        left = np.array([outside.to_carve(v) for v in x])
        assert left[-1] < 0
        out = outside.x_head_run_out if end < 0 else outside.x_heel_run_out
        steps = (outside.to_carve(out - 0.01) - outside.to_carve(out + 0.01)) / 0.02 * math.copysign(1, end)
        assert steps > 0.02  # a true crossing: more than a degree
    for x in (outside.x_blend, outside.x_head_run_out, outside.x_heel_run_out, heel.x_swell):
        assert outside.keel(x - 1e-7) == pytest.approx(outside.keel(x + 1e-7), abs=1e-5)
    for x in (head.x_swell, outside.x_cove, head.x_line, heel.x_swell, heel.x_joint):
        assert outside.half_width(x - 1e-7) == pytest.approx(outside.half_width(x + 1e-7), abs=1e-5)
    if back.slope >= 0:
        half = np.array([outside.half_width(x) for x in np.linspace(heel.x_swell, heel.x_joint, 40)])
        assert np.all(np.diff(half) > -1e-9)
    if not outside.head_tapers and head.far >= head.near:
        x = np.linspace(head.x_line, outside.x_cove, 40)
        half = np.array([outside.half_width(v) for v in x]) + back.slope * (head.x_line - x)
        assert np.all(np.diff(half) > -1e-9)  # widens, apart from the taper of the neck's own sides
