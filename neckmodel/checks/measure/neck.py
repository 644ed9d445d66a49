"""The carved neck prepared for measuring, once: its mesh, its skin, and the wood with the space over every opening
filled."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np
from numpy.typing import NDArray

from neckmodel.checks.measure.triangles import dot, unit_normals
from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes import SolidMesh, arrays_to_manifold, solid_mesh
from neckmodel.meshes.manifold import manifold_bytes
from neckmodel.meshes.solid import mesh_bytes
from neckmodel.meshes.weld import Ints
from neckmodel.solids.parts import NUT_END

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.solids.parts import Opening

NECK_LINEAR = 0.2
"""Deflection of the neck's first mesh, mm; where a wall is thin its skin is refined on the exact surface."""

NECK_EDGES = 0.0125
"""Deflection of the neck's edges, mm: a face's own rim is not refined later, so it is fine from the start."""

ON_PLANE = 1e-4  # mm: a vertex this near an opening's plane lies in it
SAME_WAY = 0.9999  # least cosine between a face's normal and its opening's
RISES = 0.05  # n_z of an opening too steep to have space above it to fill
_SEAL = 1e-3  # mm: half the thickness of the sheet over an upright opening; the kernel's own tolerance is 5e-6
_ABOVE = 100.0  # mm by which the filling reaches above the highest point of the wood


@dataclass(frozen=True, eq=False)
class PreparedNeck:
    """A carved, uncut neck ready for measuring walls.

    solid: the exact solid. mesh: its mesh. openings: where cutters enter. skin: (k,) numbers of the triangles that are
    finished skin. wood: the neck as a mesh solid. opened: the wood united with all space above its openings, so that
    any part of a tool outside it has broken through the skin.
    """

    solid: cq.Solid
    mesh: SolidMesh
    openings: tuple[Opening, ...]
    skin: Ints
    wood: manifold3d.Manifold
    opened: manifold3d.Manifold

    @property
    def skin_triangles(self) -> Floats:
        """(k, 3, 3) corners of the skin's triangles, mm."""
        return self.mesh.triangles[self.skin]

    @property
    def skin_faces(self) -> list[Any]:
        """The exact faces of the skin."""
        return [self.mesh.faces[number] for number in np.unique(self.mesh.face_of_triangle[self.skin])]


def prepared_bytes(neck: PreparedNeck) -> int:
    """Estimated bytes of memory that a prepared neck takes."""
    arrays = bytes_of((neck.mesh.face_of_triangle, neck.mesh.uv, neck.mesh.triangles, neck.skin))
    return mesh_bytes(neck.mesh.mesh) + 2 * arrays + manifold_bytes(neck.wood) + manifold_bytes(neck.opened)


@remembered(prepared_bytes)
def prepare_neck(carved: cq.Solid, openings: Iterable[Opening], linear: float = NECK_LINEAR) -> PreparedNeck:
    """Meshes a carved neck (deflection `linear`, mm) and divides its surface into openings and finished skin."""
    given = tuple(openings)
    mesh = solid_mesh(carved, linear, edges=min(linear, NECK_EDGES))
    triangles = mesh.triangles
    is_open = in_openings(triangles, given)
    wood = arrays_to_manifold(mesh.mesh.vertices.view(np.ndarray), mesh.mesh.faces.view(np.ndarray), "the carved neck")
    rises = is_open & (unit_normals(triangles)[:, 2] > RISES)
    top = float(triangles[:, :, 2].max()) + _ABOVE
    filling = [wood, _above(mesh, rises, top)]
    filling += [_seal(triangles[in_openings(triangles, [opening])], opening, top) for opening in given]
    filling += [_before(triangles[in_openings(triangles, [opening])], opening) for opening in given]
    opened = manifold3d.Manifold.batch_boolean(filling, manifold3d.OpType.Add)
    return PreparedNeck(carved, mesh, given, np.flatnonzero(~is_open), wood, opened)


@remembered(manifold_bytes)
def without_channel(neck: PreparedNeck, channel: manifold3d.Manifold) -> manifold3d.Manifold:
    """The neck's wood less its channel."""
    return neck.wood - channel


def in_openings(triangles: Floats, openings: Iterable[Opening]) -> NDArray[np.bool_]:
    """(m,) mask of the triangles (m, 3, 3) that lie in an opening and face the way it faces."""
    normals, middle = unit_normals(triangles), triangles.mean(axis=1)
    found = np.zeros(len(triangles), bool)
    for opening in openings:
        normal = np.asarray(opening.normal, float)
        off = np.abs((triangles - np.asarray(opening.point, float)) @ normal).max(axis=1)
        inside = (middle[:, 0] >= opening.x_from - ON_PLANE) & (middle[:, 0] <= opening.x_to + ON_PLANE)
        found |= (off < ON_PLANE) & (normals @ normal > SAME_WAY) & inside
    return found


def facing(triangles: Floats, direction: tuple[float, float, float], least: float = 0.9) -> NDArray[np.bool_]:
    """(m,) mask of the triangles whose normal is within acos(least) of a unit direction (3,)."""
    normals = unit_normals(triangles)
    mask: NDArray[np.bool_] = dot(normals, np.broadcast_to(np.asarray(direction, float), normals.shape)) > least
    return mask


def _seal(triangles: Floats, opening: Opening, top: float) -> manifold3d.Manifold:
    """A sheet over an upright opening: it closes the gap, as wide as the kernel's tolerance, between the wood and the
    space before it."""
    if opening.normal[2] > RISES or not len(triangles):
        return manifold3d.Manifold()
    low = np.unique(triangles.reshape(-1, 3), axis=0)
    high = np.column_stack([low[:, :2], np.full(len(low), top)])
    leaf = _SEAL * np.asarray(opening.normal, float)
    both = np.vstack([low, high])
    return manifold3d.Manifold.hull_points(np.vstack([both - leaf, both + leaf]))


def _before(triangles: Floats, opening: Opening) -> manifold3d.Manifold:
    """The space before an opening at an end of the wood, which no other opening has above it."""
    at_end = opening.normal[0] > 1 - RISES or opening.name == NUT_END
    if not at_end or not len(triangles):
        return manifold3d.Manifold()
    corners = np.unique(triangles.reshape(-1, 3), axis=0)
    return manifold3d.Manifold.hull_points(np.vstack([corners, corners + _ABOVE * np.asarray(opening.normal, float)]))


def _above(mesh: SolidMesh, chosen: NDArray[np.bool_], level: float) -> manifold3d.Manifold:
    """The upright prism over the chosen triangles, from them to a level above the wood."""
    corners = mesh.mesh.faces.view(np.ndarray)[chosen].astype(np.int64)
    if not len(corners):
        return manifold3d.Manifold()
    vertices = mesh.mesh.vertices.view(np.ndarray)
    count = len(vertices)
    edges = np.vstack([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
    rim = edges[~np.isin(edges[:, 0] * count + edges[:, 1], edges[:, 1] * count + edges[:, 0])]
    start, end = rim[:, 0], rim[:, 1]
    low, high = np.column_stack([start, end, end + count]), np.column_stack([start, end + count, start + count])
    top = vertices.copy()
    top[:, 2] = level
    skin = np.vstack([corners[:, ::-1], corners + count, low, high])
    return arrays_to_manifold(np.vstack([vertices, top]), skin, "the space above the openings")
