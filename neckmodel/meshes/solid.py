"""From an exact solid to a closed triangle mesh that knows its faces and its error."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import trimesh
from OCP.BRepBuilderAPI import BRepBuilderAPI_Copy
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.IMeshTools import IMeshTools_MeshAlgoType, IMeshTools_Parameters

from neckmodel.errors import MeshError
from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.meshes.arrays import faces_of, read_faces
from neckmodel.meshes.exact import curved_surface
from neckmodel.meshes.weld import Ints, open_edges, weld

if TYPE_CHECKING:
    import cadquery as cq

WATSON = IMeshTools_MeshAlgoType.IMeshTools_MeshAlgoType_Watson
DELABELLA = IMeshTools_MeshAlgoType.IMeshTools_MeshAlgoType_Delabella
ANGULAR = 0.5
"""Angle between neighbouring facets that is asked for, rad; the linear deflection is what bounds the error."""


WAYS = (
    (1, 1, WATSON),
    (1, 1, DELABELLA),
    (4, 1, WATSON),
    (4, 1, DELABELLA),
    (16, 1, DELABELLA),
    (1, 5, WATSON),
    (1, 5, DELABELLA),
)
"""What is tried until the skin closes: how much finer edges and angles are, and the kernel's algorithm.

A coarse rim may cross itself where a channel comes out of the skin, and the first algorithm now and then leaves a hole
in a flat face with many corners.
"""


@dataclass(frozen=True, eq=False)
class SolidMesh:
    """The mesh of a solid, with its exact faces.

    mesh: closed, wound outward, mm, in the solid's own frame. face_of_triangle: (m,) number of the exact face of each
    triangle. uv: (m, 3, 2) surface parameters of each triangle's corners. faces: the kernel's exact faces, in the order
    of their numbers. linear, edges: deflections asked for, mm: of the skin, and of the edges between faces.
    """

    mesh: trimesh.Trimesh
    face_of_triangle: Ints
    uv: Floats
    faces: tuple[Any, ...]
    linear: float
    edges: float

    @cached_property
    def triangles(self) -> Floats:
        """(m, 3, 3) corners of the triangles, mm."""
        corners: Floats = self.mesh.vertices.view(np.ndarray)[self.mesh.faces.view(np.ndarray)]
        return corners

    @cached_property
    def surfaces(self) -> tuple[Any | None, ...]:
        """The surface of each face, untrimmed and in place; None for a flat one."""
        return tuple(curved_surface(face) for face in self.faces)


def held_still(mesh: trimesh.Trimesh) -> trimesh.Trimesh:
    """The same mesh, from now on refusing to be changed: it is remembered, and others look at it too."""
    mesh._data.mutable = False
    return mesh


def mesh_bytes(mesh: trimesh.Trimesh) -> int:
    """Estimated bytes of memory that a mesh takes, with what the mesh library works out of it."""
    return 3 * (mesh.vertices.nbytes + mesh.faces.nbytes)


@remembered(mesh_bytes)
def mesh_of(shape: cq.Shape, linear: float, angular: float = ANGULAR) -> trimesh.Trimesh:
    """A closed mesh of a solid, at most about `linear` (mm) from it; `angular` in rad.

    The shape itself is not changed, and the same shape always gives the same mesh: the kernel keeps the finest mesh it
    ever made of a shape, so a bare copy is meshed. Raises MeshError where the mesh does not close.
    """
    return held_still(solid_mesh(shape, linear, angular).mesh)


def solid_mesh(shape: cq.Shape, linear: float, angular: float = ANGULAR, edges: float | None = None) -> SolidMesh:
    """As `mesh_of`, with each triangle's exact face and surface parameters.

    edges: a deflection (mm) of its own for the edges between faces, where they must be truer than the skin.
    """
    failed = ""
    for finer, sharper, algorithm in WAYS:
        fine = (edges or linear) / finer
        copy = tessellated(shape, linear, angular / sharper, fine, algorithm)
        try:
            meshes = read_faces(copy)
        except MeshError as error:  # this way left a face out; the next one may not
            failed = str(error)
            continue
        sizes = np.cumsum([0] + [len(face.nodes) for face in meshes])
        nodes = np.vstack([face.nodes for face in meshes])
        corners = np.vstack([face.triangles + start for face, start in zip(meshes, sizes[:-1], strict=True)])
        vertices, triangles, kept = weld(nodes, corners)
        loose = open_edges(triangles)
        if loose:
            failed = f"meshing a solid at {linear} mm: the skin does not close ({loose} open edges)"
            continue
        uv = np.vstack([np.zeros((len(face.nodes), 2)) if face.uv is None else face.uv for face in meshes])
        numbers = np.repeat(np.arange(len(meshes)), [len(face.triangles) for face in meshes])
        mesh = trimesh.Trimesh(vertices, triangles, process=False)
        return SolidMesh(mesh, numbers[kept], uv[corners[kept]], tuple(faces_of(copy)), linear, fine)
    raise MeshError(failed)


def tessellated(
    shape: cq.Shape, linear: float, angular: float = ANGULAR, edges: float | None = None, algorithm: Any = WATSON
) -> Any:
    """A kernel copy of the shape that carries a triangulation of exactly the fineness asked for, and of no other."""
    if not min(linear, linear if edges is None else edges) > 0:
        raise MeshError(f"meshing a solid: the deflection must be positive, not {linear} mm")
    copy = BRepBuilderAPI_Copy(shape.wrapped, False, False).Shape()  # shares the surfaces, but not their meshes
    asked = IMeshTools_Parameters()
    asked.Deflection, asked.DeflectionInterior = edges or linear, linear
    asked.Angle = asked.AngleInterior = angular
    asked.MeshAlgo = algorithm
    asked.Relative = False  # absolute deflections; relative ones have another meaning
    asked.InParallel = False  # one thread, so that the mesh is the same every time
    BRepMesh_IncrementalMesh(copy, asked)
    return copy
