"""The adjusting key's envelope, engaged in its socket. Lengths mm.

Each is made with its end at the origin and its way out along -x, then put where it belongs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.errors import KernelError
from neckmodel.geometry.types import Point, Point3
from neckmodel.layout.access.place import ball_waist
from neckmodel.layout.key.key import KeyPlace
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import fuse, solid_bytes
from neckmodel.solids.kernel.shapes import arc_edge, line_edge, wire
from neckmodel.solids.kernel.turned import at_adjuster, hexagon, pipe, prism_along_x, rod_of, section_area

# isort: split
import cadquery as cq

WAIST = 0.3  # of a ball-end key's size: the radius of its waist; common practice, no source
FREE = 0.02  # mm between a tilted waist and the socket's rim
BEYOND = 0.5  # mm outside the socket at which a ball-end key's full section begins
ORIGIN = (0.0, 0.0, 0.0)


@remembered(solid_bytes)
def key_solid(key: KeyPlace, bend_radius: float) -> cq.Solid:
    """The key engaged, a flat up. A handle lies beyond its length; an L-key has its arm up, or hanging where it
    enters through the soundhole; a bar stands upright in its wheel.

    bend_radius: inner radius of an L-key's bend, mm; 0 makes a mitre. Both arms are measured to the outside of the
    bend.
    """
    section = hexagon(key.size, key.corners)
    if key.kind == "bar":
        solid = _bar(key)
    elif key.kind == "ball-end":
        solid = _with_handle(key, _ball_end(key, section), (-key.length, 0.0, 0.0), (-1.0, 0.0, 0.0), None)
    elif math.isinf(key.arm):
        shank, size = prism_along_x(section, -key.length, 0.0, "adjusting key"), section_area(section) * key.length
        solid = _with_handle(key, shank, (-key.length, 0.0, 0.0), (-1.0, 0.0, 0.0), size)
    else:
        solid = _bent(key, section, bend_radius)
        solid = solid.rotate(cq.Vector(0, 0, 0), cq.Vector(1, 0, 0), 180.0) if key.hangs else solid
    return at_adjuster(solid, (key.x_tip, 0.0, -key.axis), key.outward, key.tilt, "adjusting key in its place")


def _with_handle(key: KeyPlace, shank: cq.Solid, end: Point3, away: Point3, size: float | None) -> cq.Solid:
    """The shank with its handle from `end` on; size: the shank's volume, mm3, None where no closed form gives it."""
    if key.handle_diameter <= 0 or key.handle_length <= 0:
        return shank
    far = (end[0] + key.handle_length * away[0], 0.0, end[2] + key.handle_length * away[2])
    handle = rod_of(end, far, key.handle_diameter, "key's handle")
    whole = None if size is None else size + math.pi / 4 * key.handle_diameter**2 * key.handle_length
    return fuse(shank, [handle], "adjusting key", whole)


def _ball_end(key: KeyPlace, section: Sequence[Point]) -> cq.Solid:
    """A ball as wide as the flats, a waist that clears the socket's rim when tilted, and the full section outside the
    socket."""
    radius, inside = key.size / 2, max(key.engaged - key.size / 2, 0.0)
    turn = math.radians(key.tilt)
    waist = min(WAIST * key.size, ball_waist(key.size, key.engaged, key.tilt) - FREE)
    start = -radius - max((inside + key.corners / 2 * math.sin(turn)) / math.cos(turn), radius) - BEYOND
    if start <= -key.length or waist <= 0:
        raise KernelError("adjusting key", "the key has no length outside its socket", length=key.length)
    ball = cq.Solid.makeSphere(radius, cq.Vector(-radius, 0.0, 0.0), angleDegrees1=-90, angleDegrees2=90)
    neck = rod_of((-radius, 0.0, 0.0), (start, 0.0, 0.0), 2 * waist, "key's waist")
    return fuse(ball, [neck, prism_along_x(section, -key.length, start, "adjusting key")], "ball-end key")


def _bar(key: KeyPlace) -> cq.Solid:
    end = (0.0, 0.0, key.tip_radius + key.length)
    shank = rod_of((0.0, 0.0, key.tip_radius), end, key.size, "bar")
    return _with_handle(key, shank, end, (0.0, 0.0, 1.0), math.pi / 4 * key.size**2 * key.length)


def _bent(key: KeyPlace, section: Sequence[Point], bend_radius: float) -> cq.Solid:
    x_up, z_top = -key.arm + key.size / 2, -key.size / 2 + key.rise
    turn = bend_radius + key.size / 2 if bend_radius > 0 else 0.0  # of the middle line
    level, upright = -x_up - turn, z_top - turn
    if level <= 0 or upright <= 0:
        raise KernelError("adjusting key", "the bend leaves no straight arm", bend_radius=bend_radius, arm=key.arm)
    before, after = (x_up + turn, 0.0, 0.0), (x_up, 0.0, turn)
    half = turn * (1 - math.sqrt(0.5))
    bend = [arc_edge(before, (x_up + half, 0.0, half), after)] if turn else []
    spine = wire([line_edge(ORIGIN, before), *bend, line_edge(after, (x_up, 0.0, z_top))])
    corners = [(0.0, y, z) for y, z in section]
    outline = wire([line_edge(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])
    size = section_area(section) * (level + upright + math.pi / 2 * turn)
    return pipe(outline, spine, size, "adjusting key")
