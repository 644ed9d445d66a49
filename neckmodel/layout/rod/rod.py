"""The rod in its place: what of it lies where. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from neckmodel.geometry.curve import Curve
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.bounds import Bound
from neckmodel.layout.rod.compression import CoverStrip, Washer


def in_wood(bounds: Iterable[Bound]) -> tuple[Bound, ...]:
    """Those of wood, key and frets: how far the fretboard covers a channel, or is clear of a wheel, is told apart."""
    return tuple(bound for bound in bounds if not bound.key.startswith("fretboard."))


def bounds_in_wood(placed: RodPlace | Bar) -> tuple[Bound, Bound]:
    """(the tightest bound toward the nut, toward the body) of a rod or bar in wood and within the key's reach. Its
    cover by the fretboard is another matter; the wheel of an adjuster only where it leaves no place at all."""
    low, high = (pick(in_wood(b), key=lambda bound: bound.x) for pick, b in ((max, placed.lower), (min, placed.upper)))
    if isinstance(placed, RodPlace) and placed.x_wheel > max(low.x, high.x):
        low = placed.wheel_bound
    return low, high


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


@dataclass(frozen=True)
class RodPlace:
    """A rod in its place. x_adjuster: the adjuster's outer face, backed right off, mm.

    lower, upper: every bound on x_start, the rod's nut-side end; the interval runs from the largest lower to the
    smallest upper one. The rod fits nowhere when `x_min > x_max`. `x_span`: beyond it the adjuster's block would lie
    past fret 1 (a warning; at the heel the rod's nut-side end, which is a bound); `x_cover`: beyond it the channel
    comes out from under the fretboard, `x_well_covered`: beyond it less than limits.cover_run of fretboard is left.
    fitting_from, fitting_to: over-all lengths of rods that would fit: at least from the farthest place the key can
    reach (where only its own length bounds a key, from `x_span`), with the wheel of an adjuster clear of the fretboard;
    fitting_to_well_covered: up to there with limits.cover_run of fretboard past the channel. axis: depth of the
    adjuster's axis below z = 0 at its outer face.
    segments: the rod's boxes in the order of x. at_heel: the adjuster lies at the heel. wheel: width of the adjuster's
    wheel, 0 if it is no wheel; collar: diameter of the rest of such an adjuster. holes: of a spoke wheel, 0 for a
    hexagon socket. x_wheel: least x_start at which a wheel that stands above the glue plane lies wholly beyond the
    fretboard.
    below: how far the rod's top lies under the glue plane, negative where it is proud; lift: how far the rod lies above
    its planned place on a floor that was cut too high.
    A compression rod has a round bar of this diameter along `curve`, a washer, and a cover strip, as far as stated; its
    anchor's `top` counts from the planned `below`.
    """

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
    kind: str = "two-way"
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

    @property
    def x_min(self) -> float:
        """Least x of the rod's nut-side end."""
        return max(bound.x for bound in self.lower)

    @property
    def x_max(self) -> float:
        return min(bound.x for bound in self.upper)

    @property
    def wheel_bound(self) -> Bound:
        """A wheel that stands above the glue plane lies wholly beyond the fretboard's end."""
        return Bound("the wheel clear of the fretboard", self.x_wheel, "fretboard.ends_at", shifts=True)

    @property
    def outward(self) -> int:
        """Which way along x the adjuster looks: -1 at the head, 1 at the heel."""
        return 1 if self.at_heel else -1

    @property
    def x_start(self) -> float:
        """The rod's nut-side end."""
        return self.x_adjuster - self.length if self.at_heel else self.x_adjuster

    @property
    def x_end(self) -> float:
        """The rod's body-side end."""
        return self.x_start + self.length

    @property
    def x_anchor_end(self) -> float:
        """The anchor's outer face, at the other end than the adjuster."""
        return self.x_adjuster - self.outward * self.length

    @property
    def x_block(self) -> float:
        """Where the adjuster ends and its block, or washer, begins."""
        return self.x_adjuster - self.outward * self.adjuster_length

    @property
    def x_past_joint(self) -> float:
        """The outer face of what holds the rod beyond the joint: the anchor, or at the heel the adjuster's block."""
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
        return next(s for s in self.segments if s.name == name)
