"""The cradle: it holds the real neck on its cork, and nothing of it touches heel or head."""

from __future__ import annotations

import numpy as np
import pytest
from jig_runs import drafted, inspected
from neck_runs import laid_out, uncut

from neckmodel.jigs.kinds.cradle import floor_of, places
from neckmodel.meshes import mesh_of, to_manifold

PRESETS = ["dunnock", *(pytest.param(p, marks=pytest.mark.sweep) for p in ("garganey", "pipit", "redpoll", "wheatear"))]


@pytest.mark.parametrize("preset", PRESETS)
def test_the_neck_s_own_solid_lies_in_the_saddles_with_the_cork_s_room(preset: str) -> None:
    """Second route: the gap between two solids, of which the saddle was not made from the other. Meshes to 0.02."""
    neck = to_manifold(mesh_of(uncut(preset).carved, 0.02))  # the channel is cut from above
    for piece in drafted(preset, "cradle").pieces:
        saddle = to_manifold(mesh_of(piece.solid, 0.02))
        assert neck.min_gap(saddle, 5.0) == pytest.approx(2.0, abs=0.05)


def test_saddles_stand_level_and_heel_and_head_clear_the_board() -> None:
    layout, floor = laid_out("dunnock"), floor_of(laid_out("dunnock"))
    lows = [piece.solid.BoundingBox().zmin for piece in drafted("dunnock", "cradle").pieces]
    assert lows == pytest.approx([floor] * len(lows), abs=1e-6)
    assert floor <= -layout.heel.depth - 3.0
    assert floor <= layout.head.lowest - 3.0


def test_saddles_are_even_and_no_farther_apart_than_said() -> None:
    xs = [saddle.x for saddle in places(laid_out("garganey"))]
    assert np.ptp(np.diff(xs)) < 1e-9
    assert np.diff(xs).max() <= 160.0
    assert xs[-1] + 19.0 <= laid_out("garganey").heel.x_swell + 1e-9


def test_the_room_for_the_cork_is_told_at_both_ends_of_a_saddle() -> None:
    found = [f for f in inspected("dunnock", "cradle").findings if f.check == "jig/cork"]
    assert len(found) == 4
    for one in found:
        assert one.measured == pytest.approx(2.0, abs=0.01)
        assert 2.2 < one.more["most"] < 3.2  # the neck tapers along a saddle
