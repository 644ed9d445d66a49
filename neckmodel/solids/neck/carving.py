"""Carving: the waste that a carver takes away, built from faces, and the one cut that removes it.

The waste's inner boundary is the finished neck's outside everywhere: skin along the shaft, upright walls along head and
heel. No part of the outline is left to a boolean, which would fail on walls that touch the stock's own.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import PlanPath, Step, polygon
from neckmodel.solids.kernel.gate import cut, guarded
from neckmodel.solids.kernel.shapes import line_edge, path_edges, plane_face, point, polygon_face, sewn, swept, wire
from neckmodel.solids.neck.skin import BASS, DEGREE, TREBLE, Array, BackLaw, Net, SlabEnd, nets
from neckmodel.solids.neck.superellipse import DEGREE as ACROSS
from neckmodel.solids.neck.superellipse import KNOTS, POLES, SPLIT

# isort: split
import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace
from OCP.Geom import Geom_BSplineSurface
from OCP.TColgp import TColgp_Array2OfPnt
from OCP.TColStd import TColStd_Array1OfInteger, TColStd_Array1OfReal


@dataclass(frozen=True)
class Room:
    """The box that the waste fills outside the neck, mm; it must reach beyond the stock on every side.

    half_width: in y, both sides. bottom: z below everything. over: how far the waste reaches above the glue plane.
    """

    x_from: float
    x_to: float
    half_width: float
    bottom: float
    over: float = 2.0


@dataclass(frozen=True)
class _Strip:
    """A face along the neck between two corners of the plan; x runs along u, the section along v."""

    surface: Any

    def along(self, v: int) -> Any:
        """The edge of the upper (0) or lower (1) end of the strip, along the neck."""
        _, _, low, high = self.surface.Bounds()
        return BRepBuilderAPI_MakeEdge(self.surface.VIso(high if v else low)).Edge()

    def across(self, u: int) -> Any:
        """The edge at the head end (0) or the heel end (1)."""
        low, high, _, _ = self.surface.Bounds()
        return BRepBuilderAPI_MakeEdge(self.surface.UIso(high if u else low)).Edge()

    def face(self) -> Any:
        return BRepBuilderAPI_MakeFace(self.surface, 1e-7).Face()


@dataclass(frozen=True)
class _Side:
    """One side of a stretch: the rim above the glue plane, and the skin in two strips.

    The skin is parted where the box's side stops being straight, for there the slab's wall goes on.
    """

    rim: _Strip
    upper: _Strip
    lower: _Strip


def _side(net: Net, side: int, over: float) -> _Side:
    section = np.empty((len(net.x), POLES, 3))
    section[:, :, 0] = net.x[:, None]
    section[:, :, 1:] = net.poles[:, side]
    edge = section[:, 0]
    rim = np.stack([edge + np.array([0.0, 0.0, over]), edge], axis=1)
    split = float(KNOTS[SPLIT])
    strips = []
    for low, high in ((0.0, split), (split, 1.0)):
        surface = _surface(net, section, KNOTS, ACROSS)
        surface.Segment(float(net.knots[0]), float(net.knots[-1]), low, high)
        strips.append(_Strip(surface))
    return _Side(_Strip(_surface(net, rim, np.array([0.0, 1.0]), 1)), *strips)


def _surface(net: Net, poles: Array, across: Array, degree: int) -> Any:
    """The spline surface over the net's knots along x, and simple knots (full at the ends) across."""
    rows, columns = poles.shape[:2]
    array = TColgp_Array2OfPnt(1, rows, 1, columns)
    for i in range(rows):
        for j in range(columns):
            array.SetValue(i + 1, j + 1, point(poles[i, j]))
    along, times = np.unique(net.knots, return_counts=True)
    ends = [degree + 1, *[1] * (len(across) - 2), degree + 1]
    return Geom_BSplineSurface(
        array, _reals(along), _reals(across), _integers(times), _integers(ends), DEGREE, degree, False, False
    )


def waste(law: BackLaw, room: Room, volume: float | None = None, rtol: float = 1e-6) -> cq.Solid:
    """The closed solid between the neck's finished outside and the room's box.

    volume: expected from an integral over sections, mm3. Raises KernelError if a face or the sewing fails.
    """
    _check_room(law, room)
    skin = nets(law)
    with guarded("carving waste", x_from=law.x_from, x_to=law.x_to):
        stretches = [(_side(net, BASS, room.over), _side(net, TREBLE, room.over)) for net in skin]
        strips = [strip for sides in stretches for side in sides for strip in (side.rim, side.upper, side.lower)]
        faces = [strip.face() for strip in strips]
        bass, treble = ([sides[side].rim.along(0) for sides in stretches] for side in (BASS, TREBLE))
        outline = path_edges(law.head.path, room.over) + treble + path_edges(law.heel.path, room.over) + bass[::-1]
        faces += _box(room, wire(outline, "outline of the neck"))
        for end, sides, last in ((law.head, stretches[0], 0), (law.heel, stretches[-1], 1)):
            faces += _slab(end, room.over)
            strips = [side.upper for side in sides] if end.narrows is not None else []
            faces.append(_end_plane(end, [strip.across(last) for strip in (*strips, *(s.lower for s in sides))]))
    return sewn(faces, "carving waste", volume, rtol)


def carve(
    stock: cq.Solid,
    waste: cq.Solid,
    extra_tools: Iterable[cq.Solid] = (),
    volume: float | None = None,
    rtol: float = 2e-4,
) -> cq.Solid:
    """The neck: the stock less the waste and the tools, in one cut checked by the gate.

    The stock must stand at least 0.2 mm proud of the neck (1 mm is right) wherever it is carved.
    """
    return cut(stock, [waste, *extra_tools], "carving", volume, rtol)


def _check_room(law: BackLaw, room: Room) -> None:
    for name, end in (("head", law.head), ("heel", law.heel)):
        outline = end.path.polyline()
        least, most = outline.min(axis=0), outline.max(axis=0)
        inside = room.x_from < least[0] and most[0] < room.x_to and np.abs(outline[:, 1]).max() < room.half_width
        if not (inside and room.bottom < -end.slab):
            raise KernelError("carving waste", f"the {name} reaches out of the room", room=room)


def _box(room: Room, hole: Any) -> list[Any]:
    """The room's six faces, the neck's outline open in the top."""
    (a, b), y, (low, high) = (room.x_from, room.x_to), room.half_width, (room.bottom, room.over)
    corners = [(a, -y), (b, -y), (b, y), (a, y)]
    top = plane_face(wire(path_edges(polygon(corners), high)), [hole], "top of the waste")
    sides = [
        polygon_face([(*p, low), (*q, low), (*q, high), (*p, high)])
        for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    return [top, polygon_face([(*p, low) for p in corners]), *sides]


def _slab(end: SlabEnd, over: float) -> list[Any]:
    """The upright walls along the outline, and the level underneath."""
    walls = [swept(edge, (0.0, 0.0, end.slab + over), "slab's wall") for edge in path_edges(end.path, -end.slab)]
    closed = PlanPath(end.path.start, (*end.path.steps, Step(end.path.start)))
    return [*walls, plane_face(wire(path_edges(closed, -end.slab)), operation="slab's underside")]


def _end_plane(end: SlabEnd, curves: list[Any]) -> Any:
    """The step between the skin's last section and the slab, below the straight part of the box; beside and below the
    whole of it where its sides narrow."""
    x, half = end.path.start[0], abs(end.path.start[1])
    upper = -end.straight if end.narrows is None else 0.0
    corners = [(x, half, upper), (x, half, -end.slab), (x, -half, -end.slab), (x, -half, upper)]
    straight = [line_edge(p, q) for p, q in itertools.pairwise(corners)]
    return plane_face(wire([*straight, *curves]), operation="end of skin")


def _reals(values: Iterable[float]) -> Any:
    listed = list(values)
    array = TColStd_Array1OfReal(1, len(listed))
    for i, value in enumerate(listed):
        array.SetValue(i + 1, float(value))
    return array


def _integers(values: Iterable[int]) -> Any:
    listed = list(values)
    array = TColStd_Array1OfInteger(1, len(listed))
    for i, value in enumerate(listed):
        array.SetValue(i + 1, int(value))
    return array
