"""Wood between round holes and a channel, or the skin. A hole is an axis with a radius, so its side is exact."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from neckmodel.checks.measure.bracket import bracket
from neckmodel.checks.measure.cutter import TOOL_LINEAR, ToolInWood
from neckmodel.checks.measure.neck import PreparedNeck
from neckmodel.checks.measure.pairs import Pair, least_pair
from neckmodel.checks.measure.triangles import as_point, pierced, unit_normals
from neckmodel.geometry.types import Floats, Point3
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes.exact import point_to_faces

_TOUCH = 0.25  # mm: an axis that ends this near a face counts as starting on it; the neck's mesh is off by less


@dataclass(frozen=True)
class RoundHole:
    """A drilled hole, screw or dowel, mm: its axis from `start`, where it enters the wood, to `end`, and its radius.

    through: whether it is meant to come out at `end`. A blind end counts as a half ball, which errs on the safe side.
    """

    start: Point3
    end: Point3
    radius: float
    through: bool = False

    @property
    def axis(self) -> Floats:
        """(1, 3, 3): the axis as a triangle without area, so that distances to it need no code of their own."""
        return np.array([[self.start, self.end, self.end]], float)


@dataclass(frozen=True)
class HoleWall:
    """lo, hi: the true wood lies between them, mm; negative where hole and other surface meet. at_hole: on the axis;
    at_other: the nearest point."""

    lo: float
    hi: float
    at_hole: Point3
    at_other: Point3


@remembered(bytes_of)
def hole_to_tool(hole: RoundHole, tool: ToolInWood, tool_error: float = TOOL_LINEAR) -> HoleWall | None:
    """Wood between a hole's side and a channel tool in the wood; None where the tool is not in the wood.

    Where the axis itself enters the tool the wood is minus the radius.
    """
    if not len(tool.surface):
        return None
    found = _from_axis(hole, tool.surface)
    wood = found.distance - hole.radius
    return HoleWall(wood - tool_error, wood + tool_error, as_point(found.on_first), as_point(found.on_second))


@remembered(bytes_of)
def hole_to_skin(hole: RoundHole, neck: PreparedNeck, facing: float = math.inf) -> HoleWall | None:
    """Wood between a hole's side and the finished skin; None where all skin near it is what the hole is drilled
    through.

    The faces that the first half of the axis meets (for a through hole, the whole axis) are those it is drilled
    through, and count as no wall. Coming out at a blind end gives minus the radius. facing: skin counts only where the
    cosine between its normal and the hole's axis is less, either way round: a back that continues round the hole's
    mouth is no wall of it.
    """
    skin = neck.skin[~np.isin(neck.mesh.face_of_triangle[neck.skin], _drilled(hole, neck))]
    axis = np.subtract(hole.end, hole.start)
    skin = skin[np.abs(unit_normals(neck.mesh.triangles[skin]) @ (axis / np.linalg.norm(axis))) < facing]
    if not len(skin):
        return None
    first = _from_axis(hole, neck.mesh.triangles[skin])
    if first.distance == 0.0:
        return HoleWall(-hole.radius, -hole.radius, as_point(first.on_first), as_point(first.on_second))
    found = bracket(neck.mesh, skin, hole.axis, first.distance)
    exact, foot = point_to_faces(found.at_tool, [neck.mesh.faces[found.face]])
    hi = min(found.hi, exact) - hole.radius
    return HoleWall(found.lo - hole.radius, hi, as_point(found.at_tool), as_point(foot))


def _from_axis(hole: RoundHole, triangles: Floats) -> Pair:
    """The nearest points of the axis and triangles (k, 3, 3); distance 0 where the axis goes through one."""
    start, end, _ = hole.axis[0]
    crossed = np.flatnonzero(pierced(start, end, triangles))
    if len(crossed):
        i = int(crossed[0])
        spot = _crossing(start, end, triangles[i])
        return Pair(0.0, spot, spot, 0, i)
    return least_pair(hole.axis, triangles)


def _crossing(start: Floats, end: Floats, triangle: Floats) -> Floats:
    normal = np.cross(triangle[1] - triangle[0], triangle[2] - triangle[0])
    share = float((triangle[0] - start) @ normal / ((end - start) @ normal))
    spot: Floats = start + share * (end - start)
    return spot


def _drilled(hole: RoundHole, neck: PreparedNeck) -> NDArray[np.int64]:
    """Numbers of the faces that the hole is meant to go through; its axis is extended a little at the open ends."""
    start, end, _ = hole.axis[0]
    along = (end - start) / np.linalg.norm(end - start)
    last = end + _TOUCH * along if hole.through else (start + end) / 2
    met = pierced(start - _TOUCH * along, last, neck.mesh.triangles)
    numbers: NDArray[np.int64] = np.unique(neck.mesh.face_of_triangle[met])
    return numbers
