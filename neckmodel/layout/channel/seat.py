"""How rod and bars sit in the channel as cut: as planned, or higher where a floor was measured too shallow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import Step, StepName
from neckmodel.layout.rod.compression import LEAST_STRIP

if TYPE_CHECKING:
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.rod import RodPlace, Segment

Steps = tuple[Step, ...]


def lift_of(rod: RodPlace, planned: Steps, cut: Steps, clearance: float) -> float:
    """How far above its planned place the rod sits because a floor came out too shallow, mm; 0 where none did.

    A rod of boxes rests on the shallowest floor under it, and stands proud where that floor is shallower than the rod
    is high. A bent rod first takes up the clearance planned under it, and rises no higher than where it can still be
    covered.
    """
    if any(step.behind for step in planned):
        return -_lower(rod, planned, cut)
    higher = [(before, after) for before, after in zip(planned, cut, strict=True) if after.depth < before.depth]
    if rod.curve is None:
        room = [after.depth - deepest(boxes) for _, after in higher if (boxes := boxes_in(rod, after, cut))]
        return max(rod.below - min(room, default=rod.below), 0.0)
    middle = (rod.x_start + rod.x_end) / 2
    by = max((a.depth_at(middle) - b.depth_at(middle) for a, b in higher if a.name == StepName.RUN), default=0.0)
    covered = rod.diameter / 2 + (LEAST_STRIP if rod.strip is not None else 0.0)
    free = [rod.curve.extremes()[0] - covered, *(rod.below + box.top for box in rod.segments)]
    return max(min(by - clearance, *free), 0.0)


def _lower(rod: RodPlace, planned: Steps, cut: Steps) -> float:
    """How far below its planned place a rod put in from the back lies, because a floor over it came out too shallow."""
    found = [0.0]
    for before, after in zip(planned, cut, strict=True):
        less = after.top - before.top
        if not after.behind or less <= 0:
            continue
        if rod.curve is not None:
            found.append(less)
        elif boxes := boxes_in(rod, after, cut):
            found.append(after.top - rod.below - min(box.top for box in boxes))
    return max(found)


def boxes_in(rod: RodPlace, step: Step, steps: Iterable[Step]) -> tuple[Segment, ...]:
    """The rod's boxes that lie in a step of its own. Those without a pocket of their own lie in the run."""
    boxes = [s for s in rod.segments if s.x_end > s.x_start]
    if step.kind != StepName.RUN:
        return tuple(s for s in boxes if s.name == step.kind)
    own = {each.kind for each in steps}
    return tuple(s for s in boxes if s.name not in own)


def deepest(boxes: Iterable[Segment]) -> float:
    """Largest depth to which these boxes reach below the rod's top, mm."""
    return max(box.top + box.height for box in boxes)


def seated(bar: Bar, planned: Steps, cut: Steps) -> Bar:
    """The bar on its channel's floor, where that came out too shallow to leave the planned glue under it."""
    before, after = (next(s for s in steps if s.name == bar.name) for steps in (planned, cut))
    if after.depth == before.depth:
        return bar
    return replace(bar, below=min(bar.below, after.depth - bar.height))
