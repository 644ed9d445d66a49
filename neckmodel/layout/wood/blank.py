"""The sawn side profile of the blank."""

from __future__ import annotations

import math

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.layout.neck.outside import Outside

RAMP = 1.0  # slope of the sawn ramps between head, shaft and heel: 45 degrees
SAME = 1e-9  # mm, points nearer to each other are one


def sawn_shaft(outside: Outside, back_allowance: float, x: float) -> float:
    """Depth of the sawn back along the shaft at x, mm: parallel to the finished back, or level under the deepest place
    that is finished there."""
    if not outside.level_back:
        return outside.back.depth(x) + back_allowance
    return level_depth(outside, back_allowance)


def level_depth(outside: Outside, back_allowance: float) -> float:
    """Depth of a level back below z = 0, mm: `allowance.back` under the deepest finished place from the nut to the
    joint, a volute among them; the heel's swell, which comes after the ramp, left out."""
    back = outside.back
    deepest = max(back.depth(0.0), back.depth(outside.heel.x_joint), outside.deepest_volute)
    return deepest + back_allowance


def _ramp(outside: Outside, back_allowance: float, start: Point, toward: float) -> Point:
    """Where a 45 degree ramp from a point, running toward +x or -x, meets the shaft's line."""
    x, z = start
    slope = 0.0 if outside.level_back else outside.back.depth_slope
    shaft = -sawn_shaft(outside, back_allowance, x)
    up = 1.0 if shaft > z else -1.0
    end = x + toward * (shaft - z) / (up * RAMP + toward * slope)
    return end, -sawn_shaft(outside, back_allowance, end)


def head_side(outside: Outside, back_allowance: float) -> tuple[Point, ...]:
    """(x, z) of the sawn back from where it leaves the head's back to where the shaft's line begins, mm."""
    head, meeting = outside.head, outside.x_head_stock
    leaves = (meeting, head.back(meeting))
    if head.volute is None:
        if meeting < 0:
            return leaves, (0.0, -sawn_shaft(outside, back_allowance, 0.0))
        return leaves, _ramp(outside, back_allowance, leaves, 1.0)
    x_end = max(0.0, head.volute.x_end)
    lowest = max(outside.carved(float(x)) for x in np.linspace(meeting, x_end, VOLUTE_PLACES)) + back_allowance
    low = max(lowest, -head.back(meeting))
    down = (meeting + (low + head.back(meeting)) / RAMP, -low)
    level = (max(x_end, down[0]), -low)
    return leaves, down, level, _ramp(outside, back_allowance, level, 1.0)


VOLUTE_PLACES = 129  # places looked at along a volute


def shaft_ramps(outside: Outside, back_allowance: float) -> tuple[Point, Point]:
    """(x, z) where the sawn shaft begins at the head and ends at the heel: the upper ends of the ramps, mm."""
    heel = outside.heel
    at_heel = _ramp(outside, back_allowance, (heel.x_swell, -heel.depth), -1.0)
    return head_side(outside, back_allowance)[-1], at_heel


def side_profile(outside: Outside, ends: float, back_allowance: float) -> tuple[Point, ...]:
    """The sawn side profile as a closed polygon (x, z) in mm, head end first along the top.

    ends: wood beyond the finished ends; back_allowance: wood left below the finished back along the shaft, mm. Glue
    plane, head face, head back and heel bottom are sawn to size. Ramps at 45 degrees start outside both transitions.
    Only where an inclined head back would come out of the shaft's own back does a straight line meet it within its
    transition.
    """
    head, heel = outside.head, outside.heel
    x0, x1 = head.x_far - ends, heel.x_end + ends
    lowest = head.back(head.x_far)

    # past an inclined head the face falls on only half way to the lowest point, or long ends would have no wood
    fall = math.tan(math.radians(head.angle))
    x_level = head.x_far - min(ends, (head.face(head.x_far) - lowest) / 2 / fall if fall > 0 else ends)
    points = [(x0, head.face(x_level)), (x_level, head.face(x_level)), (head.x_line, head.face(head.x_line))]
    points += [(head.x_line, 0.0), (x1, 0.0), (x1, -heel.depth)]
    if heel.tenon is not None:
        points[-1:] = [(x1, -heel.tenon.depth), (heel.x_joint, -heel.tenon.depth), (heel.x_joint, -heel.depth)]
    points += [(heel.x_swell, -heel.depth), shaft_ramps(outside, back_allowance)[1]]
    points += [*head_side(outside, back_allowance)[::-1], (head.x_lowest, lowest), (x0, lowest)]
    kept = [p for p, q in zip(points, [*points[1:], points[0]], strict=True) if math.dist(p, q) > SAME]
    straight = [not _in_line(kept[k - 1], p, kept[(k + 1) % len(kept)]) for k, p in enumerate(kept)]
    return tuple(p for p, corner in zip(kept, straight, strict=True) if corner)


def with_fretboard(profile: tuple[Point, ...], x_start: float, thickness: float) -> tuple[Point, ...]:
    """The side profile of a blank of which the fretboard is a part: from x_start, where that begins, to its body end
    the upper face lies `thickness` higher."""
    x1 = max(x for x, _ in profile)
    at = next(k for k, (x, z) in enumerate(profile) if x == x1 and z == 0.0)
    raised = ((x_start, 0.0), (x_start, thickness), (x1, thickness))
    return (*profile[:at], *raised, *profile[at + 1 :])


def _in_line(before: Point, point: Point, after: Point) -> bool:
    """Whether the point lies on the line between its neighbours, and so adds no corner."""
    (ax, az), (bx, bz) = (point[0] - before[0], point[1] - before[1]), (after[0] - point[0], after[1] - point[1])
    return abs(ax * bz - az * bx) <= SAME * math.hypot(ax, az) * math.hypot(bx, bz)
