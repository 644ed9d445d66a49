"""What was measured narrows the estimate, and leads back to what it was measured on."""

from __future__ import annotations

import pytest
from strength_samples import laid_out

from neckmodel.design.shop import Calibration
from neckmodel.layout import Layout, lay_out
from neckmodel.strength import Strength, estimate
from neckmodel.strength.beam import modulus_of_blank


def measured(layout: Layout, **found: float) -> Strength:
    design = layout.design.model_copy(update={"calibration": Calibration.model_validate(found)})
    return estimate(lay_out(design))


def test_without_measurements_the_range_is_the_handbooks() -> None:
    plain, empty = estimate(laid_out("redpoll")), measured(laid_out("redpoll"))
    assert plain == empty
    assert plain.measured == ""


@pytest.mark.parametrize("change", [0.2, 0.28, 0.45])
def test_strung_less_unstrung_becomes_the_relief(change: float) -> None:
    """The estimate then gives what was measured, and only the two readings (0.03 mm each) are left of its range."""
    plain = estimate(laid_out("redpoll"))
    found = measured(laid_out("redpoll"), relief_unstrung=-0.05, relief_strung=change - 0.05)
    assert found.relief.likely == pytest.approx(change, abs=1e-6)
    assert found.relief.low == pytest.approx(change - 0.03 * 2**0.5, abs=1e-6)
    assert found.relief.high == pytest.approx(change + 0.03 * 2**0.5, abs=1e-6)
    assert found.relief.high - found.relief.low < (plain.relief.high - plain.relief.low) / 2
    assert found.measured == "the relief strung and unstrung"
    assert found.rod is not None
    assert found.rod.likely.need == pytest.approx(change - 0.15, abs=1e-3)


def test_a_stiffer_reading_means_a_stiffer_neck() -> None:
    soft = measured(laid_out("redpoll"), relief_unstrung=0.0, relief_strung=0.45)
    stiff = measured(laid_out("redpoll"), relief_unstrung=0.0, relief_strung=0.2)
    assert stiff.bending.likely > soft.bending.likely
    assert stiff.bending.low <= stiff.bending.likely <= stiff.bending.high


def test_a_neck_that_did_not_bend_is_no_reading() -> None:
    plain = estimate(laid_out("redpoll"))
    assert measured(laid_out("redpoll"), relief_unstrung=0.1, relief_strung=0.1).relief == plain.relief


def test_the_blanks_sag_gives_its_modulus() -> None:
    """redpoll's board is 65 x 24: a sag as of handbook maple changes the likely relief by nothing, a stiffer board
    lowers it; either way the range narrows."""
    layout = laid_out("redpoll")
    plain = estimate(layout)
    sag = 50 * 600**3 / (48 * 13_860 * 65 * 24**3 / 12)
    assert modulus_of_blank(50.0, 600.0, 65.0, 24.0, sag) == pytest.approx(13_860)
    same = measured(layout, weight=50.0, span=600.0, sag=sag)
    assert same.relief.likely == pytest.approx(plain.relief.likely, rel=1e-9)
    assert same.relief.high - same.relief.low < 0.8 * (plain.relief.high - plain.relief.low)
    stiff = measured(layout, weight=50.0, span=600.0, sag=sag / 1.15)
    assert stiff.relief.likely < same.relief.likely
    assert stiff.measured == "the sag of the blank under a weight"


def test_a_bare_rods_bow_sets_its_turns() -> None:
    """Twice the bow a turn is half the turns for the same relief, and the same force."""
    layout = laid_out("redpoll")
    one = estimate(layout).rod
    assert one is not None
    two = measured(layout, rod_bow_per_turn=2 * one.rod.bare_bow_per_turn).rod
    assert two is not None
    assert two.likely.turns == pytest.approx(one.likely.turns / 2, rel=1e-9)
    assert two.likely.force == pytest.approx(one.likely.force, rel=1e-9)
