"""The parts that only a compression rod has: the bent round bar, the washer, the cover strip. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

from neckmodel.geometry.curve import Curve
from neckmodel.geometry.types import Point3
from neckmodel.layout.rod.compression import CoverStrip, Washer
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import common, cut, gate, solid_bytes
from neckmodel.solids.kernel.shapes import bezier_edge, line_edge, sideways_over
from neckmodel.solids.kernel.turned import arched, box, rod_of

# isort: split
import cadquery as cq

PAST = 1.0  # mm that a solid runs out past where it is cut off
BENT = 1e-4  # relative, of the volume of a round bar along a curve
STRAIGHT = 0.005  # mm of sag, below which a bar is made straight
WIDE = 60.0  # mm, more than any rod is wide or deep


def slab(x0: float, x1: float) -> cq.Solid:
    """All space between two planes square to x, as far as any rod goes."""
    return box(x0, x1, (-WIDE, WIDE), -WIDE, WIDE, "slab")


def poles(floor: Curve, y: float) -> list[Point3]:
    """Poles of the Bezier curve that is exactly this floor or axis, in the plane of y."""
    ends: list[Point3] = [(floor.x_start, y, -floor.start), (floor.x_end, y, -floor.end)]
    if floor.middle is not None:
        middle = (floor.start + floor.end) / 2 - 2 * floor.middle
        ends.insert(1, ((floor.x_start + floor.x_end) / 2, y, middle))
    return ends


def floor_edge(floor: Curve, y: float) -> Any:
    """The floor or axis as an edge in the plane of y; a straight line where it is straight, so that a sloping floor
    becomes a plane."""
    ends = poles(floor, y)
    return line_edge(*ends) if len(ends) == 2 else bezier_edge(ends)


def bent_bar(axis: Curve, diameter: float) -> cq.Solid:
    """The round bar along the axis, its ends square to x: an arc through both ends and the middle of the parabola.

    The arc differs from the parabola by at most `arc_difference`, and gives a plain surface.
    """
    longer = axis.between(axis.x_start - PAST, axis.x_end + PAST)
    middle = (longer.x_start + longer.x_end) / 2
    start, through, end = ((x, 0.0, -longer.at(x)) for x in (longer.x_start, middle, longer.x_end))
    if abs(longer.sag) < STRAIGHT:
        bar = rod_of(start, end, diameter, "rod's bar")
    else:
        bar = arched(start, through, end, diameter, "rod's bar")
    return common(
        bar, [slab(axis.x_start, axis.x_end)], "rod's bar", math.pi / 4 * diameter**2 * axis.arc_length(), BENT
    )


def washer_solid(washer: Washer) -> cq.Solid:
    """A flat ring, upright."""
    ends = [(x, 0.0, -washer.axis) for x in (washer.x_start, washer.x_end)]
    disc = rod_of(ends[0], ends[1], washer.diameter, "washer")
    through = [(ends[0][0] - PAST, *ends[0][1:]), (ends[1][0] + PAST, *ends[1][1:])]
    hole = rod_of(through[0], through[1], washer.hole, "washer's hole")
    area = math.pi / 4 * (washer.diameter**2 - washer.hole**2)
    return cut(disc, [hole], "washer", area * (washer.x_end - washer.x_start))


@remembered(solid_bytes)
def strip_solid(strip: CoverStrip) -> cq.Solid:
    """The cover strip, level with the glue plane. Its underside follows the rod as far down as the strip is thick."""
    half, under = strip.width / 2, strip.underside
    least, most = under.extremes()
    stock = box(strip.x_start, strip.x_end, (-half, half), -strip.thickness, 0.0, "stock of the cover strip")
    if strip.thickness <= least:
        return stock
    fitted = sideways_over(floor_edge(under, -half), -half, half, 0.0, "cover strip")
    if strip.thickness >= most:
        return gate(fitted, "cover strip", strip.width * under.length * under.mean())
    return common(fitted, [stock], "cover strip")
