"""Solids from which jigs are made: polygons, boxes, grooves, turned copies. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from neckmodel.geometry.paths import PlanPath, polygon
from neckmodel.geometry.types import Point, Point3
from neckmodel.jigs.letters import lines_for, outlines
from neckmodel.jigs.types import Label, Pose
from neckmodel.solids.kernel.gate import cut, gate, guarded
from neckmodel.solids.kernel.shapes import path_edges, plane_face, point, polygon_face, swept, upright, wire

# isort: split
import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakePolygon, BRepBuilderAPI_Transform
from OCP.gp import gp_Trsf

GROOVE = 0.6  # mm deep, of a label: two or three printed layers; common practice, no source
OVER = 1.0  # mm that a cutting tool stands beyond the face it cuts


def box(x: Point, y: Point, z: Point, operation: str = "box") -> cq.Solid:
    """The box between two values of each coordinate."""
    corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]
    return upright(polygon(corners), z[0], z[1], operation)


def prism(points: Sequence[Point], z_from: float, z_to: float, operation: str) -> cq.Solid:
    """The upright prism over a polygon in plan."""
    return upright(polygon(list(points)), z_from, z_to, operation)


def leaning(points: Sequence[Point], z_from: float, z_to: float, lean: float, operation: str) -> cq.Solid:
    """As `prism`, over a polygon in the plane z = 0, but leaning: x grows by `lean` for each mm of height."""
    face = polygon_face([(x + lean * z_from, y, z_from) for x, y in points], operation)
    height = z_to - z_from
    return gate(swept(face, (lean * height, 0.0, height), operation), operation)


def plate(outline: PlanPath, holes: Iterable[PlanPath], z_from: float, z_to: float, operation: str) -> cq.Solid:
    """An upright plate with openings right through it, none of which touches another or the outline."""
    wires = [wire(path_edges(hole, z_from), operation) for hole in holes]
    face = plane_face(wire(path_edges(outline, z_from), operation), wires, operation)
    return gate(swept(face, (0.0, 0.0, z_to - z_from), operation), operation)


def across(profile: Sequence[Point], x_from: float, x_to: float, operation: str) -> cq.Solid:
    """The prism along x of a polygon in cross-section, (n, 2) of y and z."""
    face = polygon_face([(x_from, y, z) for y, z in profile], operation)
    return gate(swept(face, (x_to - x_from, 0.0, 0.0), operation), operation)


def cylinder(at: Point3, radius: float, height: float) -> cq.Solid:
    """An upright cylinder that stands on `at`."""
    return cq.Solid.makeCylinder(radius, height, cq.Vector(*at))


def cylinder_along(at: Point3, radius: float, length: float) -> cq.Solid:
    """A cylinder along x that starts at `at`."""
    return cq.Solid.makeCylinder(radius, length, cq.Vector(*at), cq.Vector(1, 0, 0))


def turned(solid: cq.Solid, pose: Pose) -> cq.Solid:
    """The solid turned into the pose in which it is printed."""
    return _transformed(solid, pose.rows, (0.0, 0.0, 0.0), "turning a piece")


def placed(solid: cq.Solid, rows: tuple[Point3, Point3, Point3], by: Point3) -> cq.Solid:
    """The solid turned by the rows of a rotation matrix, then moved."""
    return _transformed(solid, rows, by, "placing a piece")


def shifted(solid: cq.Solid, by: Point3) -> cq.Solid:
    """The solid moved by (x, y, z), mm."""
    return _transformed(solid, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), by, "moving a piece")


def engraved(solid: cq.Solid, label: Label, stroke: float) -> cq.Solid:
    """The solid with the label cut into its face as grooves. stroke: width of a groove, mm."""
    lines, height = lines_for(label.words, label.width, label.height)
    tools = []
    for shape in outlines(lines, height, stroke):
        rings = [_ring(label, ring.coords) for ring in (shape.exterior, *shape.interiors)]
        out = label.outward
        face = plane_face(rings[0], rings[1:], "letter")
        depth = -(GROOVE + OVER)
        tools.append(swept(face, (out[0] * depth, out[1] * depth, out[2] * depth), "letter"))
    return cut(solid, tools, "label")


def _ring(label: Label, points: Iterable[Sequence[float]]) -> Any:
    """A closed line of the label's own plane, OVER above the face."""
    maker = BRepBuilderAPI_MakePolygon()
    for u, v in list(points)[:-1]:
        placed = [
            a + u * r + v * t + OVER * n
            for a, r, t, n in zip(label.at, label.right, label.up, label.outward, strict=True)
        ]
        maker.Add(point(placed))
    maker.Close()
    return maker.Wire()


def _transformed(solid: cq.Solid, rows: tuple[Point3, Point3, Point3], by: Point3, operation: str) -> cq.Solid:
    with guarded(operation):
        transform = gp_Trsf()
        values = [value for row, shift in zip(rows, by, strict=True) for value in (*row, shift)]
        transform.SetValues(*values)
        return cq.Solid(BRepBuilderAPI_Transform(solid.wrapped, transform, True).Shape())
