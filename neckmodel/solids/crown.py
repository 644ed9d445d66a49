"""The fretboard's crown and surfaces below it, as faces and edges that meet exactly: plane, cylinder or oblique cone.

A radius that changes linearly along x, at constant height on the centre line, makes an oblique cone. No kernel has that
as a surface of its own, so the poles of Bezier patches are found by interpolation. Lengths mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from neckmodel.errors import KernelError
from neckmodel.geometry.types import Point, Point3
from neckmodel.layout.fretboard.crown import crown_drop
from neckmodel.layout.fretboard.fretboard import Fretboard, Line
from neckmodel.solids.kernel.gate import guarded
from neckmodel.solids.kernel.shapes import arc_edge, bezier_edge, line_edge, point, polygon_face, wire

# isort: split
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.Geom import Geom_BezierSurface, Geom_CylindricalSurface
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt
from OCP.ShapeFix import ShapeFix_Face
from OCP.TColgp import TColgp_Array2OfPnt

Array = NDArray[np.float64]

BASS, TREBLE = 0, 1
LONGEST_PATCH = 60.0  # mm along x; keeps a patch well within 1e-4 of its cone, radii from 180, widths to 95
ACROSS_DEGREE, ALONG_DEGREE = 8, 6


class Surface(Protocol):
    """A surface over the fretboard's plan. Neighbouring faces share the same edge curves."""

    def z(self, at: Point) -> float:
        """Height of the surface at a point of the plan, mm."""

    def across(self, line: Line) -> Any:
        """The edge over a line, from bass to treble."""

    def along(self, start: Line, end: Line, side: int) -> list[Any]:
        """The edges over one side of the fretboard between two lines."""

    def strip(self, start: Line, end: Line) -> list[Any]:
        """The faces between two lines."""


def crown(board: Fretboard, down: float = 0.0) -> Surface:
    """The crown, lowered by `down`: real planes where flat, real cylinders where the radius is constant."""
    if math.isinf(board.radius_nut) != math.isinf(board.radius_end):
        raise KernelError(
            "fretboard", "a radius cannot run from flat to round", nut=board.radius_nut, end=board.radius_end
        )
    if math.isinf(board.radius_nut):
        return Level(board.thickness - down)
    if board.radius_nut == board.radius_end:
        return Cylinder(board.thickness - down, board.radius_nut)
    return Cone(board, down)


@dataclass(frozen=True)
class Level:
    """The plane at height `level`."""

    level: float

    def z(self, at: Point) -> float:  # noqa: ARG002 - a plane is level everywhere
        """The plane's height, mm, the same at every point."""
        return self.level

    def across(self, line: Line) -> Any:
        """The straight edge over a line, from bass to treble."""
        return line_edge(*raised(self, line))

    def along(self, start: Line, end: Line, side: int) -> list[Any]:
        """The straight edge over one side of the fretboard between two lines."""
        return [line_edge(*raised(self, (start[side], end[side])))]

    def strip(self, start: Line, end: Line) -> list[Any]:
        """The plane face between two lines."""
        return [polygon_face([*raised(self, start), *raised(self, end)[::-1]], "fretboard's plane")]


@dataclass(frozen=True)
class Cylinder:
    """The cylinder along x with its top line at height `level`, mm. Over a slanted line it has an arc of an ellipse,
    drawn as a curve through points of it."""

    level: float
    radius: float

    def z(self, at: Point) -> float:
        """Height of the cylinder at a point of the plan, mm."""
        return self.level - crown_drop(self.radius, at[1])

    def across(self, line: Line) -> Any:
        """The edge over a line, from bass to treble: a circular arc where the line is square to x."""
        bass, treble = raised(self, line)
        if bass[0] == treble[0]:
            return arc_edge(bass, (bass[0], 0.0, self.level), treble)
        return _through(self, *line)

    def along(self, start: Line, end: Line, side: int) -> list[Any]:
        """The edge over one side of the fretboard between two lines."""
        return [_through(self, start[side], end[side])]

    def strip(self, start: Line, end: Line) -> list[Any]:
        """The cylindrical face between two lines."""
        sides = [self.along(start, end, side)[0] for side in (BASS, TREBLE)]
        outline = wire([self.across(start), sides[TREBLE], self.across(end), sides[BASS]], "crown")
        with guarded("crown's cylinder", radius=self.radius):
            axis = gp_Ax3(gp_Pnt(0.0, 0.0, self.level - self.radius), gp_Dir(1.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0))
            fix = ShapeFix_Face(
                BRepBuilderAPI_MakeFace(Geom_CylindricalSurface(axis, self.radius), outline, True).Face()
            )
            fix.Perform()
            return [fix.Face()]


@dataclass(frozen=True)
class Cone:
    """The fretboard's conical crown, lowered by `down`."""

    board: Fretboard
    down: float

    def z(self, at: Point) -> float:
        """Height of the cone at a point of the plan, mm."""
        return self.board.top(*at) - self.down

    def across(self, line: Line) -> Any:
        """The edge over a line, from bass to treble."""
        return _through(self, *line)

    def along(self, start: Line, end: Line, side: int) -> list[Any]:
        """The edges over one side of the fretboard between two lines, one for each patch."""
        return [_curve(poles[:, -side]) for poles in self._patches(start, end)]

    def strip(self, start: Line, end: Line) -> list[Any]:
        """The patches between two lines."""
        return [_patch(poles) for poles in self._patches(start, end)]

    def _patches(self, start: Line, end: Line) -> list[Array]:
        """(ALONG_DEGREE + 1, ACROSS_DEGREE + 1, 3) poles of each patch between two lines."""
        a, b = np.array(start), np.array(end)
        count = max(1, math.ceil(float((b - a)[:, 0].max()) / LONGEST_PATCH))
        lines = between(a, b, np.linspace(0.0, 1.0, count + 1))
        found = []
        for first, last in pairwise(lines):
            grid = [
                on(self, between(line[BASS], line[TREBLE], _nodes(ACROSS_DEGREE)))
                for line in between(first, last, _nodes(ALONG_DEGREE))
            ]
            found.append(np.einsum("ki,lj,ijc->klc", _poles(ALONG_DEGREE), _poles(ACROSS_DEGREE), np.array(grid)))
        return found


def raised(surface: Surface, line: Line) -> tuple[Point3, Point3]:
    """The two ends of a line, lifted onto the surface."""
    (x0, y0), (x1, y1) = line
    return (x0, y0, surface.z((x0, y0))), (x1, y1, surface.z((x1, y1)))


def on(surface: Surface, where: Array) -> Array:
    """(n, 3) points of the surface over (n, 2) points in plan."""
    return np.array([(x, y, surface.z((float(x), float(y)))) for x, y in where])


def between(start: Array, end: Array, part: Array) -> Array:
    """(n, ...) points on the way from start to end, for (n,) shares from 0 to 1."""
    shape = (-1,) + (1,) * start.ndim
    return np.asarray(start + (end - start) * part.reshape(shape))


def _nodes(degree: int) -> Array:
    """The Chebyshev points of interpolation on [0, 1], both ends included."""
    return np.asarray((1 - np.cos(np.pi * np.arange(degree + 1) / degree)) / 2)


def _poles(degree: int) -> Array:
    """The matrix from values at the nodes to the poles of the Bezier curve through them."""
    t = _nodes(degree)
    basis = [[math.comb(degree, j) * a**j * (1 - a) ** (degree - j) for j in range(degree + 1)] for a in t]
    return np.linalg.inv(np.array(basis))


def _through(surface: Surface, start: Point, end: Point) -> Any:
    """The curve on a surface over a straight line in plan."""
    where = between(np.array(start), np.array(end), _nodes(ACROSS_DEGREE))
    return _curve(_poles(ACROSS_DEGREE) @ on(surface, where))


def _curve(poles: Array) -> Any:
    return bezier_edge(poles.tolist())


def _patch(poles: Array) -> Any:
    with guarded("crown's patch"):
        rows, columns = poles.shape[:2]
        array = TColgp_Array2OfPnt(1, rows, 1, columns)
        for i in range(rows):
            for j in range(columns):
                array.SetValue(i + 1, j + 1, point(poles[i, j]))
        return BRepBuilderAPI_MakeFace(Geom_BezierSurface(array), 1e-7).Face()
