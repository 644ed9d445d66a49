"""Turned solids, pipes and hexagons: what hardware is made of. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from neckmodel.errors import KernelError
from neckmodel.solids.kernel import gate, guarded
from neckmodel.solids.paths import Point
from neckmodel.solids.shapes import Point3, point, polygon_face

# isort: split
import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_RightCorner
from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipeShell
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.gp import gp_Ax1, gp_Ax3, gp_Dir, gp_Pnt


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


def hexagon(flats: float, corners: float | None = None) -> list[Point]:
    """Corners (y, z) of a hexagon with a flat up; its tips dulled to lie on a circle of diameter `corners` if given.

    flats: width across flats; corners: width across corners, at most `2 flats / sqrt(3)`.
    """
    sharp = 2 * flats / math.sqrt(3)
    wide = sharp if corners is None else min(corners, sharp)
    half = math.acos(min(flats / wide, 1.0))  # half the angle under which a flat is seen
    turns = [(-half, half) if half < math.pi / 6 - 1e-6 else (math.pi / 6,)] * 6
    angles = [k * math.pi / 3 + turn for k, pair in enumerate(turns) for turn in pair]
    return [(wide / 2 * math.sin(angle), wide / 2 * math.cos(angle)) for angle in angles]


def _three(direction: gp_Dir | gp_Pnt) -> Point3:
    return direction.X(), direction.Y(), direction.Z()
