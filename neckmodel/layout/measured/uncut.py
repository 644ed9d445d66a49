"""Whether a changed design would need wood put back: which finished operations it contradicts.

Each comparison asks whether the changed neck lies inside the wood that the operation has left. Lengths mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.layout.measured.operations import (
    BOARD,
    CARVE_1,
    CARVE_12,
    CLAMP,
    END,
    GLUE_UP,
    HEAD,
    HEEL,
    LAID,
    LENGTH,
    MADE,
    ON,
    OUTLINE,
    SHAFT,
    SLOTS,
    WIDTH,
    done,
    step_cut,
)
from neckmodel.layout.wood.blank import shaft_ramps

if TYPE_CHECKING:
    from neckmodel.geometry.types import Point
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.hardware.clamp import ClampScrew
    from neckmodel.layout.hardware.screws import Screw
    from neckmodel.layout.hardware.slots import Roller, SlotPair
    from neckmodel.layout.hardware.tuners import TunerPlace
    from neckmodel.layout.layout import Layout
    from neckmodel.layout.measured.operations import Done

GIVE = 0.01  # mm; printed sizes are rounded to it
PLACES = 9  # along a floor, and across a section
ALONG = 241  # places along the whole neck
# fields of a placed rod that say what lies in the wood; the others say where it might lie
OF_A_ROD = (
    "x_adjuster",
    "length",
    "axis",
    "adjuster_diameter",
    "adjuster_length",
    "segments",
    "wheel",
    "collar",
    "diameter",
    "curve",
    "washer",
    "strip",
    "below",
)


def undone(before: Layout, after: Layout) -> tuple[frozenset[str], tuple[str, ...]]:
    """(finished operations that the change contradicts, those it contradicts that are likely finished, in order of
    work)."""
    state = done(before)
    against = set(_against(before, after, state))
    return frozenset(against & state.surely), tuple(
        name for name in (*state.order, MADE) if name in against & state.likely
    )


def _against(before: Layout, after: Layout, state: Done) -> Iterator[str]:
    """The operations whose earlier result the changed neck does not fit, finished or not."""
    if _board_grows(before, after):
        yield BOARD
    if _joints_move(before, after):
        yield GLUE_UP
    yield from _against_saw(before, after)
    left = {step.name: step for step in after.steps}
    for step in before.steps:
        new = left.get(step.name)
        kept = new is not None and holds(new, step)
        if new is not None and state.closed and _covered(before, step):
            kept = kept and holds(step, new)
        if not kept:
            yield step_cut(step.name)
    if state.closed and any(_covered(before, step) for step in after.steps if step.name not in _names(before.steps)):
        yield ON
    if not _same_hardware(before, after):
        yield LAID
    yield from _against_drill(before, after)
    if _fretboard_grows(before, after):
        yield MADE
    yield from _against_carve(before, after, state)


def _names(steps: tuple[Step, ...]) -> set[str]:
    return {step.name for step in steps}


def _board_grows(before: Layout, after: Layout) -> bool:
    if before.board is None or after.board is None:
        return False
    return any(new > old + GIVE for new, old in zip(after.board, before.board, strict=True))


def _joints_move(before: Layout, after: Layout) -> bool:
    """Whether a glued joint would move: the scarf's seam, or the seam of a block under the heel."""
    one, two = before.scarf, after.scarf
    if (one is None) != (two is None):
        return True
    if one is not None and two is not None:
        seams = ((one.seam(x), two.seam(x)) for x in (one.x_top, one.x_keel))
        if (
            one.way != two.way
            or abs(one.angle - two.angle) > GIVE
            or any(abs(a - b) > GIVE for a, b in seams)
            or two.head_thickness > one.head_thickness + GIVE
        ):
            return True
    old = {piece.name: piece.seam for piece in before.pieces}
    new = {piece.name: piece.seam for piece in after.pieces}
    return any(
        name not in old or (seam is not None and abs(seam - (old[name] or 0.0)) > GIVE) for name, seam in new.items()
    )


def _against_saw(before: Layout, after: Layout) -> Iterator[str]:
    """Compares head, heel and shaft of the changed neck with the sawn side view, and its width and length with the
    blank."""
    old, new, profile = before.outside, after.outside, before.blank_profile
    head_ramp, heel_ramp = shaft_ramps(old, before.design.allowance.back)
    found = set()
    for x in np.linspace(new.head.x_far, new.heel.x_end, ALONG).tolist():
        part = HEAD if x < head_ramp[0] else HEEL if x > heel_ramp[0] else SHAFT
        if -new.keel(x) < _bottom(profile, x) - GIVE:
            found.add(part)
        if _top(after, x) > _top(before, x) + GIVE:
            found.add(HEAD)
    yield from found
    if after.blank_half_width - after.design.allowance.sides > before.blank_half_width + GIVE:
        yield WIDTH
    xs = [x for x, _ in profile]
    if new.heel.x_end > max(xs) + GIVE or new.head.x_far < min(xs) - GIVE:
        yield LENGTH
    if new.heel.x_end > old.heel.x_end + GIVE:
        yield END


def _top(layout: Layout, x: float) -> float:
    """z of the sawn top, glue plane and head's face."""
    return layout.head.face(x) if x < layout.head.x_line else 0.0


def _bottom(profile: tuple[Point, ...], x: float) -> float:
    """z of the sawn back at x, mm; 0 beyond the blank, whose length is compared by itself."""
    found = [
        a[1] if a[0] == b[0] else a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
        for a, b in pairwise((*profile, profile[0]))
        if min(a[0], b[0]) <= x <= max(a[0], b[0])
    ]
    return min(found, default=-np.inf)


def holds(new: Step, old: Step) -> bool:
    """Whether the new step cuts away all the wood that the old one has cut away."""
    if new.x_start > old.x_start + GIVE or new.x_end < old.x_end - GIVE:
        return False
    if abs(new.y - old.y) + (old.width - new.width) / 2 > GIVE:
        return False
    at = [old.x_start + (old.x_end - old.x_start) * k / (PLACES - 1) for k in range(PLACES)]
    if any(new.depth_at(x) < old.depth_at(x) - GIVE for x in at):
        return False
    ends = (  # (how far the new step reaches beyond the old, radius left in its corners, radius in the old step's)
        (old.x_start - new.x_start, new.corner_start, old.corner_start),
        (new.x_end - old.x_end, new.corner_end, old.corner_end),
    )
    return all(radius <= max(before, beyond) + GIVE for beyond, radius, before in ends)


def _covered(layout: Layout, step: Step) -> bool:
    """Whether the fretboard covers the step, at least partly."""
    return step.x_end > layout.fretboard.x_first and step.x_start < layout.fretboard.x_last


def _same_hardware(before: Layout, after: Layout) -> bool:
    """Whether rod and bars and their places are unchanged."""
    same = len(before.rods) == len(after.rods)
    for one, two in zip(before.rods, after.rods, strict=False):
        same = same and all(getattr(one, name) == getattr(two, name) for name in OF_A_ROD)
    return same and [(b.x_start, b.x_end, b.y, b.width, b.height) for b in before.bars] == [
        (b.x_start, b.x_end, b.y, b.width, b.height) for b in after.bars
    ]


def _against_drill(before: Layout, after: Layout) -> Iterator[str]:
    for k, screw in enumerate(before.screws):
        if k >= len(after.screws) or not _same_hole(screw, after.screws[k]):
            yield f"heel.screws.{k}"
    for k, tuner in enumerate(before.tuners):
        if k >= len(after.tuners) or not _same_tuner(tuner, after.tuners[k]):
            yield f"head.tuners.{k}"
    for k, roller in enumerate(before.rollers):
        if k >= len(after.rollers) or not _same_bore(roller, after.rollers[k]):
            yield f"head.tuners.{k}"
    if before.slots is not None and (after.slots is None or not _hold_slots(after.slots, before.slots)):
        yield SLOTS
    old, new = ([] if of.clamp is None else [*of.clamp.screws] for of in (before, after))
    for k, hole in enumerate(old):
        if k >= len(new) or not _holds_hole(hole, new[k]):
            yield f"{CLAMP}{k}"


def _same_bore(old: Roller, new: Roller) -> bool:
    """Whether the new hole is in the same place, and at least as wide and as deep."""
    near = max(abs(new.along - old.along), abs(new.below - old.below)) <= GIVE
    deeper = new.sign * new.y_end <= old.sign * old.y_end + GIVE
    return near and new.side == old.side and new.hole >= old.hole - GIVE and deeper


def _hold_slots(new: SlotPair, old: SlotPair) -> bool:
    """Whether the new slots cut away all the wood that the old ones have cut away, their ramps too."""
    wider = new.inner <= old.inner + GIVE and new.outer >= old.outer - GIVE
    longer = new.near >= old.near - GIVE and new.far <= old.far + GIVE
    return wider and longer and new.ramp_start >= old.ramp_start - GIVE


def _same_hole(old: Screw, new: Screw) -> bool:
    """Whether the new hole is in the same place, and at least as wide and as deep."""
    near = max(abs(new.x - old.x), abs(new.y - old.y)) <= GIVE
    return near and new.hole >= old.hole - GIVE and new.z_point >= old.z_point - GIVE


def _holds_hole(old: ClampScrew, new: ClampScrew) -> bool:
    """Whether the new hole is in the same place, and at least as wide and as deep."""
    near = max(abs(new.x - old.x), abs(new.y - old.y)) <= GIVE
    return near and new.diameter >= old.diameter - GIVE and new.depth >= old.depth - GIVE


def _same_tuner(old: TunerPlace, new: TunerPlace) -> bool:
    near = max(abs(a - b) for a, b in zip(old.on_face[:2], new.on_face[:2], strict=True)) <= GIVE
    return near and new.axis == old.axis and new.hole >= old.hole - GIVE


def _fretboard_grows(before: Layout, after: Layout) -> bool:
    old, new = before.fretboard, after.fretboard
    longer = new.x_last > old.x_last + GIVE or new.x_first < old.x_first - GIVE
    places = [old.x_first, new.x_last, *(x for board in (old, new) if board.later for x, _ in board.edge(0))]
    wider = any(new.treble(x) > old.treble(x) + GIVE or new.bass(x) < old.bass(x) - GIVE for x in places)
    return longer or wider or new.thickness > old.thickness + GIVE or new.slot_depth < old.slot_depth - GIVE


def _against_carve(before: Layout, after: Layout, state: Done) -> Iterator[str]:
    """Compares the carved sections at frets 1 and 12, the whole back where both are carved, and the head's plan."""
    old, new = before.outside, after.outside
    for name, x in ((CARVE_1, before.back.x_1), (CARVE_12, before.back.x_12)):
        if _fuller(before, after, x):
            yield name
    if state.surely >= {CARVE_1, CARVE_12}:
        along = np.linspace(old.x_head_run_out, old.x_heel_run_out, ALONG).tolist()
        if any(
            new.keel(x) > old.keel(x) + GIVE or (0 <= x <= old.heel.x_swell and _fuller(before, after, x))
            for x in along
        ):
            yield CARVE_1
    xs = np.linspace(new.head.x_far, old.x_cove, PLACES).tolist()
    if new.head.x_far < old.head.x_far - GIVE or any(new.half_width(x) > old.half_width(x) + GIVE for x in xs):
        yield OUTLINE


def _fuller(before: Layout, after: Layout, x: float) -> bool:
    """Whether the new back stands out of the old one anywhere in the section at x."""
    old, new = before.back.section(x), after.back.section(x)
    ys = (new.middle + np.linspace(-new.half_width, new.half_width, 2 * PLACES + 1)[1:-1]).tolist()
    wider = new.half_width + abs(new.middle - old.middle) > old.half_width + GIVE
    return wider or any(new.depth_at(y) > old.depth_at(y) + GIVE for y in ys)
