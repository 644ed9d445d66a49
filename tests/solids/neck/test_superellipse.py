"""The section splines against the exact curve |u|**p + |v|**p = 1, its known area, and each other."""

from __future__ import annotations

from math import gamma

import numpy as np
import pytest
from numpy.typing import NDArray
from section_curves import exact, farthest

from neckmodel.solids.neck.superellipse import (
    KNOTS,
    POLES,
    SPLIT,
    box_poles,
    curve,
    quarter_poles,
)

Array = NDArray[np.float64]
EXPONENTS = [1.3, 1.35, 1.5, 1.7, 2.0, 2.3, 2.6, 3.0, 3.5, 4.0]
SIZES = [(12.0, 8.0), (12.0, 28.0), (21.5, 15.0), (48.0, 8.0), (48.0, 28.0)]
T = np.linspace(0, 1, 3001)


@pytest.mark.parametrize("exponent", EXPONENTS)
def test_the_spline_keeps_within_a_hundredth_at_every_size(exponent: float) -> None:
    spline, line = curve(quarter_poles(exponent), T), exact(exponent)
    assert farthest(spline, line) <= 1.2e-4  # of the unit square, as is promised
    for size in SIZES:
        assert farthest(spline * size, line * size) <= 0.0065  # mm; 0.01 is promised, the rest is left to the kernel
        assert farthest(line[::7] * size, spline * size) <= 0.0065


@pytest.mark.parametrize("exponent", EXPONENTS)
def test_area_is_the_closed_form(exponent: float) -> None:
    # half a superellipse: 2 a b G(1 + 1/p)**2 / G(1 + 2/p), the area formula by Dirichlet's integral
    points = curve(quarter_poles(exponent), T)
    area = 2 * 21.5 * 15 * np.trapezoid(points[:, 0], points[:, 1])
    assert area == pytest.approx(2 * 21.5 * 15 * gamma(1 + 1 / exponent) ** 2 / gamma(1 + 2 / exponent), rel=1.2e-4)


def test_an_ellipse_is_closer_still() -> None:
    points = curve(quarter_poles(2.0), T)
    assert np.abs(np.hypot(points[:, 0], points[:, 1]) - 1).max() < 1e-5


@pytest.mark.parametrize("exponent", np.linspace(1.3, 4.0, 28))
def test_the_curve_has_no_kink_at_its_ends_and_no_bump_between(exponent: float) -> None:
    poles = quarter_poles(exponent)
    assert poles[0].tolist() == [1.0, 0.0]
    assert poles[-1].tolist() == [0.0, 1.0]
    assert poles[1, 0] == 1.0  # square to the glue plane
    assert poles[-2, 1] == 1.0  # level at the deepest line
    assert poles[1, 1] > 1e-3  # and no double pole, which would be a cusp
    sides = np.diff(poles, axis=0)
    turns = sides[:-1, 0] * sides[1:, 1] - sides[:-1, 1] * sides[1:, 0]
    assert turns.min() > -1e-12  # a convex polygon of poles: a convex curve
    assert sides[:, 0].max() <= 0
    assert sides[:, 1].min() >= 0


def test_a_quarter_is_its_own_mirror_image() -> None:
    for exponent in EXPONENTS:
        poles = quarter_poles(exponent)
        assert np.array_equal(poles, poles[::-1, ::-1])


def test_poles_change_smoothly_with_the_exponent() -> None:
    fine = np.array([quarter_poles(p) for p in np.arange(1.3, 4.0, 0.01)])
    assert np.abs(np.diff(fine, axis=0)).max() < 0.01  # no jump from one branch of the fit to another
    assert np.abs(np.diff(fine, 2, axis=0)).max() < 2e-4  # and no kink


@pytest.mark.parametrize("exponent", [1.29, 4.01, float("nan")])
def test_exponents_outside_the_range_are_refused(exponent: float) -> None:
    with pytest.raises(ValueError, match=r"outside 1\.3 to 4"):
        quarter_poles(exponent)


@pytest.mark.parametrize(("straight", "depth"), [(24.0, 30.0), (20.0, 26.0), (9.0, 40.0), (60.0, 62.0)])
def test_the_box_is_straight_down_to_its_knot_and_round_below(straight: float, depth: float) -> None:
    poles = box_poles(27.0, straight, depth)
    assert poles.shape == (POLES, 2)
    points = curve(poles, np.linspace(0, KNOTS[SPLIT], 300))
    assert np.abs(points[:, 0] - 27.0).max() < 1e-13
    assert points[-1, 1] == pytest.approx(straight, abs=1e-12)
    assert np.diff(points[:, 1]).min() > 0
    below = curve(poles, np.linspace(KNOTS[SPLIT], 1, 300))
    assert below[-1].tolist() == [0.0, depth]
    assert np.diff(below[:, 1]).min() >= 0
    assert np.diff(below[:, 0]).max() <= 1e-14
    sides = np.diff(poles, axis=0)
    assert (sides[:-1, 0] * sides[1:, 1] - sides[:-1, 1] * sides[1:, 0]).min() >= -1e-12
    assert poles[-2, 1] == depth  # level at the middle
