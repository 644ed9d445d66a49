"""Narrows the gap between a mesh's wall and the true wall by splitting the skin within reach on its exact surface.

Each triangle of the skin has a bound for its distance from the surface. The true wall lies between the least of
(distance - bound) and the least of (distance + bound), so only triangles between the two matter. They are split in
four, the new corners put on the exact surface, which makes the bound four times smaller, until it is small enough.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from neckmodel.checks.measure.pairs import pairs_within
from neckmodel.checks.measure.triangles import point_triangle
from neckmodel.geometry.types import Floats
from neckmodel.meshes import SolidMesh
from neckmodel.meshes.deviation import SAFETY, surface_frames, triangle_deviation
from neckmodel.meshes.weld import Ints

FINE = 0.0125
"""Bound at which the skin's triangles are fine enough, mm: a sixteenth of the neck's first deflection."""

SAME = 0.02
"""A wall this little thicker than the least counts as the same where its range along the neck is given, mm."""

_ROUNDS = 6
_QUARTERS = ((0, 3, 5), (3, 1, 4), (5, 4, 2), (3, 4, 5))  # corners 0 1 2, then the middles of 01 12 20


@dataclass(frozen=True, eq=False)
class Patch:
    """Triangles of skin: corners (k, 3, 3) mm, surface parameters (k, 3, 2), face numbers (k,).

    asked: (k,) deflection they were made for. bound: (k,) bound for their distance from the surface. mm.
    """

    corners: Floats
    uv: Floats
    face: Ints
    asked: Floats
    bound: Floats

    def __getitem__(self, chosen: NDArray[np.bool_] | Ints) -> Patch:
        return Patch(self.corners[chosen], self.uv[chosen], self.face[chosen], self.asked[chosen], self.bound[chosen])


@dataclass(frozen=True, eq=False)
class Bracket:
    """The true least distance lies in [lo, hi], mm, with the nearest points (3,) found and the skin's face there.

    range_x: x between which the distance is within `SAME` of the least.
    """

    lo: float
    hi: float
    at_tool: Floats
    at_skin: Floats
    face: int
    range_x: tuple[float, float]


def bracket(mesh: SolidMesh, skin: Ints, tool: Floats, first: float) -> Bracket:
    """Bracket the distance from tool triangles (s, 3, 3) to the exact skin behind the mesh's triangles `skin` (k,).

    first: the distance of the two meshes, mm.
    """
    patch = _within_reach(mesh, skin, tool, first)
    hi = first + float(patch.bound.max(initial=0.0))
    rounds = 0
    while True:
        t, u, x, y, distance = pairs_within(tool, patch.corners, hi + float(patch.bound.max(initial=0.0)))
        hi = min(hi, float((distance + patch.bound[u]).min()))
        live = distance - patch.bound[u] <= hi
        t, u, x, y, distance = t[live], u[live], x[live], y[live], distance[live]
        number = np.unique(u)
        coarse = patch.bound[number] > FINE
        if not coarse.any() or rounds == _ROUNDS:
            break
        patch = _joined(patch[number[~coarse]], _split(mesh, patch[number[coarse]]))
        rounds += 1
    best = int(np.argmin(distance))
    low = float((distance - patch.bound[u]).min())
    along = _range_x(tool, patch.corners, distance[best] + SAME)
    return Bracket(low, hi, x[best], y[best], int(patch.face[u[best]]), along)


def _range_x(tool: Floats, skin: Floats, reach: float) -> tuple[float, float]:
    """x between which the tool is within reach of the skin, by nearest points and corners."""
    t, u, _, y, _ = pairs_within(tool, skin, reach)
    found = [y[:, 0]]
    for i in range(3):
        corner = skin[u, i]
        found.append(corner[point_triangle(corner, tool[t])[1] <= reach * reach, 0])
        near, square = point_triangle(tool[t, i], skin[u])
        found.append(near[square <= reach * reach, 0])
    every = np.concatenate(found)
    return float(every.min()), float(every.max())


def _within_reach(mesh: SolidMesh, skin: Ints, tool: Floats, first: float) -> Patch:
    """The skin's triangles that may hold the true nearest point, with their bounds."""
    face = mesh.face_of_triangle[skin]
    asked = np.full(len(skin), mesh.linear)
    whole = Patch(mesh.triangles[skin], mesh.uv[skin], face, asked, asked)
    error = mesh.linear
    while True:
        near = np.unique(pairs_within(tool, whole.corners, first + 2 * error)[1])
        patch = _bounded(mesh, whole[near])
        if patch.bound.max(initial=0.0) <= error:
            return patch
        error = float(patch.bound.max())


def _bounded(mesh: SolidMesh, patch: Patch) -> Patch:
    """The patch with its bounds: the deflection it was made for, or 1.25 x the sampled one. On a plane only its rim is
    off."""
    bound = np.full(len(patch.face), mesh.edges)
    for number in np.unique(patch.face):
        surface, mine = mesh.surfaces[number], patch.face == number
        if surface is not None:
            sampled = triangle_deviation(surface, patch.corners[mine], patch.uv[mine])
            bound[mine] = np.maximum(bound[mine], np.maximum(patch.asked[mine], SAFETY * sampled))
    return replace(patch, bound=bound)


def _split(mesh: SolidMesh, patch: Patch) -> Patch:
    """Every triangle split in four, the new corners on the exact surface. Half the edge gives a quarter of the
    deflection."""
    middles = np.empty_like(patch.corners)
    uv_middles = (patch.uv + np.roll(patch.uv, -1, axis=1)) / 2
    for number in np.unique(patch.face):
        mine = patch.face == number
        points = surface_frames(mesh.surfaces[number], uv_middles[mine].reshape(-1, 2))[0]
        middles[mine] = points.reshape(-1, 3, 3)
    corners = np.concatenate([patch.corners, middles], axis=1)[:, _QUARTERS].reshape(-1, 3, 3)
    uv = np.concatenate([patch.uv, uv_middles], axis=1)[:, _QUARTERS].reshape(-1, 3, 2)
    asked = np.repeat(patch.asked / 4, 4)
    return _bounded(mesh, Patch(corners, uv, np.repeat(patch.face, 4), asked, asked))


def _joined(first: Patch, second: Patch) -> Patch:
    return Patch(*(np.concatenate([getattr(first, f.name), getattr(second, f.name)]) for f in fields(Patch)))
