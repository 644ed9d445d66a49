"""The carved dovetail, the heel that narrows, and its cap, on the exact solids."""

from __future__ import annotations

import math

import cadquery as cq
import pytest
from dovetail_samples import DOVETAIL
from ends_solids import assert_sound, box, built, share

from neckmodel.meshes import mesh_of
from neckmodel.solids.kernel.gate import is_sound
from neckmodel.solids.neck.cap import cap_part

FAR = (-200.0, 200.0)
JOINT = 642 * (1 - 2 ** (-14 / 12))


def test_the_dovetail_is_bounded_by_planes() -> None:
    """Its volume is the integral of (40 - 2 (19 - x) tan 12 - 2 z tan 5) over 19 x 62."""
    parts = built(DOVETAIL)
    assert_sound(parts)
    along, down = math.tan(math.radians(12)), math.tan(math.radians(5))
    expected = 19 * 62 * (40 - 19 * along - 62 * down)
    beyond = share(parts.carved, box((JOINT, JOINT + 50), FAR, FAR))
    assert beyond == pytest.approx(expected, rel=1e-6)
    cheeks = [
        face
        for face in parts.carved.Faces()
        if face.geomType() == "PLANE" and face.Center().x > JOINT and abs(face.normalAt().y) > 0.9
    ]
    assert len(cheeks) == 2
    run = math.sqrt(1 + along**2 + down**2)
    for face in cheeks:
        normal = face.normalAt()
        assert (normal.x, abs(normal.y), normal.z) == pytest.approx((-along / run, 1 / run, -down / run), abs=1e-9)


def half_at(neck: cq.Solid, depth: float) -> float:
    """Half width of the carved heel just before the joint, at one depth, by the kernel's section."""
    x = JOINT - 1e-4
    face = cq.Face.makePlane(300, 300, cq.Vector(x, 0, 0), cq.Vector(1, 0, 0))
    cut = neck.intersect(face)
    line = cq.Edge.makeLine(cq.Vector(x, 0, -depth), cq.Vector(x, 100, -depth))
    return float(cut.intersect(line).BoundingBox(1e-6).ymax)


@pytest.mark.parametrize("depth", [5.0, 20.0, 40.0, 62.0, 80.0])
def test_the_heels_side_follows_its_law(depth: float) -> None:
    """Within 0.01 mm: the spline keeps within 0.0007 of the narrowing, here 11.5 mm a side."""
    u = depth / 84.0
    law = (32.0 + 23.0 * (1 - u * u * (3 - 2 * u))) / 2
    assert half_at(built(DOVETAIL).carved, depth) == pytest.approx(law, abs=0.01)


def test_the_cap_is_the_heels_bottom() -> None:
    parts = built(DOVETAIL)
    (part,) = cap_part(parts.layout, parts.carved)
    cap, place = part.solid, parts.layout.heel_cap
    assert place is not None
    limits = cap.BoundingBox(1e-7)
    assert (limits.zmin, limits.zmax) == pytest.approx((-87, -84), abs=1e-6)
    assert (limits.ymin, limits.ymax) == pytest.approx((-16, 16), abs=0.02)
    assert (limits.xmin, limits.xmax) == pytest.approx((place.x_start, place.x_end), abs=0.02)
    under = share(parts.carved, box((0, JOINT), FAR, (-84.0, -83.99))) / 0.01
    # by its mesh: the kernel takes a face with a curved edge 1 % too large
    assert mesh_of(cap, 0.003).volume == pytest.approx(3 * under, rel=1e-3)
    assert is_sound(cap)


def test_a_tenon_as_deep_as_a_narrowing_heel() -> None:
    """Its bottom lies in the heel's own; the cap ends at the joint all the same."""
    own = DOVETAIL.replace("dovetail", "tenon").replace(", depth = 62.0, taper = 5.0", ", depth = 84.0")
    parts = built(own.replace("width = 40.0", "width = 24.0"))
    assert_sound(parts)
    assert cap_part(parts.layout, parts.carved)[0].solid.BoundingBox(1e-7).xmax == pytest.approx(JOINT, abs=1e-6)
    assert share(parts.carved, box((JOINT, JOINT + 50), FAR, FAR)) == pytest.approx(19 * 24 * 84, rel=1e-6)
