"""Level ceilings of a piece as it lies on the bed: those held at both ends, with their span, and those that only
hang."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Floats
from neckmodel.jigs.regions import level_section

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

UNDER, NEAR = 0.02, 0.05  # mm: how far below a ceiling walls are looked for; how near to a wall an edge counts as held
SPECK = 0.02  # mm; anything narrower comes from rounded coordinates
CLOSE = 0.01  # mm to which a disc's size is found
LINES = 4  # between two corners of a ceiling; its edges are straight there


def spans(triangles: Floats, solid: manifold3d.Manifold) -> tuple[float, bool]:
    """(widest bridge, mm; whether anything hangs) of level ceilings, (n, 3, 3) mm; solid: the piece.

    A ceiling with walls all round is printed over its narrow side: the largest disc under it counts. A ceiling with
    free edges is printed along these, from wall to wall; a stretch that ends in the air at either side hangs.
    """
    from shapely import unary_union
    from shapely.geometry import Polygon

    heights = np.round(triangles[:, :, 2].mean(axis=1), 3) if len(triangles) else np.zeros(0)
    widest, hangs = 0.0, False
    for height in np.unique(heights):
        flat = [Polygon(t) for t in triangles[heights == height][:, :, :2]]
        ceiling = unary_union([t.buffer(1e-5) for t in flat if t.area > 1e-9])
        walls = level_section(solid, float(height) - UNDER).buffer(NEAR, quad_segs=2)
        for part in getattr(ceiling, "geoms", [ceiling]):
            if part.is_empty or part.buffer(-SPECK / 2).is_empty:
                continue
            free = part.boundary.difference(walls)
            span = _widest_disc(part) if free.length < NEAR else _longest_stretch(part, walls, _direction(free))
            widest, hangs = max(widest, span or 0.0), hangs or span is None
    return widest, hangs


def _direction(free: BaseGeometry) -> float:
    """Angle of the longest straight free edge, degrees."""
    stretches = [
        (math.dist(a, b), math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])))
        for line in getattr(free, "geoms", [free])
        for a, b in pairwise(line.coords)
    ]
    return max(stretches)[1]


def _longest_stretch(ceiling: BaseGeometry, walls: BaseGeometry, angle: float) -> float | None:
    """The longest stretch, printed at an angle, that a ceiling needs, mm; None where one is not held at an end."""
    from shapely.affinity import rotate
    from shapely.geometry import LineString, Point

    ceiling_turned, walls_turned = (rotate(shape, -angle, origin=(0.0, 0.0)) for shape in (ceiling, walls))
    low, _, high, _ = ceiling_turned.bounds
    corners = sorted({round(y, 3) for ring in _rings(ceiling_turned) for _, y in ring.coords})
    longest = 0.0
    for a, b in pairwise(corners):
        for y in np.linspace(a, b, LINES + 2)[1:-1] if b - a > SPECK else ():
            across = ceiling_turned.intersection(LineString([(low - 1.0, y), (high + 1.0, y)]))
            for stretch in getattr(across, "geoms", [across]):
                if stretch.length > SPECK:
                    if not all(walls_turned.intersects(Point(end)) for end in (stretch.coords[0], stretch.coords[-1])):
                        return None
                    longest = max(longest, float(stretch.length))
    return longest


def _rings(shape: BaseGeometry) -> list[BaseGeometry]:
    return [shape.exterior, *shape.interiors]


def _widest_disc(ceiling: BaseGeometry) -> float:
    """Diameter of the largest disc that fits under a ceiling, mm, to CLOSE."""

    def too_wide(diameter: float) -> bool:
        return bool(ceiling.buffer(-diameter / 2).is_empty)

    found = nearest_enough(too_wide, 0.0, math.sqrt(ceiling.area) + 1.0, CLOSE)
    if found is None:  # a large round one: wider than the side of the square of its area
        found = nearest_enough(too_wide, 0.0, math.sqrt(4 / math.pi * ceiling.area) + CLOSE, CLOSE)
    return 0.0 if found is None else found
