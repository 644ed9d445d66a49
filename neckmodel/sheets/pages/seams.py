"""Where a drawing is cut into windows so that every label is whole in one of them, and where windows are joined.

Lengths mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.display import Box
from neckmodel.sheets.marks.occupied import Crowd

OVERLAP = 10.0  # that neighbouring windows have in common, at least
REGISTER_IN = 18.0  # from a window's end to the best place for its register marks
CROSS = 3.4  # half of the room that a register mark takes
STEP = 2.0  # from one place tried for it to the next
NEAR = 1e-6  # mm; lengths that differ by less are the same

Span = tuple[float, float]


def cuts(low: float, high: float, window: float, labels: Sequence[Span]) -> tuple[float, ...]:
    """Where windows of one size begin, the first at `low` or before, so that together they reach to `high`,
    neighbours share at least OVERLAP, and every label (its from and to) is whole in one. Any excess is shared
    between both ends."""
    starts = _greedy(low, high, window, labels)
    spare = starts[-1] + window - high
    if spare > NEAR:
        moved = _greedy(low - spare / 2, high, window, labels)
        if len(moved) == len(starts):
            return moved
    return starts


def _greedy(low: float, high: float, window: float, labels: Sequence[Span]) -> tuple[float, ...]:
    """The windows, each as far on as the labels that are not yet whole in one allow."""
    starts = [low]
    while starts[-1] + window < high - NEAR:
        end = starts[-1] + window
        held = [first for first, last in labels if last > end + NEAR and first > starts[-1] + NEAR]
        starts.append(min([end - OVERLAP, *held]))
    return tuple(starts)


def joints(xs: Sequence[float], ys: Sequence[float], window: tuple[float, float], crowd: Crowd) -> tuple[Point, ...]:
    """Two places on every seam between neighbouring windows, clear of words and, if possible, of lines too. xs, ys:
    where the windows' columns and rows begin."""
    wide, high = window
    found: list[Point] = []
    taken = Crowd()
    for y in ys:
        for one, other in pairwise(xs):
            found += _pair((other, y, one + wide, y + high), crowd, taken)
    for x in xs:
        for one, other in pairwise(ys):
            found += _pair((x, max(one, other), x + wide, min(one, other) + high), crowd, taken)
    return tuple(found)


def _pair(strip: Box, crowd: Crowd, taken: Crowd) -> Iterator[Point]:
    """One place toward either end of a seam's strip."""
    for far in (False, True):
        at = _place(strip, far, crowd, taken)
        taken.block(_room(at))
        yield at


def _place(strip: Box, far: bool, crowd: Crowd, taken: Crowd) -> Point:
    along = 0 if strip[2] - strip[0] > strip[3] - strip[1] else 1
    tried = [at for at in _tried(strip, far, along) if not taken.on_words(_room(at))]
    clear = [at for at in tried if not crowd.on_words(_room(at))]
    return next((at for at in clear if not crowd.on_lines(_room(at))), (clear or tried)[0])


def _tried(strip: Box, far: bool, along: int) -> list[Point]:
    """The places in one half of a strip, nearest first to where a mark should be."""
    low, high = strip[along] + CROSS, strip[along + 2] - CROSS
    middle, inward = (low + high) / 2, min(REGISTER_IN - CROSS, (high - low) / 2)
    wanted, first, last = (high - inward, middle, high) if far else (low + inward, low, middle)
    places = sorted((first + k * STEP for k in range(int((last - first) / STEP) + 1)), key=lambda at: abs(at - wanted))
    across = 1 - along
    inner, outer = strip[across] + CROSS, strip[across + 2] - CROSS
    centre, aside = (inner + outer) / 2, [k * STEP for k in range(1, int((outer - inner) / 2 / STEP) + 1)]
    sides = [centre, *(centre + sign * off for off in aside for sign in (1, -1))]
    points = [(place, side) for side in sides for place in places]
    return [(u, v) if along == 0 else (v, u) for u, v in points]


def _room(at: Point) -> Box:
    return at[0] - CROSS, at[1] - CROSS, at[0] + CROSS, at[1] + CROSS
