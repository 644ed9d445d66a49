"""The numbers for the cuts still to come, once something was measured: how thin the neck may be carved, how deep a step
may be cut. By cross-sections, lengths mm."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.back import section_walls
from neckmodel.layout.walls import limit_of, opening, stations

if TYPE_CHECKING:
    from neckmodel.layout.back import Back
    from neckmodel.layout.channel import Step
    from neckmodel.layout.types import Layout

FRET_1, FRET_12 = "neck.thickness.fret_1", "neck.thickness.fret_12"
MOST = 12.0  # mm off the plan; beyond it there is nothing to tell
HALVINGS = 40
LEAST_WOOD = 0.5  # mm of wood under the glue plane, less is no section
ROUNDED = 0.01  # mm, toward safety
TIE = 1e-7


@dataclass(frozen=True)
class Carve:
    """The least thickness to carve to, fretboard included, mm; None at a fret where the neck is carved already.

    step: the one whose wall then just meets its limit.
    """

    fret_1: float | None
    fret_12: float | None
    step: str

    @property
    def says(self) -> str:
        ends = ((self.fret_1, "fret 1"), (self.fret_12, "fret 12"))
        return "carve no thinner than " + " and ".join(f"{t:.2f} mm at {fret}" for t, fret in ends if t is not None)


def _measured(layout: Layout, key: str) -> bool:
    return any(key == measured for measured, _ in layout.design.measured or ())


def least_carve(layout: Layout) -> Carve | None:
    """How thin the neck may still be carved so that every wall round the channel meets its limit, the difference
    between fret 12 and fret 1 as planned; None where it is carved, or where no thickness near the plan will do."""
    free = [key for key in (FRET_1, FRET_12) if not _measured(layout, key)]
    if not free:
        return None
    back = layout.back

    def carved(by: float) -> Back:
        return replace(
            back, t_1=back.t_1 + (by if FRET_1 in free else 0.0), t_12=back.t_12 + (by if FRET_12 in free else 0.0)
        )

    by = _least(lambda t: _spare(layout, carved(t), layout.steps)[0] >= 0)
    if by is None:
        return None
    found = carved(by)
    _, step = _spare(layout, found, layout.steps)
    ends = [_up(t) if key in free else None for key, t in ((FRET_1, found.t_1), (FRET_12, found.t_12))]
    return Carve(ends[0], ends[1], step)


def most_depth(layout: Layout, step: Step) -> float | None:
    """How deep a step that is not cut yet may be, at its deepest, in a neck that is carved already; None where the step
    is cut, the neck is not, or nothing is left of it."""
    carved = _measured(layout, FRET_1) and _measured(layout, FRET_12)
    if not carved or _measured(layout, f"channel.{step.name}.depth"):
        return None

    def lower(by: float) -> Step:
        floor = step.floor.raised(by)
        return replace(step, depth_start=floor.start, depth_end=floor.end, depth_middle=floor.middle)

    by = _least(lambda t: _spare(layout, layout.back, (lower(t),))[0] >= 0)
    if by is None or step.depth - by <= 0:
        return None
    return math.floor((step.depth - by) / ROUNDED + TIE) * ROUNDED


def _spare(layout: Layout, back: Back, steps: tuple[Step, ...]) -> tuple[float, str]:
    """(how much the walls along the shaft have to spare, the step that has least), by the back's law."""
    places = [(step, stations(step, layout.heel, back.is_blended)) for step in steps if step.x_end > 0]
    at = [(step, x) for step, along in places for x in along if x <= layout.heel.x_joint]
    if not at:
        return math.inf, ""
    if min(back.depth(x) for _, x in at) < LEAST_WOOD:
        return -math.inf, at[0][0].name
    walls = section_walls([back.section(x) for _, x in at], [opening(step, x) for step, x in at])
    names = [step.name for step, _ in at]
    return min((float(wall) - limit_of(layout, name), name) for wall, name in zip(walls, names, strict=True))


def _up(value: float) -> float:
    return math.ceil(value / ROUNDED - TIE) * ROUNDED


def _least(enough: Callable[[float], bool]) -> float | None:
    """The least change within MOST either way that is enough, if more always is."""
    low, high = -MOST, MOST
    if not enough(high):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
