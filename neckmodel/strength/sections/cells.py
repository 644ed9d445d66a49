"""The cells along a neck in which its sections are taken. Lengths mm."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

import numpy as np

from neckmodel.geometry.types import Floats

CELLS = 400  # least number of cells along a neck; more cells change the relief by less than 1e-4 of itself


def cell_edges(breaks: Iterable[float], cells: int = CELLS) -> Floats:
    """(m,) edges of at least `cells` cells, mm, evenly spaced between breaks: every break is an edge, so no cell spans
    a step of the stiffness."""
    marks = np.unique(np.round(np.asarray(list(breaks), dtype=float), 9))
    total = marks[-1] - marks[0]
    parts = [
        np.linspace(a, b, max(1, math.ceil(cells * (b - a) / total)), endpoint=False)
        for a, b in itertools.pairwise(marks.tolist())
    ]
    return np.concatenate([*parts, marks[-1:]])


def middles(edges: Floats) -> Floats:
    """(m-1,) middle of each cell, mm."""
    return (edges[:-1] + edges[1:]) / 2
