"""Plane sections of a mesh square to x: area, centroid, second moment and extreme fibres, by polygon integrals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import trimesh

from neckmodel.geometry.types import Floats
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.meshes import to_manifold
from neckmodel.meshes.exact import bounds_of, section_of

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class Section:
    """A section square to x. Lengths mm.

    area: mm2. y, z: centroid. second_moment: about the level axis through the centroid, mm4. z_low, z_high: extreme
    fibres.
    """

    x: float
    area: float
    y: float
    z: float
    second_moment: float
    z_low: float
    z_high: float

    @property
    def modulus_low(self) -> float:
        """Section modulus of the lowest fibre (the back), mm3."""
        return self.second_moment / (self.z - self.z_low)

    @property
    def modulus_high(self) -> float:
        """Section modulus of the highest fibre (the glue plane), mm3."""
        return self.second_moment / (self.z_high - self.z)


@remembered(bytes_of)
def sections(mesh: trimesh.Trimesh, stations: Sequence[float]) -> tuple[Section | None, ...]:
    """The sections of a closed mesh at each x; None where the plane misses the mesh.

    At an x that lies on a face square to x, the section is the one just beyond or before it: keep stations off such
    faces.
    """
    # the mesh library cuts level sections: x is turned up, so that its (x, y) are this file's (y, z)
    turned = to_manifold(mesh).transform(np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]]))
    return tuple(_section(x, [np.asarray(ring) for ring in turned.slice(x).to_polygons()]) for x in stations)


def _section(x: float, rings: list[Floats]) -> Section | None:
    """The section by Green's theorem over all rings; holes are wound the other way."""
    if not rings:
        return None
    area = first_y = first_z = second = 0.0
    for ring in rings:
        (y0, z0), (y1, z1) = ring.T, np.roll(ring, -1, axis=0).T
        cross = y0 * z1 - y1 * z0
        area += float(cross.sum()) / 2
        first_y += float(((y0 + y1) * cross).sum()) / 6
        first_z += float(((z0 + z1) * cross).sum()) / 6
        second += float(((z0 * z0 + z0 * z1 + z1 * z1) * cross).sum()) / 12
    if area <= 0:
        return None
    z = first_z / area
    heights = np.concatenate([ring[:, 1] for ring in rings])
    return Section(x, area, first_y / area, z, second - area * z * z, float(heights.min()), float(heights.max()))


EXACT = 1e-4  # mm within which a section of a bent bar is found


_WIDE = 1e4  # mm, beyond any neck


@remembered(bytes_of)
def extent(solid: manifold3d.Manifold, x0: float, x1: float) -> Floats:
    """(2, 3) bounds of the solid's part between x0 and x1, mm."""
    slab = manifold3d.Manifold.cube((x1 - x0, _WIDE, _WIDE), True).translate(((x0 + x1) / 2, 0.0, 0.0))
    return np.asarray((solid ^ slab).bounding_box()).reshape(2, 3)


@remembered(bytes_of)
def extent_at(solid: cq.Solid, x: float) -> Floats:
    """(2, 3) bounds of the section of a solid square to x, mm, within EXACT."""
    return bounds_of(section_of(solid.wrapped, x))


@remembered(bytes_of)
def whole_extent(solid: cq.Solid) -> Floats:
    """(2, 3) bounds of a solid, mm, exact where a mesh of it would have chords for arcs."""
    return bounds_of(solid.wrapped)


def tidy(value: float, decimals: int = 6) -> float:
    """A length without the error of binary fractions, mm."""
    return round(float(value), decimals) + 0.0
