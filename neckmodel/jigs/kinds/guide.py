"""What the drilling guides share: a plate on a flat face, a lip along the outline, holes that lead a drill.

Built in the face's own frame: u along the neck, v across, w out of the wood; the face lies at w = 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.findings import Finding, yes_no_finding
from neckmodel.geometry.types import Point
from neckmodel.jigs.regions import level_section
from neckmodel.jigs.shaping import cylinder, leaning, prism
from neckmodel.limits import HOLE_OFF
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut, fuse

# isort: split
import cadquery as cq

if TYPE_CHECKING:
    from shapely.geometry import Polygon

# mm; common practice, no source
PLATE = 10.0  # thickness: what leads the drill
LIP, LIP_DEPTH = 4.0, 6.0  # across, and down the side of the wood
ROUND = 12  # chords a quarter circle where the lip goes round a corner
SIGHT = 1.5  # half width of the notches at the centre line


@dataclass(frozen=True)
class Hole:
    """A hole for a drill, at (u, v). drill: its diameter."""

    name: str
    u: float
    v: float
    drill: float


@dataclass(frozen=True)
class Guide:
    """outline: (n, 2) of the face, closed by a straight end. lip_to: u at which the lip ends on the side of that end;
    the lip goes round all the rest. toward: 1 where the open end faces higher u, -1 where it faces lower u. fit: gap at
    each side.

    lean: how far the wood's sides, which are upright on the neck, lean in the face's frame: du for each mm of w.
    """

    outline: tuple[Point, ...]
    lip_to: float
    toward: int
    holes: tuple[Hole, ...]
    fit: float
    lean: float = 0.0


def face_polygon(guide: Guide) -> Polygon:
    """The guide's outline as a polygon."""
    from shapely.geometry import Polygon

    return Polygon(guide.outline)


def guide_solid(guide: Guide, operation: str) -> cq.Solid:
    """The guide in the face's frame, its plate from w = 0 to PLATE, its lip from there down to -LIP_DEPTH."""
    from shapely import unary_union
    from shapely.geometry import box

    face = face_polygon(guide)
    far = 10000.0
    beyond = box(-far, -far, guide.lip_to, far) if guide.toward > 0 else box(guide.lip_to, -far, far, far)
    around = face.buffer(guide.fit + LIP, quad_segs=ROUND).intersection(beyond)
    plan = unary_union([face, around]).buffer(0).simplify(1e-4)
    lip = around.difference(face.buffer(guide.fit, quad_segs=ROUND)).simplify(1e-4)
    below = leaning(_corners(lip), -LIP_DEPTH, 0.0, guide.lean, operation)
    solid = fuse(prism(_corners(plan), 0.0, PLATE, operation), [below], operation)
    tools = [cylinder((h.u, h.v, -1.0), h.drill / 2 + guide.fit, PLATE + 2.0) for h in guide.holes]
    low, _, high, _ = face.bounds
    end = high if guide.toward > 0 else low
    notch = [(end + guide.toward, -SIGHT - 1), (end - guide.toward * SIGHT, 0.0), (end + guide.toward, SIGHT + 1)]
    return cut(solid, [*tools, prism(notch, -1.0, PLATE + 1.0, "notch at the centre line")], operation)


def _corners(polygon: Polygon) -> list[Point]:
    return [(float(p[0]), float(p[1])) for p in polygon.exterior.coords[:-1]]


def findings(solid: cq.Solid, guide: Guide, part: str) -> list[Finding]:
    """Places and widths of the holes, and the fit of the lip, measured on sections of the finished guide."""
    from shapely.affinity import translate

    body = to_manifold(mesh_of(solid, 0.005), part)
    found = [_hole(body.slice(PLATE / 2).to_polygons(), hole, guide.fit, part) for hole in guide.holes]
    lip = level_section(body, -LIP_DEPTH / 2)
    face = translate(face_polygon(guide), -LIP_DEPTH / 2 * guide.lean)
    gap, shared = lip.distance(face), lip.intersection(face).area
    good = shared < 1e-6 and abs(gap - guide.fit) < HOLE_OFF
    found.append(
        yes_no_finding(
            check="jig/fit",
            part=part,
            good=good,
            says=f"its lip goes round the outline with {gap:.2f} mm at each side",
            measured=gap,
            limit=guide.fit,
            held=(guide.fit - HOLE_OFF, guide.fit + HOLE_OFF),
            basis="workshop.printer.fit_per_side",
        )
    )
    return found


def _hole(rings: Sequence[np.ndarray], hole: Hole, fit: float, part: str) -> Finding:
    """Measures the ring round a hole's planned place: its middle and its width."""
    from shapely.geometry import Point as At
    from shapely.geometry import Polygon

    shapes = [Polygon(np.asarray(ring)) for ring in rings]
    own = min((s for s in shapes if s.area < 4000.0), key=lambda s: s.centroid.distance(At(hole.u, hole.v)))
    off = own.centroid.distance(At(hole.u, hole.v))
    width = 2 * (own.area / np.pi) ** 0.5
    good = off <= HOLE_OFF and abs(width - hole.drill - 2 * fit) <= HOLE_OFF
    return yes_no_finding(
        check="jig/hole",
        part=part,
        good=good,
        says=f"{hole.name}: {width:.2f} mm wide for a drill of {hole.drill:.2f} mm, {off:.4f} mm beside its place",
        measured=off,
        limit=HOLE_OFF,
        held=(None, HOLE_OFF),
        basis="the layout",
        more={"width": float(width), "drill": hole.drill},
    )
