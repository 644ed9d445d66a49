"""Measures of a solid that the tests of hardware share."""

from __future__ import annotations

import cadquery as cq


def bounds(solid: cq.Solid) -> tuple[float, ...]:
    box = solid.BoundingBox()
    return box.xmin, box.xmax, box.ymin, box.ymax, box.zmin, box.zmax


def away(solid: cq.Solid, point: tuple[float, float, float]) -> float:
    return float(cq.Vertex.makeVertex(*point).distance(solid))
