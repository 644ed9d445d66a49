"""Values of B-splines on any knots. Plain numpy: importing a library for them would cost every command a quarter of a
second."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def basis(t: Array, knots: Array, degree: int) -> Array:
    """(n, len(knots) - degree - 1) values of the B-splines at parameters t (n,), by Cox and de Boor's recurrence.

    knots: ascending, degree + 1 times at both ends; t within them.
    """
    count = len(knots) - degree - 1
    spans = np.clip(np.searchsorted(knots, t, side="right") - 1, degree, count - 1)
    values = np.zeros((len(t), count))
    local = np.zeros((len(t), degree + 1))
    local[:, 0] = 1.0
    for order in range(1, degree + 1):
        saved = np.zeros(len(t))
        for r in range(order):
            right = knots[spans + r + 1]
            left = knots[spans + r + 1 - order]
            share = local[:, r] / (right - left)
            local[:, r] = saved + (right - t) * share
            saved = (t - left) * share
        local[:, order] = saved
    for r in range(degree + 1):
        values[np.arange(len(t)), spans - degree + r] = local[:, r]
    return values
