"""Closed meshes of exact solids, with their error. Besides the solids, the only room that names the CAD kernel."""

from __future__ import annotations

from neckmodel.meshes.deviation import deviation, stated_error
from neckmodel.meshes.manifold import (
    arrays_to_manifold,
    divided,
    from_manifold,
    less,
    manifold_arrays,
    to_manifold,
    united,
)
from neckmodel.meshes.solid import SolidMesh, mesh_of, solid_mesh

__all__ = [
    "SolidMesh",
    "arrays_to_manifold",
    "deviation",
    "divided",
    "from_manifold",
    "less",
    "manifold_arrays",
    "mesh_of",
    "solid_mesh",
    "stated_error",
    "to_manifold",
    "united",
]
