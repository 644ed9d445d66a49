"""The least distance between two sets of triangles, and its place. Every pair gets a bound; few are measured."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from neckmodel.checks.measure.triangles import separation, triangle_triangle
from neckmodel.geometry.types import Floats
from neckmodel.meshes.weld import Ints

_EXACT = 1e-6  # mm: pairs that could be nearer by less than this are left out
_CHUNK = 256


@dataclass(frozen=True, eq=False)
class Pair:
    """The nearest points of two sets of triangles: distance in mm, a point (3,) and the number of a triangle of
    each."""

    distance: float
    on_first: Floats
    on_second: Floats
    first: int
    second: int


def least_pair(first: Floats, second: Floats) -> Pair:
    """The nearest points of two non-empty sets of triangles (k, 3, 3) and (l, 3, 3) that do not cross each other.

    Pairs are measured in rising order of the distance between their boxes, until no box can hold a nearer point.
    """
    best = _nearest_corners(first, second)
    reach = _box_gap_to_all(first, second) <= best.distance
    kept = np.flatnonzero(reach)
    one, two, bound = close_boxes(first, second[kept], best.distance)
    order = np.argsort(bound, kind="stable")
    one, two, bound = one[order], kept[two[order]], bound[order]
    start, size = 0, _CHUNK
    while start < len(bound) and bound[start] < best.distance - _EXACT:
        a, b = one[start : start + size], two[start : start + size]
        start, size = start + size, min(2 * size, 64 * _CHUNK)
        open_ = separation(first[a], second[b]) < best.distance - _EXACT
        if open_.any():
            a, b = a[open_], b[open_]
            x, y, distance = triangle_triangle(first[a], second[b])
            i = int(distance.argmin())
            if distance[i] < best.distance:
                best = Pair(float(distance[i]), x[i], y[i], int(a[i]), int(b[i]))
    return best


def pairs_within(first: Floats, second: Floats, reach: float) -> tuple[Ints, Ints, Floats, Floats, Floats]:
    """All pairs at most `reach` mm apart: numbers in each set, the nearest points (k, 3) on each, distances (k,),
    mm."""
    kept = np.flatnonzero(_box_gap_to_all(first, second) <= reach)
    one, two, _ = close_boxes(first, second[kept], reach)
    two = kept[two]
    near = separation(first[one], second[two]) <= reach
    one, two = one[near], two[near]
    x, y, distance = triangle_triangle(first[one], second[two])
    near = distance <= reach
    return one[near], two[near], x[near], y[near], distance[near]


def close_boxes(first: Floats, second: Floats, reach: float) -> tuple[Ints, Ints, Floats]:
    """Pairs whose boxes are at most `reach` mm apart: numbers in each set and the distance of the boxes, mm."""
    low1, high1, low2, high2 = first.min(1), first.max(1), second.min(1), second.max(1)
    square = np.zeros((len(first), len(second)))
    for axis in range(3):
        gap = np.maximum(low1[:, None, axis] - high2[None, :, axis], low2[None, :, axis] - high1[:, None, axis])
        np.maximum(gap, 0, out=gap)
        square += gap * gap
    one, two = np.nonzero(square <= reach * reach)
    return one, two, np.sqrt(square[one, two])


def _box_gap_to_all(first: Floats, second: Floats) -> Floats:
    """(l,) distance of each triangle's box of `second` to the one box around all of `first`."""
    low, high = first.min(axis=(0, 1)), first.max(axis=(0, 1))
    gap = np.maximum(np.maximum(low - second.max(1), second.min(1) - high), 0)
    distance: Floats = np.linalg.norm(gap, axis=1)
    return distance


def _nearest_corners(first: Floats, second: Floats) -> Pair:
    corners, others = first.reshape(-1, 3), second.reshape(-1, 3)
    distance, other = cKDTree(others).query(corners)
    i = int(distance.argmin())
    j = int(other[i])
    return Pair(float(distance[i]), corners[i], others[j], i // 3, j // 3)
