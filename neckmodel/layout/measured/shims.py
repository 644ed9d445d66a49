"""Shims under a rod in a channel that came out too deep. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.seat import boxes_in
from neckmodel.layout.channel.step import LEAST_DIFFERENCE
from neckmodel.limits import MOST_BELOW

if TYPE_CHECKING:
    from neckmodel.layout.layout import Layout


def void_under(layout: Layout, step: str) -> float:
    """How much deeper than planned a step is cut, mm: the thickness of the shim that brings the rod back to its planned
    height. In a channel cut from the back the void lies over the rod."""
    before, after = (next(s for s in steps if s.name == step) for steps in (layout.planned_steps, layout.steps))
    if after.behind:
        return max(before.top - after.top, 0.0)
    return max(after.depth - before.depth, 0.0)


def shims(layout: Layout) -> tuple[tuple[str, float], ...]:
    """(step, thickness in mm) of each shim that a rod of boxes needs, because it would lie too far below the glue
    plane."""
    found = []
    for step in layout.steps:
        rod, void = layout.rod_of(step), void_under(layout, step.name)
        if rod is None or rod.curve is not None or not boxes_in(rod, step, layout.steps):
            continue
        below = 0.0 if step.behind else rod.below  # a rod put in from the back bears on the floor over it
        if void > 0 and below + void > MOST_BELOW + LEAST_DIFFERENCE:
            found.append((step.name, void))
    return tuple(found)
