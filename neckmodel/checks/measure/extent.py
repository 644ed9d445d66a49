"""How far a stretch of a solid reaches, by its mesh."""

from __future__ import annotations

import manifold3d
import numpy as np

from neckmodel.meshes.weld import Floats

_WIDE = 1e4  # mm, beyond any neck


def extent(solid: manifold3d.Manifold, x0: float, x1: float) -> Floats:
    """(2, 3) bounds of the solid's part between x0 and x1, mm."""
    slab = manifold3d.Manifold.cube((x1 - x0, _WIDE, _WIDE), True).translate(((x0 + x1) / 2, 0.0, 0.0))
    return np.asarray((solid ^ slab).bounding_box()).reshape(2, 3)
