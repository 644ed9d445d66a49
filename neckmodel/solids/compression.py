"""What a compression rod has beside its adjuster: the bent round bar, the washer, the cover strip. Lengths mm."""

from __future__ import annotations

import math

from neckmodel.layout.compression import CoverStrip, Washer
from neckmodel.layout.curve import Curve
from neckmodel.solids.kernel import common, cut, gate
from neckmodel.solids.rounds import box, pipe, rod_of
from neckmodel.solids.shapes import Point3, bezier_edge, sideways_over, wire

# isort: split
import cadquery as cq

PAST = 1.0  # mm that a solid runs out past where it is cut off
BENT = 1e-5  # relative, of the volume of a round bar along a curve
WIDE = 60.0  # mm, more than any rod is wide or deep


def slab(x0: float, x1: float) -> cq.Solid:
    """All space between two planes square to x, as far as any rod goes."""
    return box(x0, x1, (-WIDE, WIDE), -WIDE, WIDE, "slab")


def poles(floor: Curve, y: float) -> list[Point3]:
    """Poles of the Bezier curve that is this law exactly, in the plane of y."""
    ends: list[Point3] = [(floor.x_start, y, -floor.start), (floor.x_end, y, -floor.end)]
    if floor.middle is not None:
        middle = (floor.start + floor.end) / 2 - 2 * floor.middle
        ends.insert(1, ((floor.x_start + floor.x_end) / 2, y, middle))
    return ends


def bent_bar(axis: Curve, diameter: float) -> cq.Solid:
    """The round bar along the axis, its ends square to x; its volume is the circle's area times the axis's length."""
    longer = axis.between(axis.x_start - PAST, axis.x_end + PAST)
    spine = poles(longer, 0.0)
    slope = longer.slope(longer.x_start)
    circle = cq.Wire.makeCircle(diameter / 2, cq.Vector(*spine[0]), cq.Vector(1.0, 0.0, -slope)).wrapped
    area = math.pi / 4 * diameter**2
    bar = pipe(circle, wire([bezier_edge(spine)]), area * longer.arc_length(), "rod's bar", BENT)
    return common(bar, [slab(axis.x_start, axis.x_end)], "rod's bar", area * axis.arc_length(), BENT)


def washer_solid(washer: Washer) -> cq.Solid:
    """A flat ring, upright."""
    ends = [(x, 0.0, -washer.axis) for x in (washer.x_start, washer.x_end)]
    disc = rod_of(ends[0], ends[1], washer.diameter, "washer")
    through = [(ends[0][0] - PAST, *ends[0][1:]), (ends[1][0] + PAST, *ends[1][1:])]
    hole = rod_of(through[0], through[1], washer.hole, "washer's hole")
    area = math.pi / 4 * (washer.diameter**2 - washer.hole**2)
    return cut(disc, [hole], "washer", area * (washer.x_end - washer.x_start))


def strip_solid(strip: CoverStrip) -> cq.Solid:
    """Level with the glue plane; its underside follows the rod as far as its thickness reaches."""
    half, under = strip.width / 2, strip.underside
    least, most = under.extremes()
    stock = box(strip.x_start, strip.x_end, (-half, half), -strip.thickness, 0.0, "stock of the cover strip")
    if strip.thickness <= least:
        return stock
    fitted = sideways_over(bezier_edge(poles(under, -half)), -half, half, 0.0, "cover strip")
    if strip.thickness >= most:
        return gate(fitted, "cover strip", strip.width * under.length * under.mean())
    return common(fitted, [stock], "cover strip")
