"""The rod's envelope: its adjuster with the socket, and its boxes or its bent round bar. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.design.rules.rod import SOCKET_PLAY
from neckmodel.errors import KernelError
from neckmodel.layout.rod.rod import RodPlace, Segment
from neckmodel.memory.remembered import remembered
from neckmodel.solids.hardware.compression import bent_bar, slab
from neckmodel.solids.kernel.gate import common, cut, fuse, solid_bytes, volume
from neckmodel.solids.kernel.turned import at_adjuster, box, hexagon, prism_along_x, rod_of, section_area, turned

# isort: split
import cadquery as cq

PAST = 1.0  # mm that a cutting solid runs out past what it cuts
BENT = 1e-5  # relative, of the volume of a round bar along a curve


@remembered(solid_bytes)
def rod_solid(rod: RodPlace, top_depth: float) -> cq.Solid:
    """The rod as one solid, its adjuster backed right off. top_depth: how far the rod's top lies below z = 0, mm.

    A hexagon socket is open at the adjuster's outer face, a flat up, and wider than its nominal size by SOCKET_PLAY. Of
    a spoke wheel's holes only the upright one is made, which takes the bar.
    """
    adjuster = _adjuster(rod)
    whole, others = volume(adjuster), []
    for s in _merged(rod.segments):
        top = -(top_depth + s.top)
        others.append(box(s.x_start, s.x_end, (-s.width / 2, s.width / 2), top - s.height, top, f"rod's {s.name}"))
        whole += (s.x_end - s.x_start) * s.width * s.height
    if rod.curve is None:
        return fuse(adjuster, others, "rod", whole)
    anchor = next(iter(rod.segments), None)
    far = rod.x_anchor_end if anchor is None else anchor.x_start if not rod.at_heel else anchor.x_end
    x0, x1 = sorted((rod.x_block, far))
    bar = bent_bar(rod.curve.between(x0, x1), rod.diameter)
    return fuse(adjuster, [bar, *others], "rod", whole + volume(bar), BENT)


def _adjuster(rod: RodPlace) -> cq.Solid:
    """The adjuster on its own axis, which a bent rod tilts; its ends are square to x."""
    length, tilt, radius = rod.adjuster_length, math.radians(rod.tilt), rod.adjuster_diameter / 2
    ahead = PAST + radius * abs(math.tan(tilt)) if tilt else 0.0  # cut off square to x further down
    long = length / math.cos(tilt)
    profile = [(-ahead, radius), (long + ahead, radius)]
    size = math.pi * radius**2 * long
    if 0 < rod.wheel < length:
        collar = rod.collar / 2
        profile = [(-ahead, radius), (rod.wheel, radius), (rod.wheel, collar), (long + ahead, collar)]
        size = math.pi * (radius**2 * rod.wheel + collar**2 * (long - rod.wheel))
    solid = turned((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), profile, "adjuster")
    at = (rod.x_adjuster, 0.0, -rod.axis)
    if rod.holes:
        hole = (rod.socket_size + SOCKET_PLAY) / 2
        bottom, middle = radius - rod.socket_depth, rod.wheel / 2
        if hole >= middle:
            raise KernelError("rod", "the holes are wider than the wheel", hole=2 * hole, wheel=rod.wheel)
        drill = rod_of((middle, 0.0, bottom), (middle, 0.0, radius + PAST), 2 * hole, "hole in the wheel")
        solid, size = cut(solid, [drill], "drilling the wheel"), 0.0
    else:
        flats, depth = rod.socket_size + SOCKET_PLAY, min(rod.socket_depth, length)
        if flats / math.sqrt(3) >= radius:
            raise KernelError("rod", "the socket is wider than the adjuster", socket=flats, adjuster=2 * radius)
        socket = prism_along_x(hexagon(flats), -PAST - ahead, depth, "socket")
        solid = cut(solid, [socket], "cutting the socket")
        through = depth + flats * abs(math.tan(tilt)) > length  # it meets the sloping inner end: no closed form
        size = 0.0 if through else size - section_area(hexagon(flats)) * depth
    solid = at_adjuster(solid, at, rod.outward, rod.tilt, "adjuster in its place")
    if tilt:
        between = slab(*sorted((rod.x_adjuster, rod.x_block)))
        solid = common(solid, [between], "adjuster's ends", size or None, BENT)
    return solid


def _merged(segments: Sequence[Segment]) -> list[Segment]:
    """The segments, neighbours of one section joined, so that no seam stays between them; those without length left
    out."""
    joined: list[Segment] = []
    for s in segments:
        last = joined[-1] if joined else None
        if s.x_end <= s.x_start:
            continue
        if last and (last.width, last.height, last.top, last.x_end) == (s.width, s.height, s.top, s.x_start):
            joined[-1] = Segment(last.name, last.x_start, s.x_end, s.width, s.height, s.top)
        else:
            joined.append(s)
    return joined
