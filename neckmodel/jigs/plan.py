"""The level faces of a piece as outlines of straight stretches and true arcs, for drawings for machines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from neckmodel.geometry.types import Point, Point3

# isort: split
import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepTools import BRepTools_WireExplorer
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_Circle, GeomAbs_Line
from OCP.TopAbs import TopAbs_REVERSED

LEVEL = 1e-6  # of a normal's z: a face nearer to level, or to upright, counts as that
SAME = 3  # decimals of mm to which two points are one
SMOOTH = math.cos(math.radians(10.0))  # of the angle between two faces that form a curve: no edge is drawn between them
CHORD = 0.01  # mm by which chords may differ from a curve that is no arc


@dataclass(frozen=True)
class Outline:
    """A closed line at a height over the bed. bulges: `tan(angle/4)` of the stretch from each point to the next."""

    height: float
    points: tuple[Point, ...]
    bulges: tuple[float, ...]


def level_outlines(solid: cq.Solid) -> tuple[Outline, ...]:
    """Every outline of every level face, from the lowest up."""
    found = []
    for face in solid.Faces():
        if face.geomType() == "PLANE" and abs(face.normalAt().z) > 1 - LEVEL:
            height = round(face.Center().z, 4) + 0.0
            for wire in (face.outerWire(), *face.innerWires()):
                stretches = [stretch for edge in _in_order(wire) for stretch in _stretches(edge)]
                points, bulges = zip(*stretches, strict=True)
                found.append(Outline(height, tuple(points), tuple(bulges)))
    return tuple(sorted(found, key=lambda outline: (outline.height, outline.points)))


def slope_edges(solid: cq.Solid) -> tuple[tuple[Point3, Point3], ...]:
    """The straight edges of the sloping flat faces that look up, each once; none between faces that form a curve."""
    found: dict[tuple[Point3, Point3], list[cq.Vector]] = {}
    for face in solid.Faces():
        if face.geomType() != "PLANE" or not LEVEL < face.normalAt().z < 1 - LEVEL:
            continue
        for edge in (edge for edge in face.Edges() if edge.geomType() == "LINE"):
            a, b = sorted((_rounded(edge.startPoint()), _rounded(edge.endPoint())))
            found.setdefault((a, b), []).append(face.normalAt())
    sharp = (ends for ends, (one, *others) in found.items() if all(one.dot(other) < SMOOTH for other in others))
    return tuple(sorted(sharp))


def _rounded(p: cq.Vector) -> Point3:
    return round(p.x, SAME) + 0.0, round(p.y, SAME) + 0.0, round(p.z, SAME) + 0.0


def cut_outlines(solid: cq.Solid) -> tuple[Outline, ...]:
    """The level outlines, each line once: a line that stands on several levels, as a plate's rim does, on the lowest of
    them, which is how far down it is cut."""
    once: dict[frozenset[tuple[Point, Point, float]], Outline] = {}
    for outline in level_outlines(solid):
        once.setdefault(_shape_of(outline), outline)
    return tuple(once.values())


def _shape_of(outline: Outline) -> frozenset[tuple[Point, Point, float]]:
    """Its stretches, however it is run and wherever it starts."""
    near = [(round(x, SAME) + 0.0, round(y, SAME) + 0.0) for x, y in outline.points]
    stretches = zip(near, [*near[1:], near[0]], outline.bulges, strict=True)
    return frozenset(
        (a, b, round(bulge, SAME) + 0.0) if a <= b else (b, a, round(-bulge, SAME) + 0.0) for a, b, bulge in stretches
    )


def _in_order(wire: cq.Wire) -> Iterator[Any]:
    explorer = BRepTools_WireExplorer(wire.wrapped)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def _stretches(edge: Any) -> list[tuple[Point, float]]:
    """(start, bulge) of each stretch of an edge, in the sense of its wire."""
    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    back = edge.Orientation() == TopAbs_REVERSED
    if curve.GetType() == GeomAbs_Line:
        return [(_at(curve, last if back else first), 0.0)]
    if curve.GetType() == GeomAbs_Circle:
        turn = (last - first) * math.copysign(1.0, curve.Circle().Axis().Direction().Z()) * (-1.0 if back else 1.0)
        count = 1 if abs(turn) < math.pi + 1e-6 else 2
        starts = [
            last - (last - first) * k / count if back else first + (last - first) * k / count for k in range(count)
        ]
        return [(_at(curve, start), math.tan(turn / count / 4)) for start in starts]
    chords = GCPnts_QuasiUniformDeflection(curve, CHORD)
    points = [chords.Value(k + 1) for k in range(chords.NbPoints())]
    ordered = points[::-1] if back else points
    return [((p.X(), p.Y()), 0.0) for p in ordered[:-1]]


def _at(curve: BRepAdaptor_Curve, parameter: float) -> Point:
    p = curve.Value(parameter)
    return p.X(), p.Y()
