"""How far a sawn blank sags under a router: closed forms of a beam on two supports, pressed in its middle."""

from __future__ import annotations

import numpy as np
import pytest

from neckmodel import presets
from neckmodel.design import read
from neckmodel.layout import lay_out
from neckmodel.strength.bending.blank import PRESS, beam_sag, blank_sag


def test_an_even_beam() -> None:
    """`F L**3/(48 E I)`: 63 x 18.5 of 12,600 MPa over 386 mm, 100 N: 0.286 mm."""
    edges = np.linspace(0.0, 386.0, 401)
    assert beam_sag(100.0, 12600.0, edges, 63 * 18.5**3 / 12) == pytest.approx(0.286, abs=0.0005)


def test_a_stepped_beam() -> None:
    """Outer quarters of another stiffness: `F L**3/(48 E) (1/8 / I_out + 7/8 / I_in)`, for the unit moment squared is
    `x**2/4`, whose integral over the first quarter is an eighth of that over the half."""
    edges = np.linspace(0.0, 400.0, 4001)
    x = (edges[:-1] + edges[1:]) / 2
    outer, inner = 20000.0, 35000.0
    bending = np.where((x < 100) | (x > 300), outer, inner)
    expected = 100 * 400**3 / (48 * 12600) * (0.125 / outer + 0.875 / inner)
    assert beam_sag(100.0, 12600.0, edges, bending) == pytest.approx(expected, rel=1e-5)


def test_redpoll_stands_between_an_even_beam_as_thick_as_its_thinnest_and_its_thickest() -> None:
    """Its blank is 63 wide and stands on the head's back from x 0 and on the heel from x 356.02; its sawn shaft grows
    from 16.31 to 18.75 thick, the ramps apart. Maple of the handbook: 12,600 MPa."""
    sag = blank_sag(lay_out(read(presets.path_of("redpoll") or "")))
    assert sag is not None
    assert (sag.width, sag.x_from, sag.x_to) == pytest.approx((63.0, 0.0, 356.02), abs=0.01)
    assert sag.thinnest == pytest.approx(16.31, abs=0.03)
    thick, thin = (PRESS * sag.span**3 / (48 * 12600 * 63 * t**3 / 12) for t in (18.75, 16.3))
    assert thick < sag.sag < thin
    assert sag.sag == pytest.approx(0.266, abs=0.001)


def test_a_wood_that_nobody_knows_has_no_number() -> None:
    assert blank_sag(lay_out(read(presets.path_of("redpoll") or "", ['neck.wood="driftwood"']))) is None
