"""Closed rings, as a section of a mesh gives them, as regions of the plane."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
from numpy.typing import ArrayLike

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def region(rings: Iterable[ArrayLike]) -> BaseGeometry:
    """What closed rings, each (n, 2), enclose, holes being wound the other way."""
    from shapely.geometry import Polygon

    whole: BaseGeometry = Polygon()
    for ring in rings:
        whole = whole.symmetric_difference(Polygon(np.asarray(ring)).buffer(0))
    return whole


def level_section(solid: manifold3d.Manifold, z: float) -> BaseGeometry:
    """The level section of a solid."""
    return region(solid.slice(z).to_polygons())
