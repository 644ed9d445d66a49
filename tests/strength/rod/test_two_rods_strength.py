"""Two rods turned alike: twice the moment for the same force in each, and twice the rods' own stiffness."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from pair_samples import GREENSHANK, ONE, STRINGS, pair

from neckmodel.checks.strength.rod import check_rod
from neckmodel.checks.strength.words import ALONE
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.tables.table import Voice
from neckmodel.strength.bending.bending import Bending, Moduli, bending_of
from neckmodel.strength.estimate import estimate
from neckmodel.strength.rod.rod import TwoWayRod, two_way_rod
from neckmodel.strength.strings.load import load_of
from neckmodel.strength.strings.pull import pull_of
from neckmodel.strength.tables import bending as bending_table

MODULI = Moduli((13000.0,), 14000.0, whole=True)


@cache
def layout(text: str) -> Layout:
    return lay_out(pair(text=text.replace("[fretboard]", STRINGS + "[fretboard]")))


@cache
def bending(text: str) -> tuple[Bending, TwoWayRod]:
    found = layout(text)
    rod = two_way_rod(found)
    assert rod is not None
    return bending_of(found, load_of(found, pull_of(found.design.strings)), rod), rod


def test_the_slack_rods_own_stiffness_counts_twice() -> None:
    (two, rod), (one, _) = bending(GREENSHANK), bending(ONE)
    assert float(two.loose.max()) == pytest.approx(2 * rod.own_bending)
    assert float(one.loose.max()) == pytest.approx(rod.own_bending)


def test_the_same_force_in_each_of_two_takes_out_twice_what_it_does_in_one() -> None:
    """On the same wood: the neck with two channels, once with both rods turned and once counted as having one."""
    both, rod = bending(GREENSHANK)
    bent = both.under(MODULI)
    alone = Bending(**{**vars(both), "rods": 1})
    two, one = both.rod_on(rod, bent), alone.rod_on(rod, bent)
    assert two.per_force == pytest.approx(2 * one.per_force, rel=1e-9)
    assert two.arm == pytest.approx(2 * one.arm, rel=1e-12)
    # an adjuster runs on by its own stretch, and by what both together bend the neck under it
    assert two.give - rod.compliance == pytest.approx(2 * (one.give - rod.compliance), rel=1e-9)
    moment, push = both.rod_load(rod, bent, 100.0)
    once, once_push = alone.rod_load(rod, bent, 100.0)
    np.testing.assert_allclose(bent.moment - moment, 2 * (bent.moment - once), rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(push, once_push)  # a rod of two bars does not press the neck together


def test_two_rods_need_about_half_the_turns_of_one() -> None:
    """Less than half the force, for each also bends a neck that has lost a second channel's wood."""
    two, one = estimate(layout(GREENSHANK)).rod, estimate(layout(ONE)).rod
    assert two is not None
    assert one is not None
    assert 0.4 < two.likely.force / one.likely.force < 0.65
    assert two.likely.reach > 1.5 * one.likely.reach


def test_one_turned_alone_is_told_as_a_twist_without_a_number() -> None:
    says = told(GREENSHANK)
    assert "both rods turned alike" in says
    assert ALONE in says
    assert not any(sign.isdigit() for sign in ALONE)
    assert "twist" not in told(ONE)


def test_tables_tell_turns_and_force_of_each_rod() -> None:
    for text, which in ((GREENSHANK, "each rod"), (ONE, "the rod")):
        found = layout(text)
        rows = [row[0] for row in bending_table(found, estimate(found), Voice("mm")).rows]
        assert f"force in {which} for it" in rows
        assert f"turns of {which} that set 0.15 mm of relief" in rows


def told(text: str) -> str:
    found = layout(text)
    assert found.rod is not None
    return check_rod(found, found.rod, estimate(found)).says
