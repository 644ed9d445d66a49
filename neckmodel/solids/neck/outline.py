"""The outline in plan beyond the carved shaft: round the head's far end and round the heel's end. No kernel here."""

from __future__ import annotations

import math

import numpy as np

from neckmodel.geometry.contour import Contour, arc_middle
from neckmodel.geometry.paths import PlanPath, Step
from neckmodel.geometry.types import Point
from neckmodel.layout.neck.outside import Outside


def rounded(before: Point, corner: Point, after: Point, radius: float) -> tuple[Step, ...]:
    """The steps from `before` round a corner toward `after`: straight, then the arc that touches both sides."""
    if radius <= 0:
        return (Step(corner),)
    a, b = np.subtract(before, corner), np.subtract(after, corner)
    a, b = a / np.hypot(*a), b / np.hypot(*b)
    half = math.acos(float(np.clip(a @ b, -1, 1))) / 2
    reach = radius / math.tan(half)
    middle = (a + b) / np.hypot(*(a + b))
    nearest = np.add(corner, middle * (radius / math.sin(half) - radius))
    start, end = np.add(corner, a * reach), np.add(corner, b * reach)
    return Step(_point(start)), Step(_point(end), _point(nearest))


def _point(at: np.ndarray) -> Point:
    return float(at[0]), float(at[1])


def _around(near: Point, far: Point, radius: float) -> PlanPath:
    """From `near` along a side to the corner `far`, across to the other side, and back to the mirror image of
    `near`."""
    other_far, other_near = (far[0], -far[1]), (near[0], -near[1])
    radius = min(radius, 0.45 * 2 * abs(far[1]), 0.9 * abs(far[0] - near[0]))
    middle = (far[0], 0.0)
    steps = rounded(near, far, middle, radius) + rounded(middle, other_far, other_near, radius)
    return PlanPath(near, (*steps, Step(other_near)))


def head_path(outside: Outside) -> PlanPath:
    """From the bass side where the skin ends, round the head's far end, to the treble side."""
    head = outside.head
    if head.contour is not None:
        return _drawn_outline(head.contour)
    return _around((head.x_swell, -outside.half_width(head.x_swell)), (head.x_far, -head.far / 2), head.corner)


def _drawn_outline(contour: Contour) -> PlanPath:
    """A drawn outline, which runs from the treble side to the bass side, turned the other way round; arcs stay arcs."""
    corners = contour.corners
    steps = []
    for k in range(len(corners) - 1, 0, -1):
        arc = abs(corners[k - 1][2]) > STRAIGHT
        steps.append(Step(corners[k - 1][:2], arc_middle(corners[k - 1], corners[k]) if arc else None))
    return PlanPath(corners[-1][:2], tuple(steps))


STRAIGHT = 1e-6  # of a bulge; an arc as flat as this is a line


def heel_path(outside: Outside) -> PlanPath:
    """From the treble side at the joint, round the heel's end, to the bass side. A tenon's cheeks are cut later."""
    heel = outside.heel
    far = heel.half_width if heel.half_width is not None else outside.back.half_width(heel.x_end)
    return _around((heel.x_joint, outside.half_width(heel.x_joint)), (heel.x_end, far), heel.corner_radius)
