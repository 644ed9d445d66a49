"""Where a level line across a section of a mesh meets its outside. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import manifold3d

    from neckmodel.geometry.types import Floats

Rings = list["Floats"]


def rings_at(solid: manifold3d.Manifold, x: float) -> Rings:
    """The rings (n, 2) of (y, z) of a solid's section square to x; none where the plane misses it."""
    turned = solid.transform(np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]]))
    return [np.asarray(ring, dtype=float) for ring in turned.slice(x).to_polygons()]


def row(rings: Rings, z: float) -> list[float]:
    """Every y at which the level line at z meets the rings, ascending: in pairs, wood between the two of each pair."""
    found: list[float] = []
    for ring in rings:
        (y0, z0), (y1, z1) = ring.T, np.roll(ring, -1, axis=0).T
        met = (z0 <= z) != (z1 <= z)
        found += (y0[met] + (z - z0[met]) / (z1[met] - z0[met]) * (y1[met] - y0[met])).tolist()
    return sorted(found)
