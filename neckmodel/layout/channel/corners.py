"""The wood that a round cutter leaves in the corners of a step's ends: place, area and depth. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from neckmodel.layout.channel.step import End, EndKind, Step

NEAR = 1e-6  # mm, steps this near to each other meet


@dataclass(frozen=True)
class Corner:
    """Both corners of one end of a step together. end: "start" or "end", at x; area: in plan, mm2.

    deep_from, deep_to: depths between which the corners stay. entering: width of another step that runs in there and
    takes part of them, 0 where none does.
    """

    end: End
    x: float
    area: float
    deep_from: float
    deep_to: float
    entering: float = 0.0


def shoulder_area(radius: float, width: float, pocket: float | None = None) -> float:
    """Area that a pocket's cutter leaves beside a run of `width` that enters it, mm2; 0 where the run clears the
    corners.

    `2 (F(r) - F(w/2))`, F the area under a quarter circle's shoulder; with no run, the two corners of a square end: `2
    r**2 (1 - pi/4)`. pocket: its width, the cutter's own by default.
    """

    def primitive(y: float) -> float:
        return radius * y - (y * math.sqrt(radius * radius - y * y) + radius * radius * math.asin(y / radius)) / 2

    straight = 0.0 if pocket is None else pocket / 2 - radius  # half of the pocket's end between its two corners
    return 2 * (primitive(radius) - primitive(min(max(width / 2 - straight, 0.0), radius)))


def run_on(step: Step, end: End, steps: Sequence[Step] = ()) -> float:
    """How far a cutter, set to the step's depth, may run past the step's end ("start" or "end") without cutting wood
    that must stay, mm.

    0 where the step's end, or the step that it opens into, is closed. inf where the step leaves the wood. Otherwise as
    far as another step at least as deep and as wide goes on.
    """
    kind, x = step.end(end)
    if kind != EndKind.OPEN:
        return 0.0
    others = _meeting(step, x, steps)
    if not any(_before(other, x, end) > NEAR for other in others):
        walled = any(s.end(end)[0] != EndKind.OPEN for s in others)
        return 0.0 if walled else math.inf
    depth, free = step.depth_at(x), 0.0
    for other in others:
        stretch = (other.x_start, min(x, other.x_end)) if end == End.START else (max(x, other.x_start), other.x_end)
        length = stretch[1] - stretch[0]
        if length > NEAR and other.width >= step.width - NEAR:
            least = other.floor.between(*stretch).extremes()[0]
            free = max(free, length if least >= depth - NEAR else 0.0)
    return free


def corners_of(step: Step, radius: float, steps: Sequence[Step] = ()) -> tuple[Corner, ...]:
    """The corners that a cutter of this radius leaves at both ends of a step, less what the other steps cut away there.

    Where a step ends in a shallower one it has a wall of its own below the shallower floor, and corners in that wall.
    """
    found = (_corner(step, end, min(radius, step.width / 2), steps) for end in End)
    return tuple(corner for corner in found if corner is not None)


def _corner(step: Step, end: End, radius: float, steps: Sequence[Step]) -> Corner | None:
    """The corners at one end of a step; None where nothing is left."""
    kind, x = step.end(end)
    if kind == EndKind.ROUND or run_on(step, end, steps) == math.inf:
        return None
    others, deepest, deep_from = _meeting(step, x, steps), step.depth_at(x), math.inf
    area = entering = 0.0
    # fewer other steps reach deeper levels, so the most wood is left at the step's own floor
    for level in sorted({0.0, *(depth for depth in _floors(others, x) if depth < deepest - NEAR)}):
        still = [other for other in others if _floor_at(other, x) > level + NEAR]
        taken = any(_beyond(s, x, end) >= radius - NEAR and s.width >= step.width - NEAR for s in still)
        entering = max((s.width for s in still if _before(s, x, end) > NEAR), default=0.0)
        area = 0.0 if taken else shoulder_area(radius, entering, step.width)
        deep_from = min(deep_from, level) if area > NEAR else math.inf
    return Corner(end, x, area, deep_from, deepest, entering) if area > NEAR else None


def _meeting(step: Step, x: float, steps: Sequence[Step]) -> list[Step]:
    """The other steps on the same line that reach this x."""
    return [s for s in steps if s != step and s.y == step.y and s.x_start - NEAR <= x <= s.x_end + NEAR]


def _before(other: Step, x: float, end: End) -> float:
    """How far another step goes on past this end, away from the step."""
    return x - other.x_start if end == End.START else other.x_end - x


def _beyond(other: Step, x: float, end: End) -> float:
    """How far another step goes from this end along the step itself."""
    return _before(other, x, End.END if end == End.START else End.START)


def _floor_at(other: Step, x: float) -> float:
    return other.depth_at(min(max(x, other.x_start), other.x_end))


def _floors(others: Sequence[Step], x: float) -> Iterator[float]:
    return (_floor_at(other, x) for other in others)
