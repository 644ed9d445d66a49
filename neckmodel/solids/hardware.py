"""Envelopes of what is put into the neck: nut, rod, adjusting key, bars, screws, tuners, strings. Lengths mm.

No threads, no knurls: plain solids that hold the real thing, for checks and for the eye.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.design.rod_rules import SOCKET_PLAY
from neckmodel.errors import KernelError
from neckmodel.layout import Layout
from neckmodel.layout.channel import BAR_FIT
from neckmodel.layout.frets import Frets
from neckmodel.layout.hardware import HOUSING_HEIGHT, POST_HEIGHT, POST_OF_HOLE, KeyPlace, NutPlace, Screw, TunerPlace
from neckmodel.layout.rod import Bar, RodPlace, Segment
from neckmodel.layout.strings import StringLine
from neckmodel.solids.colours import colour_of
from neckmodel.solids.kernel import cut, fuse, gate
from neckmodel.solids.parts import Part
from neckmodel.solids.paths import PlanPath, polygon
from neckmodel.solids.rounds import hexagon, pipe, rod_of, turned
from neckmodel.solids.shapes import Point3, arc_edge, line_edge, polygon_face, sideways, swept, upright, wire

# isort: split
import cadquery as cq

PAST = 1.0  # mm that a cutting solid runs out past what it cuts


def hardware_parts(layout: Layout) -> tuple[Part, ...]:
    """Every envelope of a layout, in the order nut, rod, adjusting-key, bars, screws, tuners."""
    design = layout.design
    solids = [("nut", nut_solid(layout.nut))]
    if layout.rod is not None:
        solids.append(("rod", rod_solid(layout.rod, design.channel.deeper_by)))
    if layout.key is not None and design.adjusting_key is not None:
        solids.append(("adjusting-key", key_solid(layout.key, design.adjusting_key.bend_radius)))
    solids += [(bar.name, bar_solid(bar)) for bar in layout.bars]
    solids += [(screw.name, screw_solid(screw)) for screw in layout.screws]
    solids += [(tuner.name, tuner_solid(tuner)) for tuner in layout.tuners]
    return tuple(_part(name, solid) for name, solid in solids)


def nut_solid(nut: NutPlace) -> cq.Solid:
    """A plain block on the nut's seat, slanted as the nut's line is."""
    return upright(polygon(list(nut.corners)), nut.z_seat, nut.z_seat + nut.height, "nut")


def rod_solid(rod: RodPlace, top_depth: float) -> cq.Solid:
    """The rod with its adjuster backed right off, one solid. top_depth: how far the rod's top lies below z = 0.

    The hexagon socket is open at the adjuster's outer face, a flat up, wider than its nominal size by SOCKET_PLAY.
    """
    centre = (rod.x_adjuster, 0.0, -rod.axis)
    size, depth = rod.socket_size + SOCKET_PLAY, min(rod.socket_depth, rod.adjuster_length)
    if size / math.sqrt(3) >= rod.adjuster_diameter / 2:
        raise KernelError("rod", "the socket is wider than the adjuster", socket=size, adjuster=rod.adjuster_diameter)
    round_bar = rod_of(centre, (rod.x_block, 0.0, -rod.axis), rod.adjuster_diameter, "adjuster")
    socket = _prism(hexagon(size), rod.x_adjuster - PAST, rod.x_adjuster + depth, rod.axis)
    in_metal = _area(hexagon(size)) * depth
    volume = math.pi / 4 * rod.adjuster_diameter**2 * rod.adjuster_length - in_metal
    adjuster = cut(round_bar, [socket], "cutting the socket", volume)
    boxes = []
    for s in _merged(rod.segments):
        top = -(top_depth + s.top)
        boxes.append(_box(s.x_start, s.x_end, (-s.width / 2, s.width / 2), top - s.height, top, f"rod's {s.name}"))
        volume += (s.x_end - s.x_start) * s.width * s.height
    return fuse(adjuster, boxes, "rod", volume)


def key_solid(key: KeyPlace, bend_radius: float) -> cq.Solid:
    """The key engaged, a flat up. A straight one lies along x, its handle beyond its length; an L-key rises.

    bend_radius: inner radius of an L-key's bend; 0 makes a mitre. Both arms are measured to the outside of the bend.
    """
    section = hexagon(key.size, key.corners)
    if math.isinf(key.arm):
        x_end = key.x_tip - key.length
        shank = _prism(section, x_end, key.x_tip, key.axis)
        if key.handle_diameter <= 0 or key.handle_length <= 0:
            return gate(shank, "adjusting key", _area(section) * key.length)
        centres = [(x, 0.0, -key.axis) for x in (x_end - key.handle_length, x_end)]
        handle = rod_of(centres[0], centres[1], key.handle_diameter, "key's handle")
        whole = _area(section) * key.length + math.pi / 4 * key.handle_diameter**2 * key.handle_length
        return fuse(shank, [handle], "adjusting key", whole)
    return _bent_key(key, section, bend_radius)


def _bent_key(key: KeyPlace, section: Sequence[tuple[float, float]], bend_radius: float) -> cq.Solid:
    x_up, z_top = key.x_tip - key.arm + key.size / 2, -key.axis - key.size / 2 + key.rise
    turn = bend_radius + key.size / 2 if bend_radius > 0 else 0.0  # of the middle line
    level, upright = key.x_tip - x_up - turn, z_top + key.axis - turn
    if level <= 0 or upright <= 0:
        raise KernelError("adjusting key", "the bend leaves no straight arm", bend_radius=bend_radius, arm=key.arm)
    tip, top = (key.x_tip, 0.0, -key.axis), (x_up, 0.0, z_top)
    before, after = (x_up + turn, 0.0, -key.axis), (x_up, 0.0, -key.axis + turn)
    half = turn * (1 - math.sqrt(0.5))
    bend = [arc_edge(before, (x_up + half, 0.0, -key.axis + half), after)] if turn else []
    spine = wire([line_edge(tip, before), *bend, line_edge(after, top)])
    corners = [(key.x_tip, y, z - key.axis) for y, z in section]
    outline = wire([line_edge(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])
    return pipe(outline, spine, _area(section) * (level + upright + math.pi / 2 * turn), "adjusting key")


def bar_solid(bar: Bar) -> cq.Solid:
    """A glued bar in the middle of its channel, half the fit below z = 0."""
    top = -BAR_FIT / 2
    sides = (bar.y - bar.width / 2, bar.y + bar.width / 2)
    return _box(bar.x_start, bar.x_end, sides, top - bar.height, top, bar.name)


def screw_solid(screw: Screw) -> cq.Solid:
    """A screw by its shank over its whole length, with a cone of one diameter at its point; others are cylinders."""
    radius, end = screw.diameter / 2, screw.length
    profile = [(0.0, radius), (end, radius)]
    if screw.kind == "wood-screw":
        profile = [(0.0, radius), (end - min(screw.diameter, end / 2), radius), (end, 0.0)]
    return turned((screw.x, screw.y, screw.z_point - end), (0.0, 0.0, 1.0), profile, screw.name)


def tuner_solid(tuner: TunerPlace) -> cq.Solid:
    """What fills the hole, the post over the face and the housing under the head's back, one solid."""
    hole, post, thickness = tuner.hole / 2, POST_OF_HOLE * tuner.hole / 2, tuner.head_thickness
    back = _along(tuner.on_face, tuner.axis, -thickness)
    reach = thickness + POST_HEIGHT
    profile = [(0.0, hole), (thickness, hole), (thickness, post), (reach, post)]
    shaft = turned(back, tuner.axis, profile, tuner.name)
    length = (tuner.axis[2], 0.0, -tuner.axis[0])  # along the head, square to the axis
    ends = [_along(back, length, sign * tuner.housing_length / 2) for sign in (-1, 1)]
    half = tuner.housing_width / 2
    corners = [
        (p[0], p[1] + y, p[2]) for p, y in ((ends[0], -half), (ends[1], -half), (ends[1], half), (ends[0], half))
    ]
    down = _along((0.0, 0.0, 0.0), tuner.axis, -HOUSING_HEIGHT)
    housing = swept(polygon_face(corners, tuner.name), down, tuner.name)
    volume = math.pi * (hole * hole * thickness + post * post * POST_HEIGHT)
    return fuse(shaft, [housing], tuner.name, volume + tuner.housing_length * tuner.housing_width * HOUSING_HEIGHT)


def string_solids(frets: Frets, x_from: float, x_to: float, posts: Sequence[Point3] | None = None) -> tuple[Part, ...]:
    """The strings as thin cylinders, `string-1` at the bass, resting on the height the layout gives them.

    Straight from x_from to x_to; or, with posts (where each string's middle ends on the head), from there to the nut,
    with a mitre at the nut's line, and on to x_to.
    """
    if posts is None:
        solids = [rod_of(_middle(s, x_from), _middle(s, x_to), s.diameter, "string") for s in frets.strings]
    else:
        solids = [_bent_string(s, post, x_to) for s, post in zip(frets.strings, posts, strict=True)]
    return tuple(_part(f"string-{s.number}", solid) for s, solid in zip(frets.strings, solids, strict=True))


def _bent_string(string: StringLine, post: Point3, x_to: float) -> cq.Solid:
    nut, end = _middle(string, string.x_nut), _middle(string, x_to)
    towards = cq.Vector(*nut) - cq.Vector(*post)
    section = cq.Wire.makeCircle(string.diameter / 2, cq.Vector(*post), towards).wrapped
    long = math.dist(post, nut) + math.dist(nut, end)
    spine = wire([line_edge(post, nut), line_edge(nut, end)])
    return pipe(section, spine, math.pi / 4 * string.diameter**2 * long, f"string-{string.number}")


def _middle(string: StringLine, x: float) -> Point3:
    return x, string.y(x), string.z(x) + string.diameter / 2


def _merged(segments: Sequence[Segment]) -> list[Segment]:
    """Neighbours of the same section as one, so that no seam is left between them."""
    joined: list[Segment] = []
    for s in segments:
        last = joined[-1] if joined else None
        if last and (last.width, last.height, last.top, last.x_end) == (s.width, s.height, s.top, s.x_start):
            joined[-1] = Segment(last.name, last.x_start, s.x_end, s.width, s.height, s.top)
        else:
            joined.append(s)
    return joined


def _box(x0: float, x1: float, sides: tuple[float, float], z0: float, z1: float, operation: str) -> cq.Solid:
    return sideways([(x0, z0), (x1, z0), (x1, z1), (x0, z1)], *sides, operation)


def _prism(section: Sequence[tuple[float, float]], x0: float, x1: float, axis: float) -> cq.Solid:
    """A section in y and z drawn along x, its middle `axis` below z = 0."""
    face = polygon_face([(x0, y, z - axis) for y, z in section], "hexagon")
    return gate(swept(face, (x1 - x0, 0.0, 0.0), "hexagon"), "hexagon", _area(section) * (x1 - x0))


def _area(section: Sequence[tuple[float, float]]) -> float:
    outline: PlanPath = polygon(list(section))
    return abs(outline.area())


def _along(start: Point3, direction: Point3, distance: float) -> Point3:
    return start[0] + distance * direction[0], start[1] + distance * direction[1], start[2] + distance * direction[2]


def _part(name: str, solid: cq.Solid) -> Part:
    return Part(name, solid, colour_of(name), "hardware")
