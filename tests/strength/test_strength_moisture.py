"""Moisture: the handbook's equation, closed forms, and what the check says of fret ends."""

from __future__ import annotations

import math

import pytest
from strength_samples import findings, laid_out

from neckmodel.findings import Finding
from neckmodel.layout import Layout
from neckmodel.strength.moisture import (
    bow,
    equilibrium,
    moisture_estimate,
    two_layer_curvature,
    width_change,
)
from neckmodel.strength.section import rectangle, stiffness
from neckmodel.strength.woods import find_wood


@pytest.mark.parametrize(
    ("humidity", "percent"), [(0.2, 4.4), (0.3, 6.1), (0.4, 7.7), (0.5, 9.4), (0.6, 11.3), (0.7, 13.6), (0.8, 16.5)]
)
def test_equilibrium_moisture(humidity: float, percent: float) -> None:
    """Wood Handbook equation 4-6 at 21.1 C, worked out apart; the older equation of 2010 has 9.2 at 50 % (memory)."""
    assert equilibrium(humidity) == pytest.approx(percent, abs=0.05)


def test_width_of_a_fretboard_drying() -> None:
    assert width_change(56.0, 0.0027, -3.0) == pytest.approx(-0.454, abs=5e-4)


def test_two_equal_layers_bend_by_three_halves() -> None:
    """Timoshenko 1925: equal thicknesses and moduli give `3 e/(2 h)`."""
    assert two_layer_curvature(1e-4, (5.0, 5.0), (10_000, 10_000)) == pytest.approx(1.5 * 1e-4 / 10)


def test_two_layers_against_the_transformed_section() -> None:
    """Second route: the free strain as a force in the upper layer, let go: `kappa = E1 A1 e (z1 - z_n)/EI`."""
    t1, t2, e1, e2, strain = 5.5, 14.0, 13_530.0, 13_860.0, 1.8e-4
    parts = [(e1, rectangle([1.0], 0, t1)), (e2, rectangle([1.0], -t2, 0))]
    both = stiffness(parts)
    kappa = float(e1 * t1 * strain * (t1 / 2 - both.neutral[0]) / both.bending[0])
    assert two_layer_curvature(strain, (t1, t2), (e1, e2)) == pytest.approx(kappa, rel=1e-10)
    assert two_layer_curvature(-strain, (t1, t2), (e1, e2)) == pytest.approx(-kappa, rel=1e-10)
    arc = kappa**-1
    assert bow(kappa, 386.0) == pytest.approx(arc - math.sqrt(arc**2 - 193.0**2), rel=1e-4)


def dried(layout: Layout) -> Finding:
    return findings(layout)["strength/moisture"]


def test_a_season_moves_a_neck() -> None:
    """35 to 65 % relative humidity are 6.86 and 12.40 % of moisture; quarter-sawn maple moves by 0.00165 a percent."""
    layout, maple, rosewood = laid_out("redpoll"), find_wood("maple"), find_wood("rosewood")
    assert maple is not None
    assert rosewood is not None
    found = moisture_estimate(layout, maple, rosewood)
    change = found.moisture[1] - found.moisture[0]
    assert change == pytest.approx(5.54, abs=0.01)
    assert found.neck == pytest.approx(2 * layout.back.half_width(layout.heel.x_joint) * 0.00165 * change)
    flat = moisture_estimate(laid_out("redpoll", "board.rings=flat"), maple, rosewood)
    assert flat.neck == pytest.approx(found.neck * 0.00353 / 0.00165)
    assert flat.fretboard_quarter == found.fretboard_quarter


def test_fret_ends_by_hand() -> None:
    """Rosewood shrinks radially by 2.7 %: 1/(3000/2.7 - 20) = 0.000917 a percent, x 5.54 x the end's width, half a
    side. Flat-sawn, 5.8 %: 0.002012."""
    layout = laid_out("redpoll")
    width, found = 2 * layout.fretboard.half_width(layout.fretboard.x_end), dried(layout)
    assert found.verdict == "pass"
    assert found.measured == pytest.approx(width * 5.543 / (3000 / 2.7 - 20) / 2, abs=2e-4)
    assert found.worst_case == pytest.approx(width * 5.543 / (3000 / 5.8 - 20) / 2, abs=2e-4)
    assert found.limit == 0.2
    assert f"proud by {found.measured:.2f} mm a side" in found.says
    assert "common practice" in found.basis


@pytest.mark.parametrize(("wood", "verdict"), [("rosewood", "pass"), ("ebony", "warn"), ("maple", "warn")])
def test_woods_that_move_much_are_warned_of(wood: str, verdict: str) -> None:
    assert dried(laid_out("redpoll", f"fretboard.wood={wood}")).verdict == verdict


def test_the_bow_of_unlike_woods_is_told_and_is_small() -> None:
    """0.000033 a percent apart, by Timoshenko's formula over the length to the joint: half way the fretboard is 6 thick
    less a third of its crown's 0.912, the wood half an ellipse 15.606 deep less a channel of 6.1 x 9.3, 47.757 wide."""
    layout = laid_out("redpoll")
    found = dried(layout)
    assert 0.1 < found.more["bow"] < 0.5
    thick = (6 - 0.912 / 3, 15.606 * math.pi / 4 - 6.1 * 9.3 / 47.757)
    even = two_layer_curvature(0.001 / 30 * 5.543, thick, (13_530, 13_860))
    assert found.more["bow"] == pytest.approx(bow(even, layout.heel.x_joint), rel=0.002)


def test_a_wood_whose_movement_is_not_known_is_skipped_by_its_key() -> None:
    """wenge: only its flat-sawn movement is printed, so that stands for both."""
    skipped = dried(laid_out("redpoll", "fretboard.wood=bubinga"))
    assert skipped.verdict == "skipped"
    assert skipped.says.startswith("woods.bubinga.shrinkage_radial is not stated")
    known = dried(laid_out("redpoll", "fretboard.wood=bubinga", "woods.bubinga.shrinkage_radial=5.8"))
    assert known.verdict == "warn"
    wenge = dried(laid_out("redpoll", "fretboard.wood=wenge"))
    assert wenge.measured == wenge.worst_case
    assert "quarter-sawn" not in wenge.says
    assert "width at the joint" not in dried(laid_out("redpoll", "neck.wood=bubinga")).says
