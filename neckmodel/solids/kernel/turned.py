"""Turned solids, pipes, boxes and hexagons, from which hardware is made; and how they are put in place. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import polygon
from neckmodel.geometry.types import Point, Point3
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import gate, guarded, solid_bytes
from neckmodel.solids.kernel.shapes import arc_edge, plane_face, point, polygon_face, sideways, swept, wire

# isort: split
import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_RightCorner, BRepBuilderAPI_Transform
from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe, BRepOffsetAPI_MakePipeShell
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.gp import gp_Ax1, gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec


@remembered(solid_bytes)
def turned(at: Point3, axis: Point3, profile: Sequence[Point], operation: str = "turned solid") -> cq.Solid:
    """The solid of revolution about the axis through `at`; profile: (distance along the axis, radius), ascending.

    A radius of 0 at an end makes a point.
    """
    with guarded(operation, profile=profile):
        frame = gp_Ax3(point(at), gp_Dir(*axis))
        along, out = frame.Direction(), frame.XDirection()

        def place(s: float, r: float) -> Point3:
            p = [o + s * a + r * x for o, a, x in zip(at, _three(along), _three(out), strict=True)]
            return p[0], p[1], p[2]

        first, last = profile[0], profile[-1]
        corners = [(first[0], 0.0)] * (first[1] > 0) + list(profile) + [(last[0], 0.0)] * (last[1] > 0)
        face = polygon_face([place(s, r) for s, r in corners], operation)
        shape = BRepPrimAPI_MakeRevol(face, gp_Ax1(frame.Location(), along)).Shape()
    volume = sum(math.pi / 3 * (s1 - s0) * (r0 * r0 + r0 * r1 + r1 * r1) for (s0, r0), (s1, r1) in pairwise(profile))
    return gate(shape, operation, volume)


def rod_of(start: Point3, end: Point3, diameter: float, operation: str = "cylinder") -> cq.Solid:
    """The cylinder from one centre to another."""
    axis = (end[0] - start[0], end[1] - start[1], end[2] - start[2])
    return turned(start, axis, [(0.0, diameter / 2), (math.dist(start, end), diameter / 2)], operation)


def pipe(section: Any, spine: Any, volume: float, operation: str = "pipe") -> cq.Solid:
    """The section (a closed wire square to the spine's start) drawn along the spine (a wire), its corners mitred."""
    with guarded(operation):
        maker = BRepOffsetAPI_MakePipeShell(spine)
        maker.SetTransitionMode(BRepBuilderAPI_RightCorner)
        maker.Add(section, False, False)
        maker.Build()
        if not maker.IsDone() or not maker.MakeSolid():
            raise KernelError(operation, "the kernel drew no closed pipe")
        shape = maker.Shape()
    return gate(shape, operation, volume)


@remembered(solid_bytes)
def arched(start: Point3, through: Point3, end: Point3, diameter: float, operation: str = "arched rod") -> cq.Solid:
    """The round rod along a circular arc in the plane y = 0, its ends square to the arc: a piece of a torus."""
    first, second = cq.Vector(*through) - cq.Vector(*start), cq.Vector(*end) - cq.Vector(*through)
    chord, cross = cq.Vector(*end) - cq.Vector(*start), first.cross(second).Length
    radius = first.Length * second.Length * chord.Length / (2 * cross)
    length = 2 * radius * math.asin(min(chord.Length / (2 * radius), 1.0))  # less than half a round
    with guarded(operation, start=start, through=through, end=end):
        arc = arc_edge(start, through, end)
        face = plane_face(cq.Wire.makeCircle(diameter / 2, cq.Vector(*start), cq.Edge(arc).tangentAt(0)).wrapped)
        shape = BRepOffsetAPI_MakePipe(wire([arc], operation), face).Shape()
    return gate(shape, operation, math.pi / 4 * diameter**2 * length)


def hexagon(flats: float, corners: float | None = None) -> list[Point]:
    """Corners (y, z) of a hexagon with a flat up; its tips cut back to a circle of diameter `corners` if given.

    flats: width across flats; corners: width across corners, at most `2 flats / sqrt(3)`. mm.
    """
    sharp = 2 * flats / math.sqrt(3)
    wide = sharp if corners is None else min(corners, sharp)
    half = math.acos(min(flats / wide, 1.0))  # half the angle under which a flat is seen
    turns = [(-half, half) if half < math.pi / 6 - 1e-6 else (math.pi / 6,)] * 6
    angles = [k * math.pi / 3 + turn for k, pair in enumerate(turns) for turn in pair]
    return [(wide / 2 * math.sin(angle), wide / 2 * math.cos(angle)) for angle in angles]


def box(x0: float, x1: float, sides: tuple[float, float], z0: float, z1: float, operation: str) -> cq.Solid:
    """The box from x0 to x1, between the two y of `sides`, from z0 to z1, mm."""
    return sideways([(x0, z0), (x1, z0), (x1, z1), (x0, z1)], *sides, operation)


def section_area(section: Sequence[Point]) -> float:
    """Area within a closed polygon, mm2."""
    return abs(polygon(list(section)).area())


@remembered(solid_bytes)
def prism_along_x(section: Sequence[Point], x0: float, x1: float, operation: str = "prism") -> cq.Solid:
    """The prism along x of a closed section in y and z."""
    face = polygon_face([(x0, y, z) for y, z in section], operation)
    return gate(swept(face, (x1 - x0, 0.0, 0.0), operation), operation, section_area(section) * (x1 - x0))


@remembered(solid_bytes)
def at_adjuster(solid: cq.Solid, at: Point3, outward: int, tilt: float, operation: str) -> cq.Solid:
    """A solid made with its axis along x, the way out of the socket toward -x, moved to its place at the adjuster.

    at: where its origin goes; outward: -1 or 1, the direction of the way out along x; tilt: degrees by which the way
    out points upward.
    """
    with guarded(operation, at=at, tilt=tilt):
        whole = gp_Trsf()
        whole.SetTranslation(gp_Vec(*at))
        for turns, axis, angle in ((outward > 0, (0, 0, 1), math.pi), (tilt != 0, (0, 1, 0), math.radians(tilt))):
            if turns:  # a turn by nothing would leave rounding behind
                turn = gp_Trsf()
                turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(*axis)), angle)
                whole.Multiply(turn)
        shape = BRepBuilderAPI_Transform(solid.wrapped, whole, True).Shape()
    return gate(shape, operation)


def _three(direction: gp_Dir | gp_Pnt) -> Point3:
    return direction.X(), direction.Y(), direction.Z()
