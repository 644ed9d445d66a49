"""The least wall between a cutting tool and the finished skin of the neck."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import trimesh
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from neckmodel.checks.measure.bracket import bracket
from neckmodel.checks.measure.cutter import TOOL_LINEAR, in_wood
from neckmodel.checks.measure.neck import ON_PLANE, PreparedNeck, facing
from neckmodel.checks.measure.pairs import least_pair
from neckmodel.checks.measure.triangles import as_point, point_triangle
from neckmodel.geometry.types import Floats, Point3
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes import stated_error
from neckmodel.meshes.exact import lies_outside, point_to_faces
from neckmodel.meshes.weld import Ints


@dataclass(frozen=True)
class Wall:
    """The wood left between a tool and the skin, mm.

    lo, hi: the true wall lies between them; negative, by the tool's depth, where the tool has come out through the
    skin. at_tool, at_skin: the nearest points. face: number of the exact face there, in the prepared neck's mesh.
    through: whether the tool comes out. range_x: x between which the wall is within 0.02 of the least.
    """

    lo: float
    hi: float
    at_tool: Point3
    at_skin: Point3
    face: int
    through: bool
    range_x: tuple[float, float]


@remembered(bytes_of)
def least_wall(
    neck: PreparedNeck,
    tool: trimesh.Trimesh,
    *,
    tool_error: float = TOOL_LINEAR,
    between: tuple[float, float] | None = None,
    toward: Point3 | None = None,
    from_x: float = -math.inf,
) -> Wall | None:
    """The least wall between a tool's mesh and the neck's skin; None where no part of the tool is in the wood.

    tool_error: bound for the distance of the tool's mesh from the tool, mm. between: only the tool's length within
    this range of x. toward: only flat skin whose outward normal is within 25 degrees of this unit vector, and that
    reaches as far as from_x.
    """
    part = in_wood(neck, tool, between)
    skin = neck.skin
    if toward is not None:
        flat = np.array([surface is None for surface in neck.mesh.surfaces])[neck.mesh.face_of_triangle[skin]]
        far = neck.skin_triangles[:, :, 0].max(axis=1) >= from_x - ON_PLANE
        skin = skin[flat & far & facing(neck.skin_triangles, toward)]
    if not len(skin):
        return None
    broken = _break_through(neck, skin, part.escaped, tool_error)
    if broken is not None or not len(part.surface):
        return broken
    first = least_pair(part.surface, neck.mesh.triangles[skin])
    found = bracket(neck.mesh, skin, part.surface, first.distance)
    exact, foot = point_to_faces(found.at_tool, [neck.mesh.faces[found.face]])
    return Wall(
        lo=found.lo - tool_error,
        hi=min(found.hi, exact) + tool_error,
        at_tool=as_point(found.at_tool),
        at_skin=as_point(foot),
        face=found.face,
        through=False,
        range_x=found.range_x,
    )


def _break_through(neck: PreparedNeck, skin: Ints, escaped: Floats, tool_error: float) -> Wall | None:
    """A negative wall, from the corner of the escaped volume that is farthest from the skin."""
    if not len(escaped):
        return None
    found = _deepest(escaped, neck.skin_triangles, np.isin(neck.skin, skin))
    if found is None:
        return None
    corner, nearest, number = found
    if np.linalg.norm(corner - nearest) <= ON_PLANE:
        return None
    face = int(neck.mesh.face_of_triangle[neck.skin[number]])
    error = stated_error(neck.mesh, neck.mesh.face_of_triangle == face) + tool_error
    depth = float(np.linalg.norm(corner - nearest))
    exact, _ = point_to_faces(corner, neck.skin_faces)
    outside = lies_outside(corner, neck.solid.wrapped)
    return Wall(
        lo=-depth - error,
        hi=(-exact if outside else exact) + tool_error,
        at_tool=as_point(corner),
        at_skin=as_point(nearest),
        face=face,
        through=True,
        range_x=(float(escaped[:, 0].min()), float(escaped[:, 0].max())),
    )


def _deepest(points: Floats, triangles: Floats, counted: NDArray[np.bool_]) -> tuple[Floats, Floats, int] | None:
    """The one of points (k, 3) that is farthest from triangles (n, 3, 3), its nearest point there, and that triangle's
    number.

    Points whose nearest triangle is not counted (mask (n,)) are left out.
    """
    unique = np.unique(points, axis=0)
    bound = cKDTree(triangles.reshape(-1, 3)).query(unique)[0]
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    best, found = -1.0, None
    for i in np.argsort(-bound, kind="stable"):
        if bound[i] <= best:
            break
        gap = np.maximum(np.maximum(low - unique[i], unique[i] - high), 0)
        near = np.flatnonzero(np.linalg.norm(gap, axis=1) <= bound[i])
        spot, square = point_triangle(np.broadcast_to(unique[i], (len(near), 3)), triangles[near])
        j = int(square.argmin())
        if counted[near[j]] and square[j] > best * abs(best):
            best, found = float(np.sqrt(square[j])), (unique[i], spot[j], int(near[j]))
    return found
