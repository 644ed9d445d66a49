"""The exact box of a solid, from its edges and from the farthest inner points of its curved faces.

The kernel's own box of a trimmed face is that of the untrimmed surface, which may be some mm larger.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of

# isort: split
import cadquery as cq
from OCP.Bnd import Bnd_Box
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepTopAdaptor import BRepTopAdaptor_FClass2d
from OCP.GeomAbs import GeomAbs_BSplineSurface, GeomAbs_Plane
from OCP.gp import gp_Pnt, gp_Pnt2d, gp_Vec
from OCP.TopAbs import TopAbs_OUT

Bounds = tuple[float, float, float, float, float, float]

GRID = 12  # places along each side of a face at which its farthest point is looked for
A_SPAN = 3  # places in each span of a spline
STEPS = 12  # of Newton's method from the farthest place; each doubles the number of right digits
CLASS = 1e-7  # how near a face's edge counts as inside


@remembered(bytes_of)
def box(solid: cq.Shape) -> Bounds:
    """(xmin, ymin, zmin, xmax, ymax, zmax), mm."""
    low, high = np.full(3, np.inf), np.full(3, -np.inf)
    for edge in solid.Edges():
        found = Bnd_Box()
        BRepBndLib.AddOptimal_s(edge.wrapped, found, False, False)
        found.SetGap(0.0)
        x0, y0, z0, x1, y1, z1 = found.Get()
        low, high = np.minimum(low, (x0, y0, z0)), np.maximum(high, (x1, y1, z1))
    for face in solid.Faces():
        for axis, sign, value in _farthest(face.wrapped, low, high):
            if sign > 0:
                high[axis] = max(high[axis], value)
            else:
                low[axis] = min(low[axis], value)
    return tuple(float(v) for v in (*low, *high))  # type: ignore[return-value]


def _farthest(face: Any, low: Floats, high: Floats) -> Iterator[tuple[int, int, float]]:
    """(axis, sign, coordinate) of the face's farthest inner points, where they lie beyond the box of the edges."""
    surface = BRepAdaptor_Surface(face)
    if surface.GetType() == GeomAbs_Plane:
        return
    ways = _beyond(face, low, high)
    if not ways:
        return
    us, vs = _places(surface)
    grid = np.array([[_at(surface, u, v) for v in vs] for u in us])
    inside = BRepTopAdaptor_FClass2d(face, CLASS)
    for axis, sign in ways:
        reached = high[axis] if sign > 0 else -low[axis]
        heights = sign * grid[:, :, axis]
        order = np.argsort(heights, axis=None)[::-1]
        # the highest point lies between the places: start from all places that could have one above the box
        margin = float(np.abs(np.diff(heights, axis=0)).max() + np.abs(np.diff(heights, axis=1)).max())
        for index in order:
            i, j = divmod(int(index), len(vs))
            if heights[i, j] + margin <= reached:
                break
            if inside.Perform(gp_Pnt2d(us[i], vs[j])) == TopAbs_OUT:
                continue
            u, v = _climbed(surface, float(us[i]), float(vs[j]), axis)
            tops = [(us[i], vs[j]), (u, v)]
            kept = [at for at in tops if inside.Perform(gp_Pnt2d(*map(float, at))) != TopAbs_OUT]
            yield axis, sign, sign * max(sign * _at(surface, *at)[axis] for at in kept)
            break


def _beyond(face: Any, low: Floats, high: Floats) -> list[tuple[int, int]]:
    """(axis, sign) of each side of the edges' box that the face may stand out of: the kernel's quick box of a face is
    too large, never too small."""
    quick = Bnd_Box()
    BRepBndLib.Add_s(face, quick, False)
    corners = quick.Get()
    return [
        (axis, sign)
        for axis in range(3)
        for sign, reached, bound in ((1, corners[axis + 3], high[axis]), (-1, -corners[axis], -low[axis]))
        if reached > bound
    ]


def _places(surface: BRepAdaptor_Surface) -> tuple[Floats, Floats]:
    """Parameters of the grid, within the face's own bounds."""
    counts = (GRID, GRID)
    if surface.GetType() == GeomAbs_BSplineSurface:
        counts = (max(GRID, A_SPAN * surface.NbUKnots()), max(GRID, A_SPAN * surface.NbVKnots()))
    u0, u1, v0, v1 = (
        surface.FirstUParameter(),
        surface.LastUParameter(),
        surface.FirstVParameter(),
        surface.LastVParameter(),
    )
    return np.linspace(u0, u1, counts[0] + 1), np.linspace(v0, v1, counts[1] + 1)


def _at(surface: BRepAdaptor_Surface, u: float, v: float) -> tuple[float, float, float]:
    p = surface.Value(float(u), float(v))
    return p.X(), p.Y(), p.Z()


def _climbed(surface: BRepAdaptor_Surface, u: float, v: float, axis: int) -> tuple[float, float]:
    """The point, found from (u, v) by Newton's method, at which the surface is level against an axis; kept within its
    bounds."""
    bounds = np.array(
        [
            [surface.FirstUParameter(), surface.FirstVParameter()],
            [surface.LastUParameter(), surface.LastVParameter()],
        ]
    )
    at, p = np.array([u, v]), gp_Pnt()
    du, dv, duu, dvv, duv = (gp_Vec() for _ in range(5))
    for _ in range(STEPS):
        surface.D2(*map(float, at), p, du, dv, duu, dvv, duv)
        slope = np.array([_of(du, axis), _of(dv, axis)])
        curved = np.array([[_of(duu, axis), _of(duv, axis)], [_of(duv, axis), _of(dvv, axis)]])
        step = np.linalg.lstsq(curved, -slope, rcond=None)[0]  # a cylinder is level all along a line
        at = np.clip(at + step, *bounds)
    return float(at[0]), float(at[1])


def _of(vector: gp_Vec, axis: int) -> float:
    return float((vector.X(), vector.Y(), vector.Z())[axis])
