"""Least wood round each step, estimated from cross-sections before any solid exists."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.layout.channel.step import Step, StepName, of_rod
from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.neck.outside import Heel, Outside
from neckmodel.layout.neck.section import Opening, section_walls
from neckmodel.layout.rod.bars import is_bar

if TYPE_CHECKING:
    from neckmodel.design.tables.limits import Limits

STATIONS = 9  # sections looked at along each step
BENT_STATIONS = (
    181  # along a curved floor, or where the back changes its shape, for there the least wall may lie anywhere
)
LIMITED_AS: dict[str, str] = {
    StepName.ACCESS_SLOT: "access_slot",
    StepName.KEY_SWING: "access_slot",
    StepName.KEY_BORE: "access_slot",
}  # other steps have a limit of their own name, or the run's


def limit_of(limits: Limits, step: str) -> float:
    """The least wall that the design's limits allow round a step of this name, mm."""
    walls = limits.wall
    kind, _ = of_rod(step)
    name = "bar" if is_bar(kind) else LIMITED_AS.get(kind, kind)
    return float(getattr(walls, name, walls.run))


@dataclass(frozen=True)
class SectionWall:
    """Least wood round one step by cross-sections, mm, and the x of that section."""

    step: str
    wall: float
    x: float


def opening(step: Step, x: float) -> Opening:
    """The rectangle that the step cuts out of the section at x; of a bore its axis, which lies half its width from
    its own wall."""
    if step.bored:
        return Opening(step.y, step.y, (step.depth_at(x) + step.top_at(x)) / 2)
    return Opening(step.y - step.width / 2, step.y + step.width / 2, step.depth_at(x))


def heel_wall(outside: Outside, step: Step, x: float) -> float:
    """Least wood round a step in a section of the heel, mm. The heel's sides are upright and its bottom is level; a
    dovetail's cheeks lean, and its root lies at the joint."""
    tenon, far = outside.heel.tenon, abs(step.y) + step.width / 2
    if isinstance(tenon, Dovetail):
        return min(tenon.depth - step.depth_at(x), tenon.beside(x, far, step.depth_at(x)))
    beside = outside.half_width(x) - abs(step.y) - step.width / 2
    return min(outside.heel.depth_at(x) - step.depth_at(x), beside)


def stations(step: Step, heel: Heel, blended: bool = False) -> list[float]:
    """x of the sections looked at along a step, between the nut and the wood's end, the joint among them. blended:
    whether the back's fullness or lean differs between fret 1 and fret 12."""
    first, last = max(step.x_start, 0.0), min(step.x_end, heel.x_end)
    count = BENT_STATIONS if step.depth_middle is not None or blended else STATIONS
    along = [float(x) for x in np.linspace(first, last, count)]
    return [*along, heel.x_joint] if first < heel.x_joint < last else along


def walls_by_section(outside: Outside, steps: tuple[Step, ...]) -> tuple[SectionWall, ...]:
    """The least wall of each step under the fretboard.

    Up to the joint the section follows the back's own shape; the swell toward the heel only adds wood to it. Beyond the
    joint it is the heel's.
    """
    heel, back = outside.heel, outside.back
    blended = back.is_blended
    places = [(step, x) for step in steps if step.x_end > 0 for x in stations(step, heel, blended)]
    if back.later is not None:  # where the narrower side's step starts the bass side is nearest
        ends = (back.later.x_from, back.later.x_to)
        places += [(step, x) for step in steps for x in ends if max(step.x_start, 0.0) < x < step.x_end]
    on_shaft = [(step, x) for step, x in places if x <= heel.x_joint]
    walls = section_walls([outside.back.section(x) for _, x in on_shaft], [opening(*at) for at in on_shaft])
    walls -= [step.width / 2 if step.bored else 0.0 for step, _ in on_shaft]
    found = [(float(wall), x, step.name) for (step, x), wall in zip(on_shaft, walls, strict=True)]
    found += [(heel_wall(outside, step, x), x, step.name) for step, x in places if x >= heel.x_joint]
    least: dict[str, SectionWall] = {step.name: SectionWall(step.name, math.inf, 0.0) for step, _ in places}
    for wall, x, name in found:
        if wall < least[name].wall:
            least[name] = SectionWall(name, wall, x)
    return tuple(least.values())
