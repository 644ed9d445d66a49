"""A compression rod: its bent axis, its washer, and the strip glued over it. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.curve import Curve
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design, Rod
    from neckmodel.design.tables.rod import Bent

# Common practice, no source. mm
HOLE_OVER_ROD = 0.4  # of a washer over the rod that goes through it
LEAST_OVER = 0.5  # of an adjuster over the rod that it is screwed on
LEAST_RIM = 1.0  # of a washer round its hole
LEAST_STRIP = 0.5  # of a cover strip that can still be made
LEAST_LENGTH = 10.0  # of round rod between washer and anchor
MOST_SLOPE = 0.15  # of the axis against the glue plane; no rod is laid steeper


@dataclass(frozen=True)
class Washer:
    """The washer under the adjuster, from x_start to x_end, its middle `axis` below z = 0; diameters."""

    x_start: float
    x_end: float
    axis: float
    diameter: float
    hole: float


@dataclass(frozen=True)
class CoverStrip:
    """The strip glued into the channel over the rod, level with the glue plane, its underside fitted to the rod's top.

    underside: its depth below z = 0, mm. thickness: of the stock that it is made from; with less thickness than
    `underside` the strip does not reach down to the rod.
    """

    x_start: float
    x_end: float
    width: float
    underside: Curve
    thickness: float
    wood: str


def bent_axis(design: Design, rod: Rod, bent: Bent, x_start: float) -> Curve:
    """Depth of the axis below z = 0 over the rod's whole length, from its nut-side end. Raises DesignError where no rod
    can lie so."""
    if rod.adjuster.diameter < bent.diameter + LEAST_OVER:
        allowed = f"at least {no_less(bent.diameter + LEAST_OVER)}"
        raise design.problem("rod.adjuster.diameter", "is not wider than the rod it is screwed on", allowed)
    ends = (bent.axis_depth.adjuster, bent.axis_depth.anchor)
    start, end = ends[::-1] if rod.at_heel else ends
    curve = Curve(x_start, x_start + rod.length, start, end, bent.axis_depth.middle)
    steepest = max(abs(curve.slope(curve.x_start)), abs(curve.slope(curve.x_end)))
    if steepest > MOST_SLOPE:
        says = f"bends the rod to a slope of {steepest:.2f} at an end, more than {MOST_SLOPE:g}"
        mean, room = (start + end) / 2, (MOST_SLOPE * rod.length - abs(end - start)) / 4
        allowed = f"{mean - room:.2f} to {mean + room:.2f} mm" if room > 0 else ""
        raise design.problem("rod.axis_depth.middle", says, allowed, "" if allowed else "ends of more equal depth")
    least, need = curve.extremes()[0], bent.diameter / 2 + (LEAST_STRIP if rod.cover_strip is not None else 0.0)
    if least < need:
        name = min(("adjuster", "middle", "anchor"), key=lambda word: float(getattr(bent.axis_depth, word)))
        what = "room for a cover strip" if rod.cover_strip is not None else "the rod below the glue plane"
        says = f"does not leave {what}: the axis comes within {least:.2f} mm of it"
        raise design.problem(f"rod.axis_depth.{name}", says, f"at least {no_less(need)}")
    return curve


def place_washer(
    design: Design, rod: Rod, diameter: float, curve: Curve, x_block: float, outward: int
) -> Washer | None:
    """The washer at the adjuster's inner face; None where none is stated. Its hole lets the sloping rod through.
    diameter: of the rod, mm."""
    if rod.washer is None:
        return None
    x0, x1 = sorted((x_block, x_block - outward * rod.washer.thickness))
    slope = abs(curve.slope((x0 + x1) / 2))
    hole = diameter * math.hypot(1.0, slope) + rod.washer.thickness * slope + HOLE_OVER_ROD
    if rod.washer.diameter < hole + 2 * LEAST_RIM:
        least = f"at least {no_less(hole + 2 * LEAST_RIM)}"
        raise design.problem("rod.washer.diameter", "is hardly wider than the rod that goes through it", least)
    return Washer(x0, x1, curve.at((x0 + x1) / 2), rod.washer.diameter, hole)


def place_strip(
    design: Design, rod: Rod, diameter: float, curve: Curve, x_start: float, x_end: float
) -> CoverStrip | None:
    """The strip between washer and anchor, as wide as the run; None where none is stated. diameter: of the rod,
    mm."""
    if x_end - x_start < LEAST_LENGTH:
        least = rod.length + LEAST_LENGTH - (x_end - x_start)
        says = "leaves hardly any rod between its washer and its anchor"
        raise design.problem("rod.length", says, f"at least {no_less(least)}")
    if rod.cover_strip is None:
        return None
    axis = curve.between(x_start, x_end)
    steepest = max(abs(axis.slope(x_start)), abs(axis.slope(x_end)))
    top = axis.raised(diameter / 2 * math.hypot(1.0, steepest))  # a sloping rod is that much higher upright
    width = diameter + design.channel.wider_by
    return CoverStrip(x_start, x_end, width, top, rod.cover_strip.thickness, rod.cover_strip.wood)
