"""Splits a long jig into pieces that fit the bed, joined by dovetails that drop into each other from above. Lengths
mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.jigs.types import JigError
from neckmodel.layout.sides import Side
from neckmodel.limits import BED_MARGIN

if TYPE_CHECKING:
    import cadquery as cq

ROOT, REACH, FLANK = 8.0, 7.0, 15.0  # mm across at the joint, mm long, degrees; common practice, no source
AWAY = 1000.0  # mm, farther out than any jig


@dataclass(frozen=True)
class Joint:
    """A cut square to x. keys: y of the dovetail in each strip of material that the cut crosses."""

    x: float
    keys: tuple[float, ...]


def dovetail(at: Point, grown: float = 0.0) -> list[Point]:
    """A key's outline from its root at the bass side round to the treble side. grown: fit per side, mm."""
    x, y = at
    slope = math.tan(math.radians(FLANK))
    reach = REACH + grown
    root = ROOT / 2 + grown / math.cos(math.radians(FLANK))
    head = root + reach * slope
    return [(x, y - root), (x + reach, y - head), (x + reach, y + head), (x, y + root)]


WIDEST = ROOT + 2 * REACH * math.tan(math.radians(FLANK))
"""Across a key's head, mm."""


def joint_places(x_from: float, x_to: float, bed: float, avoid: Sequence[tuple[float, float]] = ()) -> list[float]:
    """x at which to cut a length so that every piece, with its key, is no longer than the bed less its margins.

    avoid: stretches of x that no joint, from its face to its key's end, may touch. Pieces come out as even as that
    allows. Raises JigError where there is no such place.
    """
    longest = bed - 2 * BED_MARGIN
    if x_to - x_from <= longest:
        return []
    count = math.ceil((x_to - x_from - longest) / (longest - REACH) - 1e-9)
    while count < 40:
        places = _places(x_from, x_to, longest, count, avoid)
        if places is not None:
            return places
        count += 1
    raise JigError(f"no place for a joint between x {x_from:.1f} and {x_to:.1f} mm that clears its openings")


def _places(
    x_from: float, x_to: float, longest: float, count: int, avoid: Sequence[tuple[float, float]]
) -> list[float] | None:
    start, found = x_from, []
    for left in range(count, 0, -1):
        high = start + longest - REACH
        low = x_to - longest - (left - 1) * (longest - REACH)
        wish = start + (x_to - start) / (left + 1)
        free = [
            x
            for x in (wish + sign * 0.5 * k for k in range(400) for sign in (1, -1))
            if max(low, start + 3 * REACH) <= x <= high and not any(a < x + REACH and x < b for a, b in avoid)
        ]
        if not free:
            return None
        start = free[0]
        found.append(start)
    return found


@dataclass(frozen=True)
class Cut:
    """One piece of a split. number: from 1 at low x; side: of the opening that divides the piece, None where none
    does."""

    number: int
    side: Side | None
    solid: cq.Solid

    @property
    def name(self) -> str:
        """The piece's name: its number, and its side where it has one."""
        return f"{self.number}-{self.side}" if self.side else f"{self.number}"


def split(
    whole: cq.Solid,
    joints: Sequence[Joint],
    fit: float,
    operation: str,
    opening: tuple[float, float, float] | None = None,
) -> list[Cut]:
    """The pieces from low x to high x; each but the last has keys at its high end. fit: gap at each side, mm.

    opening: (x from, x to, y) of one along the jig: a piece with a joint in it at either end falls in two.
    """
    from neckmodel.jigs.shaping import box, prism
    from neckmodel.solids.kernel.gate import common

    if not joints:
        return [Cut(1, None, whole)]
    pieces = []
    for k in range(len(joints) + 1):
        outline: list[Point] = []
        if k < len(joints):
            outline += [(joints[k].x, -AWAY)]
            for y in sorted(joints[k].keys):
                outline += dovetail((joints[k].x, y))
            outline += [(joints[k].x, AWAY)]
        else:
            outline += [(AWAY * 2, -AWAY), (AWAY * 2, AWAY)]
        if k > 0:
            outline += [(joints[k - 1].x, AWAY)]
            for y in sorted(joints[k - 1].keys, reverse=True):
                outline += dovetail((joints[k - 1].x, y), fit)[::-1]
            outline += [(joints[k - 1].x, -AWAY)]
        else:
            outline += [(-AWAY, AWAY), (-AWAY, -AWAY)]
        room = prism(outline, -AWAY / 2, AWAY / 2, operation)
        named = f"{operation}: piece {k + 1}"
        if opening is None or not (0 < k < len(joints) and opening[0] < joints[k - 1].x and joints[k].x < opening[1]):
            pieces.append(Cut(k + 1, None, common(whole, [room], named)))
            continue
        for side, reach in ((Side.BASS, (-AWAY, opening[2])), (Side.TREBLE, (opening[2], AWAY))):
            half = common(whole, [box((-AWAY, 2 * AWAY), reach, (-AWAY, AWAY))], named)
            pieces.append(Cut(k + 1, side, common(half, [room], named)))
    return pieces


def clearance(whole: cq.Solid, joints: Sequence[Joint], fit: float, operation: str) -> float:
    """Volume that the joints' fit takes from the whole round all keys, mm3."""
    from neckmodel.jigs.shaping import prism
    from neckmodel.solids.kernel.gate import common, volume

    taken = 0.0
    for joint in joints:
        for y in joint.keys:
            around = [*dovetail((joint.x, y), fit), *dovetail((joint.x, y))[::-1]]
            taken += volume(common(whole, [prism(around, -AWAY / 2, AWAY / 2, operation)], operation))
    return taken
