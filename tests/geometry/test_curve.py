"""The law of a curved floor: parabola, arc, lengths and slopes, against closed forms and numeric integrals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from neckmodel.geometry.curve import Curve, arc_difference
from neckmodel.layout.channel.step import Step

DEPTHS = st.floats(2.0, 20.0)


@st.composite
def curves(draw: st.DrawFn) -> Curve:
    start = draw(st.floats(-50, 50))
    length = draw(st.floats(50, 800))
    return Curve(start, start + length, draw(DEPTHS), draw(DEPTHS), draw(st.one_of(st.none(), DEPTHS)))


@pytest.mark.parametrize("u", [0.0, 0.1, 0.25, 0.5, 0.8, 1.0])
def test_equal_ends_give_the_printed_formula(u):
    curve = Curve(4.0, 364.0, 6.0, 6.0, 9.5)
    assert curve.at(4.0 + 360.0 * u) == pytest.approx(6.0 + 3.5 * 4 * u * (1 - u), abs=1e-12)


@given(curves())
def test_it_goes_through_its_three_depths(curve):
    middle = (curve.x_start + curve.x_end) / 2
    wanted = (curve.start + curve.end) / 2 if curve.middle is None else curve.middle
    assert [curve.at(x) for x in (curve.x_start, middle, curve.x_end)] == pytest.approx(
        [curve.start, wanted, curve.end], abs=1e-9
    )


@given(curves(), st.floats(0.05, 0.6), st.floats(0.05, 0.35))
def test_a_part_of_it_is_the_same_law(curve, first, share):
    x0 = curve.x_start + first * curve.length
    part = curve.between(x0, x0 + share * curve.length)
    xs = np.linspace(curve.x_start - 20, curve.x_end + 20, 9)
    assert [part.at(x) for x in xs] == pytest.approx([curve.at(x) for x in xs], abs=1e-6)


@given(curves())
def test_extremes_mean_length_and_slope_by_numbers(curve):
    xs = np.linspace(curve.x_start, curve.x_end, 4001)
    depths = np.array([curve.at(x) for x in xs])
    least, most = curve.extremes()
    assert least == pytest.approx(depths.min(), abs=1e-4)
    assert most == pytest.approx(depths.max(), abs=1e-4)
    assert least <= depths.min() + 1e-9 <= most + 1e-9
    assert curve.mean() == pytest.approx(np.interp(xs, xs, depths).mean(), rel=1e-3)
    x = curve.x_start + 0.3 * curve.length
    assert curve.slope(x) == pytest.approx((curve.at(x + 1e-4) - curve.at(x - 1e-4)) / 2e-4, abs=1e-6)
    by_quadrature = integrate.quad(lambda v: math.hypot(1.0, curve.slope(v)), curve.x_start, curve.x_end)[0]
    assert curve.arc_length() == pytest.approx(by_quadrature, rel=1e-9)


@given(st.floats(0.2, 15.0), st.floats(100, 800))
def test_the_arc_that_a_sled_cuts_stays_within_the_bound(sag, length):
    """The circle through both ends and the middle, `R = l**2/(8 s) + s/2`, against the parabola, at 2001 places."""
    radius = length**2 / (8 * sag) + sag / 2
    x = np.linspace(-length / 2, length / 2, 2001)
    arc = np.sqrt(radius**2 - x**2) - (radius - sag)
    parabola = sag * (1 - (2 * x / length) ** 2)
    off = np.abs(arc - parabola).max()
    assert off <= arc_difference(sag, length) + 1e-9
    assert off >= 0.2 * arc_difference(sag, length) - 1e-9  # the bound is not idle: about 1/4 of it is reached


def test_the_arc_of_a_usual_rod_differs_by_less_than_a_micrometre():
    assert arc_difference(3.5, 360.0) == pytest.approx(3.5**3 / 360.0**2) == pytest.approx(0.000331, abs=1e-6)


def step(**changes: object) -> Step:
    kept: dict[str, object] = {"depth_middle": 12.0, "corner_start": 1.0, "end_start": "round", "end_end": "square"}
    return Step("run", 10.0, 50.0, 6.0, 8.0, 9.0, **(kept | changes))  # type: ignore[arg-type]


def test_a_step_turned_round_twice_is_itself():
    turned = step().flipped()
    assert turned.flipped() == step()
    assert (turned.x_start, turned.x_end) == (-50.0, -10.0)
    assert [turned.depth_at(-x) for x in (10.0, 23.0, 50.0)] == pytest.approx(
        [step().depth_at(x) for x in (10, 23, 50)]
    )
    assert (turned.corner_end, turned.end_end, turned.end_start) == (1.0, "round", "square")


def test_the_deepest_place_may_lie_between_the_ends():
    assert step().depth == pytest.approx(max(step().depth_at(x) for x in np.linspace(10, 50, 4001)), abs=1e-6)
    assert step().depth > 12.0  # unequal ends: not half way
    assert step(depth_middle=None).depth == 9.0


def test_a_step_is_cut_off_by_the_wood():
    assert step().up_to(50.1) is not None
    assert step().up_to(50.1) == step()
    assert step().up_to(10.0) is None
    shorter = step().up_to(40.0)
    assert shorter is not None
    assert (shorter.x_end, shorter.end_end, shorter.corner_end) == (40.0, "open", 0.0)
    assert [shorter.depth_at(x) for x in (12.0, 33.0)] == pytest.approx([step().depth_at(12.0), step().depth_at(33.0)])
