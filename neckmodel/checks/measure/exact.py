"""The least wall by a second route: the exact distance of the tool's faces from the skin's, without any mesh."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from neckmodel.checks.measure.neck import ON_PLANE, RISES, SAME_WAY
from neckmodel.checks.measure.triangles import as_point
from neckmodel.geometry.types import Floats, Point3
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes.arrays import faces_of
from neckmodel.meshes.exact import block, centre_of, compound, cut_away, exact_distance, plane_of

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.solids.parts import Opening

_FAR = 2000.0  # beyond any neck, mm

Plane = tuple[Point3, Point3, float, float]


@dataclass(frozen=True)
class ExactWall:
    """value: the wall, mm; 0 where the tool touches or crosses the skin. at_tool, at_skin: the nearest points."""

    value: float
    at_tool: Point3
    at_skin: Point3


@remembered(bytes_of)
def exact_wall(
    tool: cq.Solid,
    carved: cq.Solid,
    openings: Iterable[Opening],
    *,
    between: tuple[float, float] | None = None,
    toward: Point3 | None = None,
    from_x: float = -math.inf,
) -> ExactWall | None:
    """The least distance of a tool's faces within the wood from the finished skin; None where there are none.

    The tool is cut off at the openings, which must be level across (normal without a y part). between: only the tool's
    length within this range of x. toward: only flat skin whose outward normal is within 25 degrees of this unit vector,
    its middle from from_x on.
    """
    given = tuple(openings)
    air = [_above(opening) for opening in given if opening.normal[2] > RISES]
    ends: list[Plane] = []
    if between is not None:
        x0, x1 = between
        air += [block(_level(-_FAR, x0), _FAR), block(_level(x1, _FAR), _FAR)]
        ends = [((x0, 0.0, 0.0), (1.0, 0.0, 0.0), x0, x0), ((x1, 0.0, 0.0), (1.0, 0.0, 0.0), x1, x1)]
    planes = [(opening.point, opening.normal, opening.x_from, opening.x_to) for opening in given]
    sides = [
        face for face in faces_of(cut_away(tool.wrapped, air)) if not _lies_in(face, planes + ends, either_way=True)
    ]
    skin = [face for face in faces_of(carved.wrapped) if not _lies_in(face, planes)]
    if toward is not None:
        near = from_x - ON_PLANE
        skin = [f for f in skin if _looks(f, np.asarray(toward, float)) and float(centre_of(f)[0]) >= near]
    if not sides or not skin:
        return None
    value, here, there = exact_distance(compound(sides), compound(skin))
    return ExactWall(value, as_point(here), as_point(there))


def _lies_in(face: Any, planes: Iterable[Plane], *, either_way: bool = False) -> bool:
    """Whether a face is flat and lies in one of the planes (point, normal, range of x)."""
    flat = plane_of(face)
    if flat is None:
        return False
    point, normal = flat
    x = float(centre_of(face)[0])
    for where, direction, x_from, x_to in planes:
        along = float(normal @ np.asarray(direction))
        same = abs(along) if either_way else along
        off = abs(float((point - np.asarray(where)) @ np.asarray(direction)))
        if same > SAME_WAY and off < ON_PLANE and x_from - ON_PLANE <= x <= x_to + ON_PLANE:
            return True
    return False


def _looks(face: Any, direction: Floats) -> bool:
    flat = plane_of(face)
    return flat is not None and float(flat[1] @ direction) > 0.9


def _above(opening: Opening) -> Any:
    (px, _, pz), (nx, _, nz) = opening.point, opening.normal
    (x0, z0), (x1, z1) = ((x, pz - nx / nz * (x - px)) for x in (opening.x_from, opening.x_to))
    return block([(x0, z0), (x1, z1), (x1, _FAR), (x0, _FAR)], _FAR)


def _level(x0: float, x1: float) -> list[tuple[float, float]]:
    return [(x0, -_FAR), (x1, -_FAR), (x1, _FAR), (x0, _FAR)]
