"""The part of a cutting tool that lies in the wood, and the part that has come out through the skin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import trimesh
from numpy.typing import NDArray

from neckmodel.checks.measure.neck import PreparedNeck, in_openings
from neckmodel.checks.measure.triangles import unit_normals
from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes import from_manifold, manifold_arrays, mesh_of, to_manifold
from neckmodel.meshes.solid import mesh_bytes
from neckmodel.solids.parts import Opening

if TYPE_CHECKING:
    import cadquery as cq

TOOL_LINEAR = 0.005
"""Deflection of a tool's mesh, mm: tools are flat-sided with a few small rounds, so that fineness costs little."""

_NO_VOLUME = 1e-6  # mm3, what a boolean leaves of two solids that only touch
_WIDE = 1e4  # beyond any neck, mm


@dataclass(frozen=True, eq=False)
class ToolInWood:
    """surface: (s, 3, 3) triangles of the tool's own surface within the wood, without those in openings, mm.

    escaped: (k, 3) corners of the part of the tool outside the wood and not above an opening; none where the wall
    holds.
    """

    surface: Floats
    escaped: Floats


def tool_mesh(solid: cq.Solid) -> trimesh.Trimesh:
    """A tool's mesh, fine enough that its own error hardly matters."""
    return mesh_of(solid, TOOL_LINEAR)


@remembered(mesh_bytes)
def below_glue_plane(tool: trimesh.Trimesh, step: str, x_end: float | None) -> trimesh.Trimesh:
    """A step's tool as far as the glue plane, and as far as x_end, mm, if given: what it overruns cuts no wood."""
    whole = to_manifold(tool, step).trim_by_plane((0.0, 0.0, -1.0), 0.0)
    return from_manifold(whole if x_end is None else whole.trim_by_plane((-1.0, 0.0, 0.0), -x_end))


@remembered(bytes_of)
def in_wood(neck: PreparedNeck, tool: trimesh.Trimesh, between: tuple[float, float] | None = None) -> ToolInWood:
    """Divides a tool at the wood's surface. between: only the tool's length within this range of x.

    Faces made by the division itself are not the tool's and are left out, as are faces of the tool that lie in an
    opening.
    """
    whole = to_manifold(tool, "a channel tool").as_original()
    kept = whole if between is None else whole ^ _slab(*between)
    own = _own_triangles(kept ^ neck.wood, whole.original_id())
    escaped = kept - neck.opened
    corners = np.empty((0, 3))
    if escaped.volume() > _NO_VOLUME:
        corners = manifold_arrays(escaped)[0]
    return ToolInWood(own[~_in_plane_of(own, neck.openings)], corners)


def _slab(x0: float, x1: float) -> manifold3d.Manifold:
    return manifold3d.Manifold.cube((x1 - x0, _WIDE, _WIDE), True).translate(((x0 + x1) / 2, 0.0, 0.0))


def _own_triangles(solid: manifold3d.Manifold, original: int) -> Floats:
    """(s, 3, 3) triangles of the solid that came from the mesh with this id."""
    mesh = solid.to_mesh64()
    vertices, corners = np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts).astype(np.int64)
    starts = np.asarray(mesh.run_index).astype(np.int64) // 3
    runs = [
        np.arange(starts[run], starts[run + 1])
        for run, came_from in enumerate(mesh.run_original_id)
        if came_from == original
    ]
    chosen = np.concatenate(runs) if runs else np.empty(0, np.int64)
    own: Floats = vertices[corners[chosen]]
    return own


def _in_plane_of(triangles: Floats, openings: tuple[Opening, ...]) -> NDArray[np.bool_]:
    """Mask of the triangles that lie in an opening, whichever way they face."""
    if not len(triangles):
        return np.zeros(0, bool)
    turned = triangles[:, ::-1]
    has_area = np.linalg.norm(unit_normals(triangles), axis=1) > 0
    mask: NDArray[np.bool_] = (in_openings(triangles, openings) | in_openings(turned, openings)) & has_area
    return mask
