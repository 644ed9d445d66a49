"""The numbers for the cuts still to come, once something was measured: how thin the neck may be carved, how deep a step
may be cut. By cross-sections, lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.back import section_walls
from neckmodel.layout.channel import BAR_FIT
from neckmodel.layout.halving import least_enough
from neckmodel.layout.measured import is_measured
from neckmodel.layout.refuse import MOST_THICKNESS, least_thickness, runs_out
from neckmodel.layout.shape import LEAST_STEP
from neckmodel.layout.walls import limit_of, opening, stations
from neckmodel.lengths import no_less, rounded_down, rounded_up

if TYPE_CHECKING:
    from neckmodel.layout.back import Back
    from neckmodel.layout.channel import Step
    from neckmodel.layout.types import Layout

FRET_1, FRET_12 = "neck.thickness.fret_1", "neck.thickness.fret_12"
HEEL, HEAD = "heel.depth", "head.thickness"
MOST = 12.0  # mm off the plan; beyond it there is nothing to tell
LEAST_WOOD = 0.5  # mm of wood under the glue plane, less is no section


@dataclass(frozen=True)
class Carve:
    """The least thickness to carve to, fretboard included, mm; None at a fret where the neck is carved already.

    step: the one whose wall then just meets its limit. ends: what head and heel must be at least for such a neck, key
    and mm, where they are less.
    """

    fret_1: float | None
    fret_12: float | None
    step: str
    ends: tuple[tuple[str, float], ...] = ()

    @property
    def says(self) -> str:
        frets = ((self.fret_1, "fret 1"), (self.fret_12, "fret 12"))
        said = "carve no thinner than " + " and ".join(f"{t:.2f} mm at {fret}" for t, fret in frets if t is not None)
        ends = " and ".join(f"{key} no less than {no_less(least)}" for key, least in self.ends)
        return f"{said} with {ends}" if ends else said


def least_carve(layout: Layout, steps: tuple[Step, ...] | None = None) -> Carve | None:
    """How thin the neck may still be carved so that every wall round the channel (or round these steps of it) meets its
    limit, the difference between fret 12 and fret 1 as planned; None where it is carved, where no thickness near the
    plan will do, or where head or heel are cut too shallow for it."""
    steps = layout.steps if steps is None else steps
    free = [key for key in (FRET_1, FRET_12) if not is_measured(layout.design, key)]
    if not free:
        return None
    back = layout.back

    def carved(by: float) -> Back:
        return replace(
            back, t_1=back.t_1 + (by if FRET_1 in free else 0.0), t_12=back.t_12 + (by if FRET_12 in free else 0.0)
        )

    by = least_enough(lambda t: _spare(layout, carved(t), steps)[0] >= 0, -MOST, MOST)
    if by is None:
        return None
    found = carved(by)
    _, step = _spare(layout, found, steps)
    ends = [rounded_up(t) if key in free else None for key, t in ((FRET_1, found.t_1), (FRET_12, found.t_12))]
    told = replace(
        found, t_1=found.t_1 if ends[0] is None else ends[0], t_12=found.t_12 if ends[1] is None else ends[1]
    )
    deeper = _deeper_ends(layout, told)
    return None if any(is_measured(layout.design, key) for key, _ in deeper) else Carve(ends[0], ends[1], step, deeper)


def _deeper_ends(layout: Layout, back: Back) -> tuple[tuple[str, float], ...]:
    """How deep the heel must be, and how thick the head, for the carve of this back to run out into them; only those
    that are less."""
    outside, found = replace(layout.outside, back=back), []
    heel = outside.heel
    need = max(back.depth(heel.x_joint), back.depth(heel.x_swell)) + LEAST_STEP
    if need > heel.depth:
        found.append((HEEL, rounded_up(need)))
        outside = replace(outside, heel=replace(heel, depth=need))
    if not runs_out(replace(outside, head=replace(outside.head, volute=None))):
        least = least_thickness(replace(outside, head=replace(outside.head, volute=None)))
        found += [(HEAD, least)] if least < MOST_THICKNESS else []
    return tuple(found)


def most_depth(layout: Layout, step: Step) -> float | None:
    """How deep a step that is not cut yet may be, at its deepest, in a neck that is carved at one fret at least already
    (as planned at the other); None where the step is cut, the neck is not, or nothing is left of it."""
    carved = is_measured(layout.design, FRET_1) or is_measured(layout.design, FRET_12)
    if not carved or is_measured(layout.design, f"channel.{step.name}.depth"):
        return None

    def lower(by: float) -> Step:
        floor = step.floor.raised(by)
        return replace(step, depth_start=floor.start, depth_end=floor.end, depth_middle=floor.middle)

    by = least_enough(lambda t: _spare(layout, layout.back, (lower(t),))[0] >= 0, -MOST, MOST)
    if by is None or step.depth - by <= 0:
        return None
    return rounded_down(step.depth - by)


def least_depth(layout: Layout, step: Step) -> float:
    """How deep a step must be for what lies in it: as planned, less what is planned free below that."""
    channel = layout.design.channel
    free = {
        "adjuster": channel.adjuster_clearance / 2,
        "access-slot": channel.key_clearance,
        "key-swing": channel.key_clearance,
    }
    planned = next(one for one in layout.planned_steps if one.name == step.name)
    return planned.depth - (BAR_FIT if step.name.startswith("bar-") else free.get(step.name, channel.deeper_by))


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
