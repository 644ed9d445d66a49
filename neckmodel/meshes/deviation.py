"""How far a mesh really is from its solid. The deflection asked for is only the kernel's target, not a promise."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from OCP.gp import gp_Pnt, gp_Vec

from neckmodel.geometry.types import Floats
from neckmodel.meshes.solid import SolidMesh

SAFETY = 1.25
"""Factor from the largest sampled error to the stated one: four points in a triangle only come near its worst point."""

_SAMPLES = np.array([[1, 1, 1], [4, 1, 1], [1, 4, 1], [1, 1, 4]], float)
_SAMPLES /= _SAMPLES.sum(axis=1, keepdims=True)
_STEPS = 2  # Gauss-Newton steps toward the foot; the first guess is off by no more than the mesh's error


def stated_error(solid: SolidMesh, chosen: NDArray[np.bool_] | None = None) -> float:
    """The bound to state for the mesh's distance from the solid, mm: the deflection asked for, or 1.25 x the sampled
    one.

    chosen: (m,) mask of the triangles that matter; all by default.
    """
    return max(solid.linear, SAFETY * deviation(solid, chosen))


def deviation(solid: SolidMesh, chosen: NDArray[np.bool_] | None = None) -> float:
    """Largest distance (mm) from four points of each chosen triangle to the exact surface it stands for."""
    mask = np.ones(len(solid.face_of_triangle), bool) if chosen is None else chosen
    largest = 0.0
    for number in np.unique(solid.face_of_triangle[mask]):
        surface = solid.surfaces[number]
        if surface is None:
            continue
        mine = mask & (solid.face_of_triangle == number)
        largest = max(largest, float(triangle_deviation(surface, solid.triangles[mine], solid.uv[mine]).max()))
    return largest


def triangle_deviation(surface: Any, corners: Floats, uv: Floats) -> Floats:
    """(k,) largest distance (mm) of four points of each triangle from a surface.

    corners: (k, 3, 3) mm. uv: (k, 3, 2) surface parameters of the corners.
    """
    points = (_SAMPLES @ corners).reshape(-1, 3)
    guesses = (_SAMPLES @ uv).reshape(-1, 2)
    largest: Floats = distance_to_surface(surface, points, guesses).reshape(-1, len(_SAMPLES)).max(axis=1)
    return largest


def distance_to_surface(surface: Any, points: Floats, uv: Floats) -> Floats:
    """(k,) distances of points (k, 3) mm to a surface, from guesses uv (k, 2). Never too small by more than rounding.

    The foot of every step lies on the surface, so each distance is at least the true one; the least is kept.
    """
    nearest = np.full(len(points), np.inf)
    for _ in range(_STEPS):
        foot, along_u, along_v = surface_frames(surface, uv)
        gap = points - foot
        nearest = np.minimum(nearest, np.linalg.norm(gap, axis=1))
        uv = uv + _tangent_step(gap, along_u, along_v)
    return nearest


def surface_frames(surface: Any, uv: Floats) -> tuple[Floats, Floats, Floats]:
    """Points and both first derivatives, each (k, 3), of a surface at parameters uv (k, 2)."""
    frames = np.empty((len(uv), 9))
    point, along_u, along_v = gp_Pnt(), gp_Vec(), gp_Vec()
    for row, (u, v) in zip(frames, uv.tolist(), strict=True):
        surface.D1(u, v, point, along_u, along_v)
        row[:3], row[3:6], row[6:] = point.Coord(), along_u.Coord(), along_v.Coord()
    return frames[:, :3], frames[:, 3:6], frames[:, 6:]


def _tangent_step(gap: Floats, along_u: Floats, along_v: Floats) -> Floats:
    """Change of (u, v), (k, 2), that moves the foot in the tangent plane to right under the point."""
    uu, uv, vv = (np.einsum("ij,ij->i", a, b) for a, b in ((along_u, along_u), (along_u, along_v), (along_v, along_v)))
    gu, gv = np.einsum("ij,ij->i", gap, along_u), np.einsum("ij,ij->i", gap, along_v)
    determinant = uu * vv - uv * uv
    sound = determinant > 1e-12 * uu * vv
    safe = np.where(sound, determinant, 1.0)
    step = np.column_stack([(gu * vv - gv * uv) / safe, (gv * uu - gu * uv) / safe])
    return np.where(sound[:, None], step, 0.0)
