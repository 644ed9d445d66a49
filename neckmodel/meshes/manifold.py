"""Meshes in the library that does booleans, hulls and gaps."""

from __future__ import annotations

import manifold3d
import numpy as np
import trimesh

from neckmodel.errors import MeshError
from neckmodel.geometry.types import Floats
from neckmodel.meshes.weld import Ints


def to_manifold(mesh: trimesh.Trimesh, what: str = "a mesh") -> manifold3d.Manifold:
    """The mesh as a solid for booleans; `what` names it in the error where it is not closed."""
    return arrays_to_manifold(mesh.vertices.view(np.ndarray), mesh.faces.view(np.ndarray), what)


def arrays_to_manifold(vertices: Floats, triangles: Ints, what: str = "a mesh") -> manifold3d.Manifold:
    """Vertices (n, 3) mm and triangles (m, 3), closed and wound outward, as a solid for booleans."""
    # copies, for the library refuses arrays that are read-only
    mesh = manifold3d.Mesh64(np.array(vertices, np.float64, order="C"), np.array(triangles, np.uint64, order="C"))
    solid = manifold3d.Manifold(mesh)
    if solid.status() != manifold3d.Error.NoError:
        raise MeshError(f"{what} cannot be used for comparing solids: {solid.status().name}")
    return solid


def manifold_arrays(solid: manifold3d.Manifold) -> tuple[Floats, Ints]:
    """Vertices (n, 3) mm and triangles (m, 3) of a solid; both empty for an empty one."""
    mesh = solid.to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3].copy(), np.asarray(mesh.tri_verts).astype(np.int64)


def from_manifold(solid: manifold3d.Manifold) -> trimesh.Trimesh:
    """A solid of booleans back as a mesh, mm."""
    vertices, triangles = manifold_arrays(solid)
    return trimesh.Trimesh(vertices, triangles, process=False)
