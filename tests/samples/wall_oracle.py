"""The wall within a section by brute search, made from y rather than from the package's own parameter."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from neckmodel.layout.neck.section import Opening, Section

Floats = NDArray[np.float64]
POINTS = 3001


def outline(section: Section) -> Floats:
    """(n, 2) points (y, z) of the back, crowded toward the edges, where it is steep."""
    u = 1 - np.linspace(1.0, 0.0, POINTS) ** 4  # 0 at the apex, 1 at the edge
    parts = []
    for side in (-1, 1):
        span = section.half_width + side * -section.apex
        z = -section.depth * (1 - u**section.exponent) ** (1 / section.exponent)
        half = np.stack([section.apex + side * span * u, z], axis=1)
        parts.append(half[::-1] if side < 0 else half[1:])
    return np.concatenate(parts)


def to_chain(point: tuple[float, float], chain: Floats) -> float:
    """Distance from a point to a polyline."""
    p = np.array(point)
    a, d = chain[:-1], np.diff(chain, axis=0)
    along = np.clip(((p - a) * d).sum(axis=1) / np.maximum((d * d).sum(axis=1), 1e-300), 0.0, 1.0)
    return float(np.min(np.hypot(*(a + along[:, None] * d - p).T)))


def inside(point: tuple[float, float], section: Section) -> bool:
    y, z = point
    span = section.half_width + section.apex if y < section.apex else section.half_width - section.apex
    return abs((y - section.apex) / span) ** section.exponent + abs(z / section.depth) ** section.exponent <= 1


def brute_wall(section: Section, opening: Opening) -> float:
    """Least distance between the opening and the back; less than 0 by how far a corner stands outside."""
    chain = outline(section)
    corners = [(y, -opening.depth) for y in (opening.y_low, opening.y_high)]
    out = [c for c in corners if not inside(c, section)]
    if out:
        return -max(to_chain(c, chain) for c in out)
    y, z = chain.T
    beside = np.maximum(np.maximum(opening.y_low - y, y - opening.y_high), 0.0)
    below = np.maximum(-z - opening.depth, 0.0)
    return min(float(np.hypot(beside, below).min()), *(to_chain(c, chain) for c in corners))
