"""The cap glued under the heel: the heel's own bottom, as thick as stated."""

from __future__ import annotations

from neckmodel.errors import KernelError
from neckmodel.layout import Layout
from neckmodel.layout.heel.cap import CapPlace
from neckmodel.memory.remembered import remembered
from neckmodel.solids.colours import colour_of
from neckmodel.solids.kernel.gate import common, gate, guarded, solid_bytes
from neckmodel.solids.kernel.shapes import sideways, swept
from neckmodel.solids.parts import Part

# isort: split
import cadquery as cq

LEVEL = 1e-6  # mm by which the heel's bottom may miss its depth
PAST = 1.0  # mm
AREA = 0.02  # relative, within which the kernel knows the area of a face with a curved edge


def cap_part(layout: Layout, carved: cq.Solid) -> tuple[Part, ...]:
    """The cap, from the face of the carved neck that it is glued to; () without one."""
    place, name = layout.heel_cap, "heel-cap"
    return () if place is None else (Part(name, _cap(place, carved), colour_of(name), "wood"),)


@remembered(solid_bytes)
def _cap(place: CapPlace, carved: cq.Solid) -> cq.Solid:
    with guarded("heel cap", z=place.z_top):
        below = [face for face in carved.Faces() if face.geomType() == "PLANE" and _is_bottom(face, place)]
        if len(below) != 1:
            raise KernelError("heel cap", f"{len(below)} faces lie at the heel's bottom", z=place.z_top)
        thick = place.cap.thickness
        prism = swept(below[0].wrapped, (0.0, 0.0, -thick), "heel cap")
        area = below[0].Area()
    whole = gate(prism, "heel cap", area * thick, AREA)
    if below[0].BoundingBox().xmax <= place.x_end + LEVEL:
        return whole
    wide = place.width  # a tenon as deep as the heel has its bottom in the same face
    ends, z = (place.x_start - PAST, place.x_end), (place.z_bottom - PAST, place.z_top + PAST)
    profile = [(ends[0], z[0]), (ends[1], z[0]), (ends[1], z[1]), (ends[0], z[1])]
    return common(whole, [sideways(profile, -wide, wide, "heel cap")], "heel cap")


def _is_bottom(face: cq.Face, place: CapPlace) -> bool:
    centre = face.Center()
    return (
        abs(centre.z - place.z_top) < LEVEL
        and place.x_start < centre.x
        and face.BoundingBox().xmin < place.x_end - PAST  # not the bottom of a tenon as deep as the heel
        and face.normalAt().z < -0.5
    )
