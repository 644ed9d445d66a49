"""Places and sizes of a router's sled: the path of the cutter's tip, rails, carriage, stops. No kernel.

A carriage, on which the router stands, slides along two rails beside the channel. It touches them along two lines only,
at equal distances from the cutter, so its place is exact: on rails of one radius the middle between both lines follows
an arc with the same centre, and so does the cutter's tip below it. Lengths mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from neckmodel.geometry.bounds import zero_of
from neckmodel.geometry.types import Point
from neckmodel.jigs.kinds.routing.opening import APART, FENCE, PIN, cut_range, waste_pins
from neckmodel.layout import Layout
from neckmodel.layout.channel.cutters import LEAST_RAIL, LEAST_TEMPLATE
from neckmodel.layout.workshop.router import RouterSetting, router_settings
from neckmodel.layout.workshop.sled import Sled, floor_circle
from neckmodel.limits import BASE_THICKNESS, BED_MARGIN

# mm; common practice, no source
LEDGE = 16.0  # of a rail: how far it reaches over the glue plane, inward from the blank's side
CARRIAGE = 0.8  # of the router's base: half the carriage's length; the base's rim passes over the stops
FOOT, FOOT_HEIGHT = 8.0, 2.0  # of the carriage: along it; least height under its plate
MOST_PLATE = 10.0  # thickness of its plate
SKIRT, SKIRT_DEEP = 5.0, 5.0  # of its sides outside the rails: across, and down from its feet
STOP = 12.0  # of a rail's end that stands up as a stop, along the rail
UNDER_BASE = 1.0  # by which stops are lower than the router's base
MARK = 3.0  # of a notch at a station: half its width, and how deep it goes
FAR = 1000.0  # mm along a track, beyond any cut
ROUND = 1.4  # radians of a bent track that are searched, to either side: less than a quarter of its circle
ROUNDS = 60  # most rounds of an iteration; each gains at least one digit


@dataclass(frozen=True)
class Track:
    """A line in side view, straight or an arc: x, z of a point on it, its slope there (radians), and its curvature,
    1/mm, positive where the centre lies above."""

    x: float
    z: float
    slope: float
    curvature: float

    def parallel(self, by: float) -> Track:
        """The parallel line at this distance above it, mm, measured square to it."""
        x, z = self.x - by * math.sin(self.slope), self.z + by * math.cos(self.slope)
        return Track(x, z, self.slope, self.curvature / (1 - by * self.curvature))

    def at(self, along: float) -> Pose2:
        """Place and slope at this distance along the line from its point, mm."""
        slope, k = self.slope + self.curvature * along, self.curvature
        if k == 0:
            return Pose2(self.x + along * math.cos(slope), self.z + along * math.sin(slope), slope)
        x = self.x + (math.sin(slope) - math.sin(self.slope)) / k
        return Pose2(x, self.z - (math.cos(slope) - math.cos(self.slope)) / k, slope)

    def height(self, x: float) -> float:
        """z over an x."""
        if self.curvature == 0:
            return self.z + (x - self.x) * math.tan(self.slope)
        sine = math.sin(self.slope) + self.curvature * (x - self.x)
        return self.z - (math.sqrt(1 - sine**2) - math.cos(self.slope)) / self.curvature

    def lowest(self, x_from: float, x_to: float) -> float:
        """The least z between two x."""
        ends = min(self.height(x_from), self.height(x_to))
        if self.curvature <= 0:
            return ends
        bottom = self.x - math.sin(self.slope) / self.curvature
        return self.height(bottom) if x_from < bottom < x_to else ends


@dataclass(frozen=True)
class Pose2:
    """The place of something that moves along a track: its own u runs along the track, v up, square to it."""

    x: float
    z: float
    slope: float

    def point(self, u: float, v: float) -> Point:
        """A point (u, v) of the moving thing as (x, z), mm."""
        cosine, sine = math.cos(self.slope), math.sin(self.slope)
        return self.x + u * cosine - v * sine, self.z + u * sine + v * cosine

    def at_height(self, u: float, z: float) -> float:
        """x at which the line u = constant passes a height."""
        foot = self.point(u, 0.0)
        return foot[0] - (z - foot[1]) * math.tan(self.slope)


@dataclass(frozen=True)
class SledPlan:
    """The sled of one step, lengths mm. bush: diameter of the guide bush. tip: the path of the cutter's tip. first,
    last: the carriage where it meets its stops. x_from, x_to: bounds of the cut. rail: its top. down: of the tip below
    the lines on which the carriage stands. foot: height of the carriage's feet; plate: its thickness; half_length: of
    the carriage; play: how far it can move to either side, which makes the cut as wide as the step. inner, side, outer:
    y of the rail at the treble side."""

    setting: RouterSetting
    sled: Sled
    bush: float
    tip: Track
    first: Pose2
    last: Pose2
    x_from: float
    x_to: float
    rail: Track
    down: float
    foot: float
    plate: float
    half_length: float
    play: float
    inner: float
    side: float
    outer: float
    pins: tuple[Point, ...]
    marks: tuple[tuple[str, float], ...]

    @property
    def name(self) -> str:
        """The name of its pieces: that of its step."""
        return self.setting.step.name

    @property
    def radius(self) -> float:
        """The cutter's radius, mm."""
        return self.setting.cutter / 2

    @property
    def top(self) -> float:
        """Height over the cutter's tip of the carriage's plate, on which the router stands, mm."""
        return self.down + self.foot + self.plate

    @property
    def need(self) -> float:
        """How far the cutter must stick out of the router, mm."""
        return self.top + BASE_THICKNESS

    @property
    def reaches(self) -> bool:
        """Whether the cutter may stick out that far."""
        return self.need <= self.setting.cutting.stick_out + 1e-6

    @property
    def rail_height(self) -> float:
        """The least height of the rails over the glue plane, mm."""
        return self.rail.lowest(*self.x_range)

    @property
    def stop_top(self) -> float:
        """Height of the stops over the cutter's tip where the carriage meets them, mm."""
        return self.top - UNDER_BASE

    @property
    def x_range(self) -> Point:
        """x of the rails' two ends, mm."""
        out = self.half_length + STOP
        return self.first.point(-out, self.stop_top)[0], self.last.point(out, self.stop_top)[0]


def sleds(layout: Layout) -> tuple[SledPlan, ...]:
    """One for each step whose floor is not level, in the order of the steps; the shop must state router base and guide
    bush."""
    bush = layout.design.workshop.guide_bush
    return tuple(
        _sled(layout, s, s.sled, s.base, bush)
        for s in router_settings(layout)
        if s.sled is not None and s.base is not None and bush is not None
    )


def is_made(plan: SledPlan) -> bool:
    """Whether the sled is made: always for a curved floor; for a straight ramp only where the cutter reaches through
    it, for a steep ramp lifts the router by half the carriage's own rise."""
    return plan.tip.curvature != 0 or plan.reaches


def _sled(layout: Layout, setting: RouterSetting, sled: Sled, base: float, bush: float) -> SledPlan:
    shop, step, radius = layout.design.workshop, setting.step, setting.cutter / 2
    tip = tip_track(setting)
    half_length = min(CARRIAGE * base, max(shop.printer.bed[:2]) / 2 - BED_MARGIN)
    x_from, x_to = cut_range(layout, step, radius)
    first, last = _end(tip, radius, x_from, -1), _end(tip, radius, x_to, 1)
    stands = (
        half_length - FOOT if tip.curvature < 0 else half_length
    )  # over a hill the carriage stands on its inner edges
    out = half_length + STOP
    down, rail = LEAST_RAIL + step.depth, tip
    for _ in range(ROUNDS):
        rail = rail_track(tip, down, stands)
        low = rail.lowest(first.point(-out, down)[0], last.point(out, down)[0])
        down += LEAST_RAIL - low
    foot = FOOT_HEIGHT + max(0.0, -rail.curvature) * stands**2 / 2
    spare = setting.cutting.stick_out - BASE_THICKNESS - down - foot
    half = layout.blank_half_width
    inner = max(half - LEDGE, step.width / 2 + abs(step.y) + APART)
    plan = SledPlan(
        setting=setting,
        sled=sled,
        bush=bush,
        tip=tip,
        first=first,
        last=last,
        x_from=x_from,
        x_to=x_to,
        rail=rail,
        down=down,
        foot=foot,
        plate=max(min(MOST_PLATE, math.floor(10 * spare) / 10), LEAST_TEMPLATE),
        half_length=half_length,
        play=(step.width - setting.cutter) / 2,
        inner=inner,
        side=half,
        outer=half + FENCE,
        pins=(),
        marks=(),
    )
    return _with_pins_and_marks(layout, plan)


def tip_track(setting: RouterSetting) -> Track:
    """The path of the cutter's tip with which its flat end cuts the arc through the floor's start, middle and end.

    In a valley the edges of the flat end go deepest, on a radius of `sqrt(R**2 + r**2)`; over a hill its middle does.
    """
    floor = setting.step.floor
    circle, middle = floor_circle(floor), (floor.x_start + floor.x_end) / 2
    if circle is None:
        return Track(middle, -floor.at(middle), math.atan2(floor.start - floor.end, floor.length), 0.0)
    x, z, reach = circle
    if reach > 0:
        reach = math.sqrt(reach**2 - (setting.cutter / 2) ** 2)
    slope = math.asin((middle - x) / reach)
    return Track(x + reach * math.sin(slope), z - reach * math.cos(slope), slope, 1 / reach)


def rail_track(tip: Track, down: float, stands: float) -> Track:
    """The rails' top for a carriage that touches it `stands` mm to both sides of the cutter, its tip `down` mm below.

    The middle between two places on a circle, 2 s apart, follows a circle with the same centre: the rails' radius is
    `sqrt((R - d)**2 + s**2)` in a valley, `sqrt((R + d)**2 + s**2)` over a hill, R the tip's radius.
    """
    if tip.curvature == 0:
        return tip.parallel(down)
    reach = 1 / tip.curvature
    return tip.parallel(reach - math.copysign(math.hypot(reach - down, stands), reach))


def _end(tip: Track, radius: float, x_end: float, way: int) -> Pose2:
    """The carriage's place at which the cutter below the glue plane, which leans as the track does, just does not pass
    x_end."""
    reach = ROUND / abs(tip.curvature) if tip.curvature != 0 else FAR

    def beyond(along: float) -> float:
        pose = tip.at(along)
        return max(way * pose.point(way * radius, 0.0)[0], way * pose.at_height(way * radius, 0.0)) - way * x_end

    return tip.at(zero_of(beyond, -min(reach, FAR), min(reach, FAR)))


def _with_pins_and_marks(layout: Layout, plan: SledPlan) -> SledPlan:
    step, (x0, x1) = plan.setting.step, plan.x_range
    room = (x0 + STOP + PIN, x1 - STOP - PIN)
    pins = waste_pins(layout, room, plan.inner + APART + PIN)
    wanted = ((f"{plan.name} starts", step.x_start), (f"{plan.name} ends", step.x_end))
    marks: list[tuple[str, float]] = []
    for name, x in (*wanted, ("nut", 0.0), ("joint", layout.heel.x_joint)):
        clear = all(abs(x - other) >= 2 * PIN + APART for other in [p for p, _ in pins] + [m for _, m in marks])
        if clear and room[0] <= x <= room[1]:
            marks.append((name, x))
    return replace(plan, pins=pins, marks=tuple(marks))
