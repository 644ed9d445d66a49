"""The pockets' lines for a machine: one closed line for each step, none over another where steps meet. Lengths mm.

Where a step opens into a deeper one, its line runs on into that one, a little narrower. So no edge is cut twice, and a
cutter that clears each line to its depth leaves no ridge between the two. All that is cut there is cut deeper by the
other step anyway.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Layer, Path

if TYPE_CHECKING:
    from neckmodel.layout.channel.step import Step

RUN_ON = 3.0  # mm, half of a usual cutter; common practice, no source
STAGGER = 0.07  # of RUN_ON, by which each step runs on less than the one before, so that no two end on one line
INSET = 0.25  # mm by which what runs on is narrower at either side than the step that it runs into, if that is wide
NEAR = 1e-6  # mm; places nearer to each other are one


@dataclass(frozen=True)
class Line:
    """The line of a step. x_start, x_end: its ends; beyond the step's own where it runs on, before them where it ends
    sooner."""

    step: Step
    path: Path
    x_start: float
    x_end: float


def step_lines(steps: Sequence[Step], layer_of: dict[str, Layer]) -> tuple[Line, ...]:
    """A closed line for each step, right-handed. layer_of: the layer for a step's name."""
    lines = []
    for number, step in enumerate(steps):
        others = [other for other in steps if other is not step and abs(other.y - step.y) < NEAR]
        far = _end(step, [other for other in others if _gives_way(step, other, step.x_end, steps)], number)
        turned = [other.flipped() for other in others if _gives_way(step, other, step.x_start, steps)]
        near = [((-x, half), radius) for (x, half), radius in _end(step.flipped(), turned, number)]
        upper = [*near[::-1], *far]
        lower = [((x, -half), radius) for (x, half), radius in upper[::-1]]
        corners = [((x, step.y + half), radius) for (x, half), radius in (*lower, *upper)]
        xs = [x for (x, _), _ in upper]
        lines.append(Line(step, rounded_path(layer_of[step.name], corners), min(xs), max(xs)))
    return tuple(lines)


def _gives_way(step: Step, other: Step, x: float, steps: Sequence[Step]) -> bool:
    """Whether another step covers this end and is deeper there; of two equally deep, the wider counts, then the
    first."""
    if not other.x_start - NEAR <= x <= other.x_end + NEAR:
        return False
    more = other.depth_at(min(max(x, other.x_start), other.x_end)) - step.depth_at(x)
    if abs(more) > NEAR:
        return more > 0
    wider = other.width - step.width
    return wider > 0 if abs(wider) > NEAR else steps.index(other) < steps.index(step)


def _end(step: Step, deeper: Sequence[Step], number: int) -> list[tuple[Point, float]]:
    """((x, half width), corner radius) along the upper side of a step's far end, from its middle on outward."""
    x, half = step.x_end, step.width / 2
    plain = [((x, half), min(step.corner_end, half))]
    if not deeper:
        return plain
    other = max(deeper, key=lambda one: one.width)
    inner, wide = other.x_start, other.width / 2
    on, inset = RUN_ON * (1 - STAGGER * number), min(INSET, wide / 4)
    if wide > half - NEAR:
        if inner <= step.x_start + NEAR:  # the other step covers all of it
            return plain
        on = min(on, (other.x_end - inner) / 2 * (1 - STAGGER * number))
        if wide > half + inset:
            return [((inner + on, half), 0.0)]
        return [((inner, half), 0.0), ((inner + on, wide - inset), 0.0)]
    if other.x_end > x + NEAR:
        on = min(on, (other.x_end - x) / 2)
        return [((x, half), 0.0), ((x, wide), 0.0), ((x + on, wide - inset), 0.0)]
    on = min(on, (x - max(inner, step.x_start)) / 2)
    return [((x, half), 0.0), ((x, wide), 0.0), ((x - on, wide - inset), 0.0)]
