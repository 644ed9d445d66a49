"""Plain geometry of polygons, for the sawn side profile."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def _turn(a: Floats, b: Floats, c: Floats) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def crosses_itself(polygon: Floats) -> bool:
    """Whether two edges of a closed polygon that are not neighbours touch."""
    n = len(polygon)
    edges = [(polygon[k], polygon[(k + 1) % n]) for k in range(n)]
    for i in range(n):
        for j in range(i + 2, n):
            if i == 0 and j == n - 1:
                continue
            (a, b), (c, d) = edges[i], edges[j]
            apart = np.any(np.maximum(a, b) < np.minimum(c, d)) or np.any(np.maximum(c, d) < np.minimum(a, b))
            if not apart and _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0:
                return True
    return False


def spans_at(polygon: Floats, x: float) -> tuple[float, float]:
    """(lowest, highest) z of a closed polygon on the upright line at x; there must be one span only."""
    crossings = []
    for (x0, z0), (x1, z1) in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        if (x0 <= x) != (x1 <= x):
            crossings.append(z0 + (z1 - z0) * (x - x0) / (x1 - x0))
    assert len(crossings) == 2, f"{len(crossings)} crossings at x {x}"
    return min(crossings), max(crossings)
