"""The rod in its place: which part of it lies where. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from neckmodel.geometry.curve import Curve
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.bounds import Bound
from neckmodel.layout.rod.compression import CoverStrip, Washer

if TYPE_CHECKING:
    from neckmodel.design.tables.rod import AdjusterEnd, Rod, RodKind, RodWay


def in_wood(bounds: Iterable[Bound]) -> tuple[Bound, ...]:
    """The bounds that come from wood, key and frets. Cover by the fretboard, and a wheel clear of it, are reported
    apart."""
    return tuple(bound for bound in bounds if not bound.key.startswith("fretboard."))


def bounds_in_wood(placed: RodPlace | Bar) -> tuple[Bound, Bound]:
    """(the tightest bound toward the nut, the tightest toward the body) of a rod or bar, by wood and the key's reach.
    Its cover by the fretboard is another check; an adjuster's wheel counts only where it leaves no place at all."""
    low, high = (pick(in_wood(b), key=lambda bound: bound.x) for pick, b in ((max, placed.lower), (min, placed.upper)))
    if isinstance(placed, RodPlace) and placed.x_wheel > max(low.x, high.x):
        low = placed.wheel_bound
    return low, high


PARTS = ("rod", "washer", "cover-strip", "adjusting-key")
"""The parts that come with a rod. Of two rods each has its own, its name ending in "-1" or "-2"."""
SEGMENT = "segment"  # before an odd box's number in its name, which its pocket bears too


class Box(StrEnum):
    """A box of the rod: next to the adjuster, the longest, and at the other end. Odd ones are "segment-2" and so on."""

    BLOCK = "block"
    SPAN = "span"
    ANCHOR = "anchor"


@dataclass(frozen=True)
class Segment:
    """A stretch of the rod with one width and height, mm; top: how far its upper face lies below the rod's top.

    name: "block" next to the adjuster, "anchor" at the other end, "span" or "segment-2", ... between them.
    """

    name: str
    x_start: float
    x_end: float
    width: float
    height: float
    top: float = 0.0


def together(rods: Sequence[RodPlace]) -> RodPlace | None:
    """The rod with the bounds of every one of two that start at the same x; the rod itself where there is one."""
    if len(rods) < 2:
        return next(iter(rods), None)
    return replace(
        rods[0],
        lower=tuple(bound for rod in rods for bound in rod.lower),
        upper=tuple(bound for rod in rods for bound in rod.upper),
        x_span=min(rod.x_span for rod in rods),
        x_cover=min(rod.x_cover for rod in rods),
        x_well_covered=min(rod.x_well_covered for rod in rods),
        x_wheel=max(rod.x_wheel for rod in rods),
        fitting_from=max(rod.fitting_from for rod in rods),
        fitting_to=min(rod.fitting_to for rod in rods),
        fitting_to_well_covered=min(rod.fitting_to_well_covered for rod in rods),
    )


@dataclass(frozen=True)
class RodPlace:
    """A rod in its place, lengths mm. table: what the design file states of it, which says nothing of its place.
    x_adjuster: the adjuster's outer face, backed right off.

    lower, upper: every bound on x_start, the rod's nut-side end. The rod may lie from the largest lower to the smallest
    upper bound, and fits nowhere when `x_min > x_max`. x_span: with x_start beyond it the adjuster's block lies past
    fret 1 (a warning); for an adjuster at the heel it is a bound. x_cover: with x_start beyond it the channel comes out
    from under the fretboard. x_well_covered: beyond it less than limits.cover_run of fretboard is left.

    fitting_from, fitting_to: over-all lengths of rods that would fit, a wheel clear of the fretboard. The least length
    reaches the farthest place that the key can reach (or `x_span`, where only a key's own length bounds it).
    fitting_to_well_covered: up to there with limits.cover_run of fretboard past the channel. axis: depth of the
    adjuster's axis below z = 0 at its outer face.

    segments: the rod's boxes in the order of x. at_heel: the adjuster lies at the heel. wheel: width of the adjuster's
    wheel, 0 for no wheel; collar: diameter of the rest of such an adjuster. holes: of a spoke wheel, 0 for a hexagon
    socket. x_wheel: least x_start with which a wheel that stands above the glue plane lies wholly beyond the fretboard.

    below: how far the rod's top lies under the glue plane, negative where it is proud. lift: how far the rod sits above
    its planned place, on a floor cut too shallow.

    y: of its axis. number: 1 or 2 of two rods, the bass side first; 0 of one alone.

    A compression rod has a round bar of this diameter along `curve`, and a washer and a cover strip where stated. Its
    anchor's `top` counts from the planned `below`.
    """

    table: Rod = field(compare=False, repr=False)
    x_adjuster: float
    stated: bool
    length: float
    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]
    x_span: float
    fitting_from: float
    fitting_to: float
    axis: float
    adjuster_diameter: float
    adjuster_length: float
    socket_size: float
    socket_depth: float
    segments: tuple[Segment, ...]
    x_cover: float = math.inf
    x_well_covered: float = math.inf
    fitting_to_well_covered: float = math.inf
    x_joint: float = 0.0
    kind: RodKind = "two-way"
    at_heel: bool = False
    wheel: float = 0.0
    collar: float = 0.0
    holes: int = 0
    x_wheel: float = -math.inf
    diameter: float = 0.0
    curve: Curve | None = None
    washer: Washer | None = None
    strip: CoverStrip | None = None
    below: float = 0.0
    lift: float = 0.0
    y: float = 0.0
    number: int = 0

    @property
    def suffix(self) -> str:
        """Behind the names of its parts, steps and findings: "-1" or "-2" of two rods, nothing of one."""
        return f"-{self.number}" if self.number else ""

    @property
    def bar(self) -> RodWay | None:
        """Which way a two-way rod's flat bar lies; None where the design does not say."""
        return self.table.bar

    @property
    def x_min(self) -> float:
        """Least x of the rod's nut-side end, mm."""
        return max(bound.x for bound in self.lower)

    @property
    def x_max(self) -> float:
        """Largest x of the rod's nut-side end, mm."""
        return min(bound.x for bound in self.upper)

    @property
    def wheel_bound(self) -> Bound:
        """The bound by which a wheel that stands above the glue plane lies wholly beyond the fretboard's end."""
        return Bound("the wheel clear of the fretboard", self.x_wheel, "fretboard.ends_at", shifts=True)

    @property
    def adjuster_at(self) -> AdjusterEnd:
        """The end of the neck at which the adjuster lies."""
        return "heel" if self.at_heel else "head"

    @property
    def outward(self) -> int:
        """The direction along x in which the adjuster faces: -1 at the head, 1 at the heel."""
        return 1 if self.at_heel else -1

    @property
    def x_start(self) -> float:
        """x of the rod's nut-side end, mm."""
        return self.x_adjuster - self.length if self.at_heel else self.x_adjuster

    @property
    def x_end(self) -> float:
        """x of the rod's body-side end, mm."""
        return self.x_start + self.length

    @property
    def x_anchor_end(self) -> float:
        """x of the anchor's outer face, at the end away from the adjuster, mm."""
        return self.x_adjuster - self.outward * self.length

    @property
    def x_block(self) -> float:
        """x at which the adjuster ends and its block or washer begins, mm."""
        return self.x_adjuster - self.outward * self.adjuster_length

    @property
    def x_past_joint(self) -> float:
        """x of the outer face of the part that holds the rod beyond the joint, mm: the anchor, or the block of an
        adjuster at the heel."""
        return self.x_block if self.at_heel else self.x_anchor_end

    @property
    def proud(self) -> float:
        """How far the adjuster stands above the glue plane, mm; negative below it."""
        return self.adjuster_diameter / 2 - self.axis

    @property
    def tilt(self) -> float:
        """Degrees by which a bent rod's adjuster points upward on its way out; 0 for a straight rod."""
        return math.degrees(math.atan2(self.axis_at(self.x_block) - self.axis, self.adjuster_length))

    def axis_at(self, x: float) -> float:
        """Depth of the adjuster's axis, and of a compression rod's, below z = 0 at x."""
        return self.axis if self.curve is None else self.curve.at(x)

    def segment(self, name: str) -> Segment:
        """The segment of this name, which the rod must have."""
        return next(s for s in self.segments if s.name == name)
