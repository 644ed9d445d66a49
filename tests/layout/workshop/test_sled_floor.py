"""The arc on which a sled leads the router, against closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import preset

from neckmodel.geometry.curve import Curve
from neckmodel.layout import lay_out
from neckmodel.layout.workshop.sled import floor_circle, sled_of


@given(st.floats(6, 12), st.floats(6, 12), st.floats(-4, 4).filter(lambda s: abs(s) > 0.05), st.floats(150, 700))
def test_the_circle_goes_through_the_floor_s_ends_and_middle(a: float, b: float, sag: float, length: float) -> None:
    floor = Curve(10.0, 10.0 + length, a, b, (a + b) / 2 + sag)
    circle = floor_circle(floor)
    assert circle is not None
    x, z, radius = circle
    for at in (10.0, 10.0 + length / 2, 10.0 + length):
        assert math.hypot(at - x, -floor.at(at) - z) == pytest.approx(abs(radius), rel=1e-12)
    assert (radius > 0) == (sag > 0) == (z > 0)


def test_a_level_or_straight_floor_has_no_circle() -> None:
    assert floor_circle(Curve(0.0, 100.0, 6.0, 9.0)) is None


@pytest.mark.parametrize("sag", [3.0, -2.5])
def test_with_even_ends_the_radius_is_the_chord_s(sag: float) -> None:
    """A chord c over a sagitta s: `c**2/(8 s) + s/2`, the centre over its middle (any table of the circle)."""
    circle = floor_circle(Curve(10.0, 410.0, 8.0, 8.0, 8.0 + sag))
    assert circle is not None
    assert circle[0] == pytest.approx(210.0)
    assert circle[2] == pytest.approx(400.0**2 / (8 * sag) + sag / 2)
    assert circle[1] == pytest.approx(circle[2] - 8.0 - sag)


def test_a_sled_is_for_the_floor_that_is_not_level() -> None:
    """Wheatear's bent rod: its run has a sled with the floor's own sizes; redpoll's run is level."""
    run = lay_out(preset("wheatear")).step("run")
    sled = sled_of(run)
    assert sled is not None
    floor = run.floor
    assert (sled.length, sled.rise, sled.sagitta) == (floor.x_end - floor.x_start, floor.end - floor.start, floor.sag)
    circle = floor_circle(floor)
    assert circle is not None
    assert sled.radius == abs(circle[2])
    assert 0 < sled.off <= sled.sagitta**3 / sled.length**2
    assert sled_of(lay_out(preset("redpoll")).step("run")) is None
