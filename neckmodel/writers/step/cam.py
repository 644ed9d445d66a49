"""What a CAM program can find in a solid: pocket floors, cutter radii, faces that only look like planes or
cylinders."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.gp import gp_Cone, gp_Cylinder, gp_Pln, gp_Vec
from OCP.ShapeAnalysis import ShapeAnalysis_CanonicalRecognition

HIDDEN_MM = 1e-4  # within which a free-form face counts as a plane, cylinder or cone
UPRIGHT = 1.0 - 1e-9  # cosine: 0.003 degrees
SHORT_EDGE_MM = 0.05  # below which an edge counts as short
FREE_FORM = {"BSPLINE", "BEZIER", "OFFSET", "EXTRUSION", "REVOLUTION", "OTHER"}


@dataclass(frozen=True)
class Floor:
    """A plane face that looks straight up. z: mm. area: mm2."""

    z: float
    area: float


@dataclass(frozen=True)
class Upright:
    """A cylinder whose axis is along z. radius, z_low, z_high: mm. inner: the wood is outside of it, as in a pocket's
    end or a hole; a cutter may not be larger."""

    radius: float
    inner: bool
    z_low: float
    z_high: float


@dataclass(frozen=True)
class CamFacts:
    """solids, shells, valid, closed: its soundness. faces: how many of each kind of surface. hidden: the kinds of those
    free-form faces that are really planes, cylinders or cones; a CAM program cannot use them as such. floors: from the
    lowest. uprights: from the smallest. shortest_edge: mm; short_edges: how many are below SHORT_EDGE_MM.
    smallest_face: mm2."""

    solids: int
    shells: int
    valid: bool
    closed: bool
    faces: Mapping[str, int]
    hidden: tuple[str, ...]
    floors: tuple[Floor, ...]
    uprights: tuple[Upright, ...]
    shortest_edge: float
    short_edges: int
    smallest_face: float

    @property
    def largest_cutter_radius(self) -> float | None:
        """The smallest inner upright radius, mm; None when no pocket or hole has one."""
        return min((upright.radius for upright in self.uprights if upright.inner), default=None)


def cam_facts(shape: cq.Shape) -> CamFacts:
    """Look at every face and edge of a shape as it lies (z up is the spindle's axis)."""
    faces, edges = shape.Faces(), [edge.Length() for edge in shape.Edges()]
    floors = [floor for face in faces for floor in _floor(face)]
    uprights = {upright for face in faces for upright in _upright(face)}
    return CamFacts(
        solids=len(shape.Solids()),
        shells=len(shape.Shells()),
        valid=shape.isValid(),
        closed=all(shell.wrapped.Closed() for shell in shape.Shells()),
        faces=dict(sorted(Counter(face.geomType() for face in faces).items())),
        hidden=tuple(sorted(kind for face in faces for kind in _hidden(face))),
        floors=tuple(sorted(floors, key=lambda floor: (floor.z, floor.area))),
        uprights=tuple(sorted(uprights, key=lambda one: (one.radius, one.inner, one.z_low, one.z_high))),
        shortest_edge=min(edges),
        short_edges=sum(length < SHORT_EDGE_MM for length in edges),
        smallest_face=min(face.Area() for face in faces),
    )


def _floor(face: cq.Face) -> list[Floor]:
    if face.geomType() != "PLANE" or face.normalAt().z < UPRIGHT:
        return []
    return [Floor(round(face.Center().z, 4), round(face.Area(), 3))]


def _upright(face: cq.Face) -> list[Upright]:
    if face.geomType() != "CYLINDER":
        return []
    surface = BRepAdaptor_Surface(face.wrapped)
    cylinder = surface.Cylinder()
    if abs(cylinder.Axis().Direction().Z()) < UPRIGHT:
        return []
    middle = surface.Value(
        (surface.FirstUParameter() + surface.LastUParameter()) / 2,
        (surface.FirstVParameter() + surface.LastVParameter()) / 2,
    )
    outward = gp_Vec(cylinder.Location(), middle)
    normal = face.normalAt(cq.Vector(middle.X(), middle.Y(), middle.Z()))
    inner = normal.x * outward.X() + normal.y * outward.Y() < 0
    heights = [vertex.Z for vertex in face.Vertices()]
    return [Upright(round(cylinder.Radius(), 4), inner, round(min(heights), 4), round(max(heights), 4))]


def _hidden(face: cq.Face) -> list[str]:
    if face.geomType() not in FREE_FORM:
        return []
    seen = ShapeAnalysis_CanonicalRecognition(face.wrapped)
    if seen.IsPlane(HIDDEN_MM, gp_Pln()):
        return ["plane"]
    if seen.IsCylinder(HIDDEN_MM, gp_Cylinder()):
        return ["cylinder"]
    return ["cone"] if seen.IsCone(HIDDEN_MM, gp_Cone()) else []
