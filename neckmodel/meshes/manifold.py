"""Meshes in the library that does booleans, hulls and gaps."""

from __future__ import annotations

import manifold3d
import numpy as np
import trimesh

from neckmodel.errors import MeshError
from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.meshes.solid import held_still, mesh_bytes
from neckmodel.meshes.weld import Ints

A_TRIANGLE = 256  # bytes of memory, with its halfedges, corners and boxes; an estimate


def manifold_bytes(solid: manifold3d.Manifold) -> int:
    """Estimated bytes of memory that a solid of booleans takes."""
    return A_TRIANGLE * int(solid.num_tri())


@remembered(manifold_bytes)
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


@remembered(mesh_bytes)
def from_manifold(solid: manifold3d.Manifold) -> trimesh.Trimesh:
    """A solid of booleans back as a mesh, mm."""
    vertices, triangles = manifold_arrays(solid)
    return held_still(trimesh.Trimesh(vertices, triangles, process=False))


@remembered(manifold_bytes)
def united(solids: tuple[manifold3d.Manifold, ...]) -> manifold3d.Manifold:
    """All solids as one."""
    return manifold3d.Manifold.batch_boolean(list(solids), manifold3d.OpType.Add)


@remembered(manifold_bytes)
def less(solid: manifold3d.Manifold, taken: tuple[manifold3d.Manifold, ...]) -> manifold3d.Manifold:
    """A solid less others."""
    return manifold3d.Manifold.batch_boolean([solid, *taken], manifold3d.OpType.Subtract)


@remembered(lambda pieces: sum(map(manifold_bytes, pieces)))
def divided(solid: manifold3d.Manifold, rooms: tuple[manifold3d.Manifold, ...]) -> tuple[manifold3d.Manifold, ...]:
    """What rooms leave of a solid, then what lies in each of them that earlier ones have left."""
    found = []
    for room in rooms:
        piece, solid = solid ^ room, solid - room
        found.append(piece)
    return (solid, *found)
