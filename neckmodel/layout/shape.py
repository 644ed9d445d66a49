"""Heel, head and side profile: the shapes at both ends of the shaft, and the transitions into them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from neckmodel.layout.back import Back, smoothstep

COVE = 20.0  # mm, the head's side reaches its own line within this; common practice, no source
HEAD_CORNER = 8.0  # mm, radius of the head's far corners; common practice, no source
LEAST_STEP = 0.5  # mm, the least by which a flat back must lie below the carved one for a clean run-out
RAMP = 1.0  # slope of the sawn ramps between head, shaft and heel: 45 degrees

Point = tuple[float, float]


@dataclass(frozen=True)
class Head:
    """The head. x_line: the head line, where the glue plane ends. kind: "stepped" or "angled".

    angle in degrees, 0 if stepped; drop: height of the step, 0 if angled. Thickness square to the face, length along
    it. swell: distance from the nut over which the carved back flows into the head's back.
    """

    kind: str
    x_line: float
    angle: float
    drop: float
    thickness: float
    length: float
    near: float
    far: float
    swell: float

    @property
    def x_far(self) -> float:
        """x of the head's far end, mm."""
        return self.x_line - self.length * math.cos(math.radians(self.angle))

    @property
    def x_swell(self) -> float:
        return -self.swell

    def face(self, x: float) -> float:
        """z of the head's face."""
        return -self.drop + (x - self.x_line) * math.tan(math.radians(self.angle))

    def back(self, x: float) -> float:
        """z of the head's back."""
        return self.face(x) - self.thickness / math.cos(math.radians(self.angle))

    def side(self, x: float) -> float:
        """Half width of the head's straight sides, extended where need be, mm."""
        along = (self.x_line - x) / (self.x_line - self.x_far)
        return (self.near + (self.far - self.near) * along) / 2

    def on_face(self, along: float) -> Point:
        """(x, z) of a point on the face; `along` is measured on the face from the head line, toward the far end < 0."""
        turn = math.radians(self.angle)
        return self.x_line + along * math.cos(turn), -self.drop + along * math.sin(turn)


@dataclass(frozen=True)
class Heel:
    """The heel from the joint to the wood's end. half_width None: it follows the fretboard's sides."""

    kind: str
    x_joint: float
    x_end: float
    half_width: float | None
    depth: float
    corner_radius: float
    swell_from: float
    pocket_depth: float
    plate: float

    @property
    def x_swell(self) -> float:
        return self.x_joint - self.swell_from


@dataclass(frozen=True)
class Outside:
    """The finished neck's outside: the back's law, the two ends, and the transitions between them.

    At x the cross-section is `(1 - s) superellipse + s box`: s is 0 on the shaft, 1 where head or heel begins. The box
    is as wide as the plan there, its sides upright, its bottom a little below the flat back that the saw has left.
    """

    back: Back
    head: Head
    heel: Heel

    def half_width(self, x: float) -> float:
        """Half width in plan at the glue plane, mm."""
        law, head, heel = self.back.half_width(x), self.head, self.heel
        if x < head.x_line:
            reach = min(COVE, head.x_line - head.x_swell)
            u = min((head.x_line - x) / reach, 1.0)
            if head.side(head.x_line) >= self.back.half_width(head.x_line):
                u = float(smoothstep(u))
                return (1 - u) * law + u * head.side(x)
            return (
                (1 - u) * self.back.half_width(head.x_line) + u * head.side(head.x_line - reach)
                if u < 1
                else head.side(x)
            )
        if heel.half_width is None or x <= heel.x_swell:
            return law
        u = float(smoothstep((x - heel.x_swell) / (heel.x_joint - heel.x_swell)))
        return (1 - u) * law + u * heel.half_width

    def weight(self, x: float) -> float:
        """s: how far the section has gone over to the box of head or heel, 0 to 1."""
        if x < 0:
            return float(smoothstep(x / self.head.x_swell))
        return float(smoothstep((x - self.heel.x_swell) / (self.heel.x_joint - self.heel.x_swell)))

    def flat_depth(self, x: float) -> float:
        """Depth of the flat back that the transition at x runs out into, mm."""
        return -self.head.back(x) if x < 0 else self.heel.depth

    def _gap(self, x_end: float) -> float:
        step = self.flat_depth(x_end) - self.back.depth(x_end)
        return min(max(0.2 * step, 0.6), 6.0)

    def box_bottom(self, x: float) -> tuple[float, float]:
        """(depth to which the box's sides are upright, depth of its bottom at the middle), mm."""
        gap, flat = self._gap(self.head.x_swell if x < 0 else self.heel.x_joint), self.flat_depth(x)
        return flat + 0.3 * gap, flat + gap

    def keel(self, x: float) -> float:
        """Depth of the finished wood at the deepest line, mm: of the carved back or the flat one, the lesser."""
        s = self.weight(x)
        carved = (1 - s) * self.back.depth(x) + s * self.box_bottom(x)[1]
        if x <= self.head.x_swell or x >= self.heel.x_joint:
            return self.flat_depth(x)
        return min(carved, self.flat_depth(x)) if s > 0 and self.flat_depth(x) > self.back.depth(x) else carved

    @property
    def widest(self) -> float:
        """Largest half width of the finished neck, mm."""
        heel = self.heel.half_width if self.heel.half_width is not None else self.back.half_width(self.heel.x_end)
        shaft = (self.back.half_width(self.head.x_line), self.back.half_width(self.heel.x_swell))
        return max(self.head.near / 2, self.head.far / 2, heel, *shaft)


def side_profile(outside: Outside, ends: float, back_allowance: float) -> tuple[Point, ...]:
    """The sawn side profile as a closed polygon (x, z) in mm, head end first along the top.

    ends: wood beyond the finished ends; back_allowance: wood left below the finished back along the shaft. Glue plane,
    head face, head back and heel bottom are sawn to size. Ramps at 45 degrees start outside both transitions.
    """
    head, heel, back = outside.head, outside.heel, outside.back
    x0, x1 = head.x_far - ends, heel.x_end + ends
    lowest = head.back(head.x_far)

    def shaft(x: float) -> float:
        return -(back.depth(x) + back_allowance)

    def ramp(x: float, z: float, toward: float) -> Point:
        """Where a 45 degree ramp from (x, z), running toward +x or -x, meets the shaft's line."""
        up = 1.0 if shaft(x) > z else -1.0
        run = (shaft(x) - z) / (up * RAMP + toward * back.depth_slope)
        return x + toward * run, shaft(x + toward * run)

    points = [(x0, head.face(x0)), (head.x_line, head.face(head.x_line))]
    if head.drop > 0:
        points.append((head.x_line, 0.0))
    points += [(x1, 0.0), (x1, -heel.depth), (heel.x_swell, -heel.depth), ramp(heel.x_swell, -heel.depth, -1.0)]
    if head.back(0.0) <= -(back.depth(0.0) + LEAST_STEP):
        points += [ramp(0.0, head.back(0.0), 1.0), (0.0, head.back(0.0))]
    else:  # an inclined head back meets the shaft's line by itself, but not beyond where the carve runs out into it
        slope = math.tan(math.radians(head.angle)) + back.depth_slope
        above = back.depth(0.0) + head.back(0.0)
        spare = outside.flat_depth(head.x_swell) - back.depth(head.x_swell)
        reach = (min(back_allowance, spare / 2) + above) / slope
        if back_allowance > spare / 2:
            points.append((0.0, shaft(0.0)))
        points.append((-reach, head.back(-reach)))
    if head.angle > 0 and ends > 0:
        points.append((head.x_far, lowest))
    points.append((x0, lowest))
    return tuple(points)
