"""Heel, head and side profile: the shapes at both ends of the shaft, and the transitions into them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from neckmodel.layout.back import Back, smoothstep

COVE = 20.0  # mm, the head's side reaches its own line within this; common practice, no source
HEAD_CORNER = 8.0  # mm, radius of the head's far corners; common practice, no source
LEAST_STEP = 0.5  # mm, the least by which a flat back must lie below the carved one for a clean run-out
LEAST_STOCK = 0.25  # mm of wood to carve away wherever the carve runs; less would leave the saw's surface standing
RAMP = 1.0  # slope of the sawn ramps between head, shaft and heel: 45 degrees

# How far the bottom of a transition's box lies below the flat back that it runs out into: a share of the step between
# the two backs, within bounds in mm. Less where the flat back is inclined, or the carve would leave it too early.
LEVEL_GAP, INCLINED_GAP = (0.2, 0.6, 6.0), (0.1, 0.3, 6.0)
UPRIGHT = 0.3  # share of that gap to which the box's sides go straight down

Point = tuple[float, float]


def one_piece_height(length: float, thickness: float, angle: float) -> float:
    """Height of stock for an angled head in one piece whose end is square to its face, mm: `l sin + t cos`."""
    turn = math.radians(angle)
    return length * math.sin(turn) + thickness * math.cos(turn)


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
    is as wide as the plan there, its sides upright, its bottom a little below the flat back that the saw has left, so
    that the carve crosses the flat back before the transition ends.
    """

    back: Back
    head: Head
    heel: Heel

    @property
    def x_cove(self) -> float:
        """Where the head's own straight sides begin, seen from the nut."""
        return self.head.x_line - min(COVE, self.head.x_line - self.head.x_swell)

    @property
    def head_tapers(self) -> bool:
        """The head is narrower than the neck at the head line: a straight taper, with corners, instead of a cove."""
        return self.head.side(self.head.x_line) < self.back.half_width(self.head.x_line)

    def half_width(self, x: float) -> float:
        """Half width in plan at the glue plane, mm."""
        law, head, heel = self.back.half_width(x), self.head, self.heel
        if x < head.x_line:
            u = min((head.x_line - x) / (head.x_line - self.x_cove), 1.0)
            if u == 1.0:
                return head.side(x)
            if self.head_tapers:
                return (1 - u) * self.back.half_width(head.x_line) + u * head.side(self.x_cove)
            s = smoothstep(u)
            return (1 - s) * law + s * head.side(x)
        if heel.half_width is None or x <= heel.x_swell:
            return law
        s = smoothstep((x - heel.x_swell) / (heel.x_joint - heel.x_swell))
        return (1 - s) * law + s * heel.half_width

    def flat_depth(self, x: float) -> float:
        """Depth of the flat back that the transition at x runs out into, mm."""
        return -self.head.back(x) if x < 0 else self.heel.depth

    @cached_property
    def _gaps(self) -> tuple[float, float]:
        """By how much the box's bottom lies below the flat back, at the head and at the heel, mm."""

        def gap(x: float, rule: tuple[float, float, float]) -> float:
            share, least, most = rule
            return min(max(share * (self.flat_depth(x) - self.back.depth(x)), least), most)

        return gap(self.head.x_swell, INCLINED_GAP if self.head.angle > 0 else LEVEL_GAP), gap(
            self.heel.x_joint, LEVEL_GAP
        )

    @cached_property
    def x_blend(self) -> float:
        """Where the blend toward the head starts: at the nut, but on an inclined head not before the box is as deep as
        the shaft, or the back would first grow thinner on its way to the head."""
        over_end = self.flat_depth(self.head.x_swell) + self._gaps[0] - self.back.depth(self.head.x_swell)
        rate = math.tan(math.radians(self.head.angle)) + self.back.depth_slope
        over_nut = over_end + rate * self.head.x_swell
        return over_nut / rate if over_nut < 0 < over_end else 0.0

    def weight(self, x: float) -> float:
        """s: how far the section has gone over to the box of head or heel, 0 to 1."""
        if x < 0:
            return smoothstep((self.x_blend - x) / (self.x_blend - self.head.x_swell))
        return smoothstep((x - self.heel.x_swell) / (self.heel.x_joint - self.heel.x_swell))

    def box_bottom(self, x: float) -> tuple[float, float]:
        """(depth to which the box's sides are upright, depth of its bottom at the middle), mm; parallel to the flat
        back."""
        gap, flat = self._gaps[0] if x < 0 else self._gaps[1], self.flat_depth(x)
        return flat + UPRIGHT * gap, flat + gap

    def carved(self, x: float) -> float:
        """Depth of the carve at the deepest line, mm, whether or not there is still wood there."""
        s = self.weight(x)
        return (1 - s) * self.back.depth(x) + s * self.box_bottom(x)[1]

    def to_carve(self, x: float) -> float:
        """Wood between the carve and the flat back at the deepest line, mm; negative where the flat back remains."""
        return self.flat_depth(x) - self.carved(x)

    @cached_property
    def x_head_stock(self) -> float:
        """How far toward the nut the stock may follow the head's back: 0, or where an inclined back comes too near to
        the carve; the head's end of the swell if it nowhere leaves wood enough to carve."""
        if self.to_carve(-1e-9) >= LEAST_STOCK:
            return 0.0
        step = self.head.x_swell / SEARCH
        wood = next((k for k in range(1, SEARCH) if self.to_carve(k * step) >= LEAST_STOCK), None)
        if wood is None:
            return self.head.x_swell
        return _crossing(lambda x: self.to_carve(x) - LEAST_STOCK, wood * step, (wood - 1) * step)

    @cached_property
    def x_head_run_out(self) -> float:
        """Where the carve's deepest line comes out in the head's back."""
        return _crossing(self.to_carve, self.x_head_stock or -1e-9, self.head.x_swell)

    @cached_property
    def x_heel_run_out(self) -> float:
        """Where the carve's deepest line comes out in the heel's bottom."""
        return _crossing(self.to_carve, self.heel.x_swell, self.heel.x_joint)

    def keel(self, x: float) -> float:
        """Depth of the finished wood at the deepest line, mm: the carve's, or the flat back's where it has run out."""
        if x <= self.x_head_run_out or x >= self.x_heel_run_out:
            return self.flat_depth(x)
        return self.carved(x)

    @property
    def widest(self) -> float:
        """Largest half width of the finished neck, mm."""
        heel = self.heel.half_width if self.heel.half_width is not None else self.back.half_width(self.heel.x_end)
        shaft = (self.back.half_width(self.head.x_line), self.back.half_width(self.heel.x_swell))
        return max(self.head.near / 2, self.head.far / 2, heel, *shaft)


SEARCH = 64  # places looked at along the head's swell


def _crossing(function: Callable[[float], float], above: float, below: float) -> float:
    """x between the two where the function, positive at `above` and not at `below`, is 0; to 1e-9 mm."""
    while abs(above - below) > 1e-9:
        middle = (above + below) / 2
        if function(middle) > 0:
            above = middle
        else:
            below = middle
    return above


def shaft_ramps(outside: Outside, back_allowance: float) -> tuple[Point, Point]:
    """(x, z) where the sawn shaft begins at the head and ends at the heel: the upper ends of the ramps, mm."""
    head, heel, back = outside.head, outside.heel, outside.back

    def shaft(x: float) -> float:
        return -(back.depth(x) + back_allowance)

    def ramp(x: float, z: float, toward: float) -> Point:
        """Where a 45 degree ramp from (x, z), running toward +x or -x, meets the shaft's line."""
        up = 1.0 if shaft(x) > z else -1.0
        run = (shaft(x) - z) / (up * RAMP + toward * back.depth_slope)
        return x + toward * run, shaft(x + toward * run)

    at_head = ramp(0.0, head.back(0.0), 1.0) if outside.x_head_stock == 0 else (0.0, shaft(0.0))
    return at_head, ramp(heel.x_swell, -heel.depth, -1.0)


def side_profile(outside: Outside, ends: float, back_allowance: float) -> tuple[Point, ...]:
    """The sawn side profile as a closed polygon (x, z) in mm, head end first along the top.

    ends: wood beyond the finished ends; back_allowance: wood left below the finished back along the shaft. Glue plane,
    head face, head back and heel bottom are sawn to size. Ramps at 45 degrees start outside both transitions; only an
    inclined head back that would come out of the shaft's own back is met by a straight line within its transition.
    """
    head, heel = outside.head, outside.heel
    x0, x1 = head.x_far - ends, heel.x_end + ends
    lowest = head.back(head.x_far)

    # beyond an inclined head the face stops falling half way to the lowest point, or long ends would have no wood
    fall = math.tan(math.radians(head.angle))
    x_level = head.x_far - min(ends, (head.face(head.x_far) - lowest) / 2 / fall if fall > 0 else ends)
    points = [(x0, head.face(x_level)), (x_level, head.face(x_level)), (head.x_line, head.face(head.x_line))]
    points += [(head.x_line, 0.0), (x1, 0.0), (x1, -heel.depth)]
    head_ramp, heel_ramp = shaft_ramps(outside, back_allowance)
    meeting = outside.x_head_stock
    points += [(heel.x_swell, -heel.depth), heel_ramp, head_ramp]
    points += [(meeting, head.back(meeting)), (head.x_far, lowest), (x0, lowest)]
    kept = [p for p, q in zip(points, [*points[1:], points[0]], strict=True) if math.dist(p, q) > SAME]
    straight = [not _in_line(kept[k - 1], p, kept[(k + 1) % len(kept)]) for k, p in enumerate(kept)]
    return tuple(p for p, corner in zip(kept, straight, strict=True) if corner)


SAME = 1e-9  # mm, points nearer to each other are one


def _in_line(before: Point, point: Point, after: Point) -> bool:
    """Whether the point adds no corner."""
    (ax, az), (bx, bz) = (point[0] - before[0], point[1] - before[1]), (after[0] - point[0], after[1] - point[1])
    return abs(ax * bz - az * bx) <= SAME * math.hypot(ax, az) * math.hypot(bx, bz)
