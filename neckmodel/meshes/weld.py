"""Joins the triangles of single faces into one closed skin (numpy only)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.types import Floats

Ints = NDArray[np.int64]

WELD = 1e-5
"""Nodes nearer than this are one vertex, mm: a thousandth of the finest deflection, far above the kernel's 1e-7."""


def weld(vertices: Floats, triangles: Ints, tolerance: float = WELD) -> tuple[Floats, Ints, NDArray[np.bool_]]:
    """Merges coincident vertices and drops the triangles that collapse.

    vertices: (n, 3) mm. triangles: (m, 3). Returns vertices (k, 3), triangles (j, 3) and the mask (m,) of those kept.
    Rounding to a grid is tried first. Where two nodes of one point fall on either side of a grid line, and so leave the
    skin open, a spatial search joins them. Where two faces meet in a tangent their triangles may lie on each other,
    back to back: such a fin of no thickness is dropped.
    """
    first, label = _by_grid(vertices, tolerance)
    kept = _not_collapsed(label[triangles])
    if open_edges(label[triangles][kept]):
        first, label = _by_search(vertices, tolerance)
        kept = _not_collapsed(label[triangles])
    if open_edges(label[triangles][kept]):
        kept[kept] = _not_back_to_back(label[triangles][kept])
    return vertices[first], label[triangles][kept], kept


def open_edges(triangles: Ints) -> int:
    """How many directed edges lack their single opposite: 0 for a closed, consistently wound skin."""
    edges = np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    size = int(triangles.max(initial=0)) + 1
    along = edges[:, 0] * size + edges[:, 1]
    against = edges[:, 1] * size + edges[:, 0]
    repeated = len(along) - len(np.unique(along))
    return repeated + int(np.isin(along, against, invert=True).sum())


def _not_collapsed(triangles: Ints) -> NDArray[np.bool_]:
    a, b, c = triangles.T
    kept: NDArray[np.bool_] = (a != b) & (b != c) & (c != a)
    return kept


def _not_back_to_back(triangles: Ints) -> NDArray[np.bool_]:
    """All but the pairs of triangles with the same corners, run round opposite ways."""
    first = triangles.argmin(axis=1)
    rows = np.arange(len(triangles))
    turned = np.column_stack([triangles[rows, (first + k) % 3] for k in range(3)])
    one_way = turned[:, 1] < turned[:, 2]
    turned[~one_way, 1:] = turned[~one_way, :0:-1]
    _, group, count = np.unique(turned, axis=0, return_inverse=True, return_counts=True)
    ways = np.bincount(group, weights=np.where(one_way, 1.0, -1.0))
    paired: NDArray[np.bool_] = (count[group] == 2) & (ways[group] == 0)
    return ~paired


def _by_grid(vertices: Floats, tolerance: float) -> tuple[Ints, Ints]:
    cells = np.round(vertices / tolerance).astype(np.int64)
    order = np.lexsort(cells.T[::-1])
    ranked = cells[order]
    fresh = np.ones(len(cells), bool)
    fresh[1:] = (ranked[1:] != ranked[:-1]).any(axis=1)
    label = np.empty(len(cells), np.int64)
    label[order] = np.cumsum(fresh) - 1
    return order[fresh], label


def _by_search(vertices: Floats, tolerance: float) -> tuple[Ints, Ints]:
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    pairs = cKDTree(vertices).query_pairs(tolerance, output_type="ndarray")
    graph = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(vertices),) * 2)
    label = connected_components(graph, directed=False)[1].astype(np.int64)
    first = np.unique(label, return_index=True)[1].astype(np.int64)
    return first, label
