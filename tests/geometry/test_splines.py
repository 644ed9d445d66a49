"""B-spline values against SciPy's own (scipy.interpolate.BSpline), a general-purpose reference."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import BSpline

from neckmodel.geometry.splines import basis


@pytest.mark.parametrize(
    ("inner", "degree"),
    [((), 3), ((0.2, 0.5, 0.9), 3), ((0.3, 0.3, 0.3, 0.7), 4), ((0.1, 0.4, 0.4, 0.4, 0.41), 4)],
    ids=["one span", "simple knots", "a threefold knot", "close knots"],
)
def test_values_are_those_of_the_reference(inner: tuple[float, ...], degree: int) -> None:
    knots = np.array([0.0] * (degree + 1) + list(inner) + [1.0] * (degree + 1))
    t = np.concatenate([np.linspace(0.0, 1.0, 57), [0.3, 0.4, 0.9]])
    assert basis(t, knots, degree) == pytest.approx(BSpline.design_matrix(t, knots, degree).toarray(), abs=1e-13)
    assert basis(t, knots, degree).sum(axis=1) == pytest.approx(1.0, abs=1e-13)
