"""The head's outline as it is finished: sides, transition, and the back of an inclined head."""

from __future__ import annotations

import math

import pytest
from neck_runs import laid_out

from neckmodel.layout.neck.edge import head_edge


def test_straight_sides() -> None:
    """From 49 to 56 wide in 180: at 90 the side lies 26.25 out, leaning 3.5 in 180. The far end is 90 off."""
    edge = head_edge(laid_out("wheatear").outside)
    square = math.hypot(1, 3.5 / 180)
    assert edge.rim(-90, 0) == pytest.approx(26.25 / square, abs=2e-3)
    assert edge.rim(-90, 16.5) == pytest.approx(9.75 / square, abs=2e-3)
    assert edge.rim(-90, -16.5) == edge.rim(-90, 16.5)
    assert edge.rim(-175, 0) == pytest.approx(5, abs=2e-3)


def test_under_an_inclined_heads_back_a_hole_lies_nearer_to_the_nut() -> None:
    """14.5 thick at 14 degrees: 3.615 on, where the head is 0.0703 narrower on a side."""
    edge = head_edge(laid_out("wheatear").outside)
    under = 14.5 * math.tan(math.radians(14))
    lost = edge.rim(-90, 16.5) - edge.hole_rim(-90, 16.5)
    assert lost == pytest.approx(under * 3.5 / 180 / math.hypot(1, 3.5 / 180), abs=4e-3)
    level = head_edge(laid_out("redpoll").outside)
    assert level.hole_rim(-80, -15) == level.rim(-80, -15)


def test_the_transition_is_the_necks_own() -> None:
    """At the nut the outline is the neck's width, wherever the head's sides would be there."""
    layout = laid_out("redpoll")
    along = -layout.head.x_line  # x = 0
    edge, half = head_edge(layout.outside), layout.outside.half_width(0.0)
    assert edge.rim(along, 0) < half < layout.head.near / 2
    assert edge.rim(along, half) == pytest.approx(0, abs=0.06)
