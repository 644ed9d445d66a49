"""Bending of a neck: from curvature to deflection, and from deflection to relief. Lengths mm, forces N."""

from __future__ import annotations

import numpy as np

from neckmodel.geometry.types import Floats

# What years of load add, as a factor on the first deflection. 1.6 to 2.0: common practice; the Wood Handbook
# (FPL-GTR-282, page 5-39) has about 2 after several years at ordinary stress
CREEP_LOW, CREEP_LIKELY, CREEP_HIGH = 1.6, 1.8, 2.0


def deflection(edges: Floats, curvature: Floats) -> Floats:
    """(m,) deflection at the cells' edges, mm, starting level from 0: the double integral of the curvature.

    curvature: (m-1,) 1/mm, constant in each cell, for which the integral is exact.
    """
    h = np.diff(edges)
    slope = np.concatenate([[0.0], np.cumsum(curvature * h)])
    return np.concatenate([[0.0], np.cumsum(slope[:-1] * h + curvature * h * h / 2)])


def off_chord(edges: Floats, curvature: Floats, x_from: float, x_to: float) -> Floats:
    """(m,) how far the bent line lies below the chord from x_from to x_to, mm; both must be edges. Positive curvature
    (strings pulling the neck hollow) gives relief, positive between the two ends."""
    w = deflection(edges, curvature)
    w0, w1 = np.interp([x_from, x_to], edges, w)
    return np.asarray(w0 + (w1 - w0) * (edges - x_from) / (x_to - x_from) - w)


def relief(edges: Floats, curvature: Floats, x_from: float, x_to: float) -> tuple[float, float]:
    """(largest distance from the chord between its ends, mm, signed; the x at which it lies). Between edges the bent
    line is a parabola."""
    below = off_chord(edges, curvature, x_from, x_to)
    inside = (edges >= x_from) & (edges <= x_to)
    k = int(np.argmax(np.where(inside, np.abs(below), -1.0)))
    if not 0 < k < len(edges) - 1:
        return float(below[k]), float(edges[k])
    near, at = below[k - 1 : k + 2], edges[k - 1 : k + 2] - edges[k]
    bend = ((near[2] - near[1]) / at[2] - (near[0] - near[1]) / at[0]) / (at[2] - at[0])
    slope = (near[2] - near[1]) / at[2] - bend * at[2]
    if bend == 0:
        return float(near[1]), float(edges[k])
    top = float(np.clip(-slope / (2 * bend), max(at[0], x_from - edges[k]), min(at[2], x_to - edges[k])))
    return float(near[1] + slope * top + bend * top**2), float(edges[k] + top)
