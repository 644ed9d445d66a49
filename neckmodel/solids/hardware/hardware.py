"""Envelopes of the hardware: nut, rod, adjusting key, bars, screws, tuners, clamp. Lengths mm.

Plain solids without threads or knurls that enclose the real things, for checks and for the eye.
"""

from __future__ import annotations

import math

from neckmodel.geometry.paths import polygon
from neckmodel.geometry.types import Point3
from neckmodel.layout import Layout
from neckmodel.layout.fretboard.nut import NutPlace
from neckmodel.layout.hardware.clamp import ClampPlace, ClampScrew
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.tuners import HOUSING_HEIGHT, POST_HEIGHT, POST_OF_HOLE, TunerPlace
from neckmodel.layout.rod.bars import Bar
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.memory.remembered import remembered
from neckmodel.solids.colours import colour_of
from neckmodel.solids.hardware.compression import strip_solid, washer_solid
from neckmodel.solids.hardware.key import key_solid
from neckmodel.solids.hardware.rod import rod_solid
from neckmodel.solids.kernel.gate import fuse, solid_bytes
from neckmodel.solids.kernel.shapes import polygon_face, swept, upright
from neckmodel.solids.kernel.turned import box, turned
from neckmodel.solids.parts import Part
from neckmodel.solids.slots import roller_solid

# isort: split
import cadquery as cq


def hardware_parts(layout: Layout) -> tuple[Part, ...]:
    """Every envelope of a layout: nut, rod with washer and cover strip, key, bars, screws, tuners or clamp."""
    design = layout.design
    solids = [("nut", nut_solid(layout.nut))]
    for rod in layout.rods:
        solids += [(f"{name}{rod.suffix}", off_centre(solid, rod.y)) for name, solid in rod_parts(rod)]
    for key in layout.keys:
        solid = key_solid(key, design.adjusting_key.bend_radius if design.adjusting_key is not None else 0.0)
        solids.append((f"adjusting-key{key.suffix}", off_centre(solid, key.y)))
    solids += [(bar.name, bar_solid(bar)) for bar in layout.bars]
    solids += [(screw.name, screw_solid(screw)) for screw in layout.screws]
    solids += [(tuner.name, tuner_solid(tuner)) for tuner in layout.tuners]
    solids += [(roller.name, roller_solid(layout, roller)) for roller in layout.rollers]
    if layout.clamp is not None:
        solids.append(("clamp", clamp_solid(layout.clamp)))
        solids += [(screw.name, clamp_screw_solid(screw)) for screw in layout.clamp.screws]
    return tuple(_part(name, solid) for name, solid in solids)


def nut_solid(nut: NutPlace) -> cq.Solid:
    """A plain block on the nut's seat, slanted as the nut's line is."""
    return upright(polygon(list(nut.corners)), nut.z_seat, nut.z_seat + nut.height, "nut")


def bar_solid(bar: Bar) -> cq.Solid:
    """A glued bar in the middle of its channel, half the glue's fit below z = 0; higher on a floor that is too shallow
    for that."""
    top = -bar.below
    sides = (bar.y - bar.width / 2, bar.y + bar.width / 2)
    return box(bar.x_start, bar.x_end, sides, top - bar.height, top, bar.name)


def screw_solid(screw: Screw) -> cq.Solid:
    """A wood screw as its shank over the whole length, with a cone as high as its diameter at the point; inserts and
    dowels as cylinders."""
    radius, end = screw.diameter / 2, screw.length
    profile = [(0.0, radius), (end, radius)]
    if screw.kind == "wood-screw":
        profile = [(0.0, radius), (end - min(screw.diameter, end / 2), radius), (end, 0.0)]
    return turned((screw.x, screw.y, screw.z_point - end), (0.0, 0.0, 1.0), profile, screw.name)


def clamp_solid(clamp: ClampPlace) -> cq.Solid:
    """The clamp's envelope, a block on the glue plane."""
    return box(clamp.x_start, clamp.x_end, (-clamp.half_width, clamp.half_width), 0.0, clamp.height, "clamp")


def clamp_screw_solid(screw: ClampScrew) -> cq.Solid:
    """The part of a clamp's screw in the wood: a cylinder that fills its hole."""
    radius = screw.diameter / 2
    return turned((screw.x, screw.y, -screw.depth), (0.0, 0.0, 1.0), [(0.0, radius), (screw.depth, radius)], screw.name)


@remembered(solid_bytes)
def tuner_solid(tuner: TunerPlace) -> cq.Solid:
    """One solid that fills the hole, with the post over the face and the housing under the head's back."""
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


def _along(start: Point3, direction: Point3, distance: float) -> Point3:
    return start[0] + distance * direction[0], start[1] + distance * direction[1], start[2] + distance * direction[2]


def rod_parts(rod: RodPlace) -> list[tuple[str, cq.Solid]]:
    """(name, solid) of the rod, and of a compression rod's washer and cover strip where stated."""
    parts = [("rod", rod_solid(rod, rod.below))]
    if rod.washer is not None:
        parts.append(("washer", washer_solid(rod.washer)))
    if rod.strip is not None:
        parts.append(("cover-strip", strip_solid(rod.strip)))
    return parts


def off_centre(solid: cq.Solid, y: float) -> cq.Solid:
    """The solid, made on the centre line, moved to the line at y."""
    return solid.translate(cq.Vector(0.0, y, 0.0)) if y else solid


def _part(name: str, solid: cq.Solid) -> Part:
    return Part(name, solid, colour_of(name), "wood" if name.startswith("cover-strip") else "hardware")
