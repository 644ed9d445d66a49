"""Distances between points, segments and triangles, many pairs at once (numpy only; mm).

Closest points by the region tests of Ericson, Real-Time Collision Detection (2005), sections 5.1.5 and 5.1.9.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.types import Floats, Point3

_TINY = 1e-30


def as_point(values: Floats) -> Point3:
    """An array (3,) as plain numbers, as results hold them."""
    x, y, z = map(float, values)
    return x, y, z


def dot(a: Floats, b: Floats) -> Floats:
    """(k,) scalar products of the rows of a and b, each (k, 3)."""
    product: Floats = np.einsum("ij,ij->i", a, b)
    return product


def cross(a: Floats, b: Floats) -> Floats:
    """(k, 3) vector products of the rows of a and b, each (k, 3): the library's own spends most of its time on finding
    out which way round its arguments lie."""
    product = np.empty(np.broadcast_shapes(a.shape, b.shape))
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        np.subtract(a[:, j] * b[:, k], a[:, k] * b[:, j], out=product[:, i])
    return product


def unit_normals(triangles: Floats) -> Floats:
    """(k, 3) unit normals of triangles (k, 3, 3); zero for a triangle without area."""
    normals = cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    length = np.linalg.norm(normals, axis=1, keepdims=True)
    unit: Floats = normals / np.maximum(length, _TINY)
    return unit


def volume_centroid(triangles: Floats) -> Floats:
    """Centroid (3,) of the space within closed triangles (k, 3, 3); the mean corner where they enclose none."""
    middle = triangles.reshape(-1, 3).mean(axis=0)
    local = triangles - middle
    volumes = np.einsum("ij,ij->i", local[:, 0], cross(local[:, 1], local[:, 2]))
    whole = float(volumes.sum())
    if abs(whole) < 1e-300:
        return np.asarray(middle)
    centre: Floats = middle + (volumes[:, None] * local.sum(axis=1)).sum(axis=0) / (4 * whole)
    return centre


def point_triangle(points: Floats, triangles: Floats) -> tuple[Floats, Floats]:
    """Nearest point (k, 3) of triangle i to point i, and the squared distance (k,). A flat triangle is its edges."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normal = cross(b - a, c - a)
    square = dot(normal, normal)
    has_area = square > 1e-24
    foot = points - normal * (dot(points - a, normal) / np.where(has_area, square, 1.0))[:, None]
    inside = has_area
    nearest, least = np.empty_like(points), np.full(len(points), np.inf)
    for start, end in ((a, b), (b, c), (c, a)):
        along = end - start
        inside = inside & (dot(cross(along, foot - start), normal) >= 0)
        share = np.clip(dot(points - start, along) / np.maximum(dot(along, along), _TINY), 0, 1)
        _keep_nearer(start + along * share[:, None], points, nearest, least)
    nearest[inside] = foot[inside]
    least[inside] = dot(points - foot, points - foot)[inside]
    return nearest, least


def segment_segment(p: Floats, q: Floats, a: Floats, b: Floats) -> tuple[Floats, Floats, Floats]:
    """Nearest points of the segments pq and ab, each (k, 3), and the squared distance (k,)."""
    d1, d2, r = q - p, b - a, p - a
    aa, ee = np.maximum(dot(d1, d1), _TINY), np.maximum(dot(d2, d2), _TINY)
    mixed, c, f = dot(d1, d2), dot(d1, r), dot(d2, r)
    determinant = aa * ee - mixed * mixed
    skew = determinant > 1e-12 * aa * ee
    s = np.where(skew, np.clip((mixed * f - c * ee) / np.where(skew, determinant, 1.0), 0, 1), 0.0)
    t = (mixed * s + f) / ee
    held = np.clip(t, 0, 1)
    s = np.where(t != held, np.clip((mixed * held - c) / aa, 0, 1), s)
    x, y = p + d1 * s[:, None], a + d2 * held[:, None]
    return x, y, dot(x - y, x - y)


def triangle_triangle(first: Floats, second: Floats) -> tuple[Floats, Floats, Floats]:
    """Nearest points of triangle i of each (k, 3, 3), and the distance (k,). Triangles must not cross each other."""
    least = np.full(len(first), np.inf)
    x, y = np.empty((len(first), 3)), np.empty((len(first), 3))

    def keep(p: Floats, q: Floats, square: Floats) -> None:
        nearer = square < least
        least[nearer], x[nearer], y[nearer] = square[nearer], p[nearer], q[nearer]

    for i in range(3):
        near, square = point_triangle(first[:, i], second)
        keep(first[:, i], near, square)
        near, square = point_triangle(second[:, i], first)
        keep(near, second[:, i], square)
    for i in range(3):
        for j in range(3):
            keep(*segment_segment(first[:, i], first[:, (i + 1) % 3], second[:, j], second[:, (j + 1) % 3]))
    return x, y, np.sqrt(least)


def pierced(start: Floats, end: Floats, triangles: Floats) -> NDArray[np.bool_]:
    """(k,) mask of the triangles (k, 3, 3) that the segment from start (3,) to end (3,) goes through.

    By signed volumes: the ends lie on different sides, and the line passes all three edges the same way round.
    """
    a, b, c = triangles[:, 0] - start, triangles[:, 1] - start, triangles[:, 2] - start
    along = np.broadcast_to(end - start, a.shape)
    turns = np.stack([dot(along, cross(p, q)) for p, q in ((a, b), (b, c), (c, a))])
    normal = cross(b - a, c - a)
    here, there = dot(a, normal), dot(a - along, normal)
    passes = (turns >= 0).all(axis=0) | (turns <= 0).all(axis=0)
    mask: NDArray[np.bool_] = passes & (here * there < 0)
    return mask


def separation(first: Floats, second: Floats) -> Floats:
    """(k,) lower bounds of the distances of triangle i of each (k, 3, 3): the gap along three likely directions."""
    between = second.mean(axis=1) - first.mean(axis=1)
    between /= np.maximum(np.linalg.norm(between, axis=1, keepdims=True), _TINY)
    bound = np.zeros(len(first))
    for direction in (unit_normals(first), unit_normals(second), between):
        one, two = np.einsum("ijk,ik->ij", first, direction), np.einsum("ijk,ik->ij", second, direction)
        bound = np.maximum(bound, np.maximum(two.min(1) - one.max(1), one.min(1) - two.max(1)))
    return bound


def _keep_nearer(candidate: Floats, points: Floats, nearest: Floats, least: Floats) -> None:
    gap = points - candidate
    square = dot(gap, gap)
    nearer = square < least
    least[nearer], nearest[nearer] = square[nearer], candidate[nearer]
