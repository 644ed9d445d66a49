"""Edges, faces, prisms and sewn solids: the kernel's builders with types, and a name for each failure. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import PlanPath
from neckmodel.geometry.types import Point, Point3
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import gate, guarded, solid_bytes

# isort: split
import cadquery as cq
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
    BRepBuilderAPI_Transform,
)
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.Geom import Geom_BezierCurve
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TColgp import TColgp_Array1OfPnt
from OCP.TopoDS import TopoDS

SEWING = 1e-6  # mm


def point(at: Sequence[float]) -> Any:
    """A point as the kernel takes it."""
    return gp_Pnt(float(at[0]), float(at[1]), float(at[2]))


def line_edge(start: Point3, end: Point3) -> Any:
    """The straight edge from start to end."""
    with guarded("line", start=start, end=end):
        return BRepBuilderAPI_MakeEdge(point(start), point(end)).Edge()


def arc_edge(start: Point3, through: Point3, end: Point3) -> Any:
    """The circular arc from start through a point on it to end."""
    with guarded("arc", start=start, through=through, end=end):
        return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(point(start), point(through), point(end)).Value()).Edge()


def bezier_edge(poles: Sequence[Sequence[float]]) -> Any:
    """The Bezier curve with these poles: (n, 3) mm, 2 <= n <= 26."""
    with guarded("Bezier curve", poles=len(poles)):
        array = TColgp_Array1OfPnt(1, len(poles))
        for i, pole in enumerate(poles):
            array.SetValue(i + 1, point(pole))
        return BRepBuilderAPI_MakeEdge(Geom_BezierCurve(array)).Edge()


def path_edges(path: PlanPath, z: float) -> list[Any]:
    """One edge a step of the path, at height z."""
    edges = []
    for start, step in path.pieces():
        a, b = (*start, z), (*step.end, z)
        edges.append(line_edge(a, b) if step.through is None else arc_edge(a, (*step.through, z), b))
    return edges


def wire(edges: Iterable[Any], operation: str = "wire") -> Any:
    """The wire of edges given in order, each starting at the end of the one before."""
    with guarded(operation):
        maker = BRepBuilderAPI_MakeWire()
        for edge in edges:
            maker.Add(edge)
        return maker.Wire()


def plane_face(outline: Any, holes: Iterable[Any] = (), operation: str = "plane face") -> Any:
    """The plane face inside a closed plane wire, less the holes (wires, run either way round)."""
    with guarded(operation):
        if not outline.Closed():
            raise KernelError(operation, "the outline is not closed")
        maker = BRepBuilderAPI_MakeFace(outline, True)
        if not maker.IsDone():  # .Face() would be null, without a word
            raise KernelError(operation, f"the outline bounds no plane face ({maker.Error()})")
        face = maker.Face()
        for hole in holes:
            inside = BRepBuilderAPI_MakeFace(hole, True).Face()
            same_way = cq.Face(inside).normalAt().dot(cq.Face(face).normalAt()) > 0
            maker = BRepBuilderAPI_MakeFace(face, TopoDS.Wire_s(hole.Reversed()) if same_way else hole)
            face = maker.Face()
        return face


def polygon_face(points: Sequence[Point3], operation: str = "polygon") -> Any:
    """The plane face with straight sides through the points."""
    with guarded(operation):
        maker = BRepBuilderAPI_MakePolygon()
        for corner in points:
            maker.Add(point(corner))
        maker.Close()
        return plane_face(maker.Wire(), operation=operation)


def swept(shape: Any, along: Point3, operation: str = "prism") -> Any:
    """The shape swept along a vector: an edge gives a face; a face gives a solid, not yet checked by the gate."""
    with guarded(operation, along=along):
        return BRepPrimAPI_MakePrism(shape, gp_Vec(*along)).Shape()


def sewn(faces: Iterable[Any], operation: str, volume: float | None = None, rtol: float = 1e-6) -> cq.Solid:
    """The solid bounded by the given faces, checked by the gate. The faces' edges must meet within 1e-6 mm."""
    with guarded(operation):
        sewing = BRepBuilderAPI_Sewing(SEWING)
        for face in faces:
            sewing.Add(face)
        sewing.Perform()
        if sewing.NbFreeEdges():
            raise KernelError(operation, f"{sewing.NbFreeEdges()} edges belong to one face only")
        solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(sewing.SewedShape())).Solid()
        BRepLib.OrientClosedSolid_s(solid)
    return gate(solid, operation, volume, rtol)


@remembered(solid_bytes)
def upright(path: PlanPath, z_from: float, z_to: float, operation: str = "upright prism") -> cq.Solid:
    """The prism of a closed plan outline between two heights; lines give planes, arcs cylinders."""
    face = plane_face(wire(path_edges(path, z_from), operation), operation=operation)
    return gate(swept(face, (0.0, 0.0, z_to - z_from), operation), operation, abs(path.area() * (z_to - z_from)))


@remembered(solid_bytes)
def sideways(profile: Sequence[Point], y_from: float, y_to: float, operation: str = "side prism") -> cq.Solid:
    """The prism of a polygon in side view, (n, 2) of x and z, from y_from to y_to."""
    face = polygon_face([(x, y_from, z) for x, z in profile], operation)
    return gate(swept(face, (0.0, y_to - y_from, 0.0), operation), operation)


def sideways_over(floor: Any, y_from: float, y_to: float, z_top: float, operation: str = "curved floor") -> cq.Solid:
    """The prism between a floor and the level z_top, from y_from to y_to.

    floor: an edge in the plane y = y_from (line, Bezier, spline), every point below z_top.
    """
    with guarded(operation):
        curve = cq.Edge(floor)
        first, last = curve.startPoint(), curve.endPoint()
        a, b = (first.x, y_from, first.z), (last.x, y_from, last.z)
        c, d = (last.x, y_from, z_top), (first.x, y_from, z_top)
        sides = [floor, line_edge(b, c), line_edge(c, d), line_edge(d, a)]
        face = plane_face(wire(sides, operation), (), operation)
    return gate(swept(face, (0.0, y_to - y_from, 0.0), operation), operation)


@remembered(solid_bytes)
def mirrored(solid: cq.Solid, operation: str = "mirror") -> cq.Solid:
    """The solid with treble and bass side exchanged (y -> -y)."""
    with guarded(operation):
        mirror = gp_Trsf()
        mirror.SetMirror(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 1.0, 0.0)))
        shape = BRepBuilderAPI_Transform(solid.wrapped, mirror, True).Shape()
    return gate(shape, operation)
