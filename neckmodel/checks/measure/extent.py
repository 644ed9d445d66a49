"""How far a solid reaches: a stretch of it by its mesh, a section or the whole of it exactly."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np

from neckmodel.meshes.exact import bounds_of, section_of
from neckmodel.meshes.weld import Floats

if TYPE_CHECKING:
    import cadquery as cq

EXACT = 1e-4  # mm, of a section of a bent bar against its law
_WIDE = 1e4  # mm, beyond any neck


def extent(solid: manifold3d.Manifold, x0: float, x1: float) -> Floats:
    """(2, 3) bounds of the solid's part between x0 and x1, mm."""
    slab = manifold3d.Manifold.cube((x1 - x0, _WIDE, _WIDE), True).translate(((x0 + x1) / 2, 0.0, 0.0))
    return np.asarray((solid ^ slab).bounding_box()).reshape(2, 3)


def extent_at(solid: cq.Solid, x: float) -> Floats:
    """(2, 3) bounds of the section of a solid square to x, mm, within EXACT."""
    return bounds_of(section_of(solid.wrapped, x))


def whole_extent(solid: cq.Solid) -> Floats:
    """(2, 3) bounds of a solid, mm, exact where a mesh of it has chords for arcs."""
    return bounds_of(solid.wrapped)


def tidy(value: Any, decimals: int = 6) -> float:
    """A length without what binary fractions add to it, mm."""
    return round(float(value), decimals) + 0.0
