"""The sled for a floor that is not level. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.curve import arc_difference

if TYPE_CHECKING:
    from neckmodel.geometry.curve import Curve
    from neckmodel.layout.channel.step import Step


SAME = 1e-6  # mm


@dataclass(frozen=True)
class Sled:
    """Two rails beside the blank that lead the router along a floor that is not level, mm.

    length: of the step. rise: how much higher the rails are at the step's start than at its end, as the floor is.
    sagitta: how far the rails' middle lies below the straight line between the step's ends, negative above it; radius:
    of the arc through these three points, inf for straight rails; off: the most by which that arc misses the floor.
    """

    length: float
    rise: float
    sagitta: float
    radius: float
    off: float


def sled_of(step: Step) -> Sled | None:
    """The rails for a step's floor; None for a level floor."""
    if step.is_level:
        return None
    floor, circle = step.floor, floor_circle(step.floor)
    radius = math.inf if circle is None else abs(circle[2])
    return Sled(floor.length, floor.end - floor.start, floor.sag, radius, arc_difference(floor.sag, floor.length))


def floor_circle(floor: Curve) -> tuple[float, float, float] | None:
    """(x, z, radius) of the circle through a floor's start, middle and end, mm; None for a straight one.

    Radius positive where the centre lies above the floor, which is deepest near its middle. With ends equally deep it
    is `c**2/(8 s) + s/2`, c the length and s the sagitta.
    """
    if abs(floor.sag) < SAME:
        return None
    half, middle = floor.length / 2, floor.at((floor.x_start + floor.x_end) / 2)
    left, right = middle - floor.start, middle - floor.end  # heights of both ends over the middle
    up = (2 * half**2 + left**2 + right**2) / (2 * (left + right))
    offset = ((right**2 - left**2) / 2 - up * (right - left)) / (2 * half)
    return (floor.x_start + floor.x_end) / 2 + offset, up - middle, math.copysign(math.hypot(offset, up), up)
