"""Rods: figures worked by hand, closed forms, and the same neck's integral."""

from __future__ import annotations

import math

import numpy as np
import pytest
from strength_samples import laid_out

from neckmodel.strength.bending.beam import off_chord, relief
from neckmodel.strength.estimate import estimate
from neckmodel.strength.materials.metals import STEEL_MODULUS, stress_area
from neckmodel.strength.rod.reach import RodOnNeck, setting
from neckmodel.strength.rod.rod import TwoWayRod, two_way_rod
from neckmodel.strength.sections.neck import neck_sections

NECK = 3.87e8 + 0.059e8  # N mm2, the slack rod's own included

# bar 6 x 3, M5 x 0.8 thread of 14.18 mm2, 6.5 mm apart, 390 mm between the blocks
ROD = TwoWayRod(
    length=390.0,
    spacing=6.5,
    area_bar=18.0,
    area_core=14.18,
    own_bending=STEEL_MODULUS * (6 * 3**3 / 12 + 14.18**2 / (4 * math.pi)),
    thread=0.8,
    block=12.0,
)


def midspan_change(moment: float, length: float, bending: float) -> float:
    """Change of relief of an even neck under a constant moment, mm: a circular arc's sagitta, `M l**2/(8 EI)`."""
    return moment * length**2 / (8 * bending)


def test_core_of_an_m5_thread() -> None:
    """ISO 898-1 lists 14.2 mm2 for M5 x 0.8 (8.78 for M4 x 0.7)."""
    assert stress_area(5.0, 0.8) == pytest.approx(14.18, abs=5e-3)
    assert stress_area(4.0, 0.7) == pytest.approx(8.78, abs=5e-3)


def test_slack_bars_add_their_own_bending() -> None:
    assert ROD.own_bending == pytest.approx(0.059e8, abs=5e4)


@pytest.mark.parametrize(("turns", "change"), [(0.25, 0.219), (0.5, 0.437), (1.0, 0.874)])
def test_relief_by_turns(turns: float, change: float) -> None:
    force = ROD.force(turns, 390 / NECK)
    assert midspan_change(force * ROD.spacing, 390.0, NECK) == pytest.approx(change, abs=5e-4)
    assert ROD.turns(force * ROD.spacing, 390 / NECK) == pytest.approx(turns, rel=1e-12)


def test_play_costs_a_dead_zone_of_three_percent() -> None:
    """0.4 mm in all, half of it each way: of one turn 3 % only bend the bare rod."""
    loose = TwoWayRod(**{**ROD.__dict__, "play": 0.4})
    assert loose.dead_turns == pytest.approx(0.033, abs=5e-4)
    assert ROD.dead_turns == 0.0
    bow = loose.dead_turns * loose.bare_bow_per_turn
    assert bow == pytest.approx(0.2, rel=0.1)  # its own steel gives a little before it bears


def test_bare_rod_gives_its_pitch_back() -> None:
    """Two bars of different length bend to `D l/(8 s)`, less what the steel gives; calibrating on the measured bow."""
    stiff = TwoWayRod(**{**ROD.__dict__, "own_bending": 0.0})
    assert stiff.bare_bow_per_turn == pytest.approx(0.8 * 390 / (8 * 6.5), rel=1e-12)
    assert ROD.bare_bow_per_turn < stiff.bare_bow_per_turn
    assert ROD.calibrated(5.0).bare_bow_per_turn == pytest.approx(5.0, rel=1e-12)


def test_end_force_is_the_moment_over_its_lever() -> None:
    assert ROD.end_force(18_000.0) == pytest.approx(1500.0)  # block of 12 mm, no play
    loose = TwoWayRod(**{**ROD.__dict__, "play": 0.4})
    lever = math.sqrt(8 * 0.4 * ROD.own_bending / 18_000)
    assert lever > 12
    assert loose.end_force(-18_000.0) == pytest.approx(18_000 / lever)
    assert ROD.lever(0.0) == 12.0


def even(strings: float) -> RodOnNeck:
    """An even neck with the rod from end to end, its relief by the strings as given: closed forms."""
    return RodOnNeck(strings, per_force=6.5 * 390**2 / (8 * NECK), give=ROD.compliance + 6.5**2 * 390 / NECK)


def test_setting_takes_out_exactly_what_is_needed() -> None:
    """Even neck, rod from end to end: turns and force for 0.4 mm, by the closed form."""
    neck = even(0.55)
    found = setting(ROD, neck, neck.strings, 0.15, math.inf)
    assert found.need == pytest.approx(0.4)
    assert midspan_change(found.force * 6.5, 390.0, NECK) == pytest.approx(0.4, rel=1e-12)
    assert found.turns == pytest.approx(0.4 / 0.874, rel=1e-3)
    assert found.reach == pytest.approx(midspan_change(225 * 14.18 * 6.5, 390.0, NECK), rel=1e-12)
    half = setting(ROD, neck, neck.strings, 0.15, 0.5)
    assert half.reach == pytest.approx(0.437, abs=5e-4)
    adds = setting(ROD, neck, 0.05, 0.15, math.inf)
    assert adds.need == pytest.approx(-0.1)
    assert adds.spare == pytest.approx(adds.reach - 0.1)


def test_a_one_way_rod_is_the_same_pair_that_cannot_add() -> None:
    one_way = TwoWayRod(**{**ROD.__dict__, "adds": False})
    neck = even(0.55)
    assert setting(one_way, neck, 0.55, 0.15, math.inf) == setting(ROD, neck, 0.55, 0.15, math.inf)
    stiff = setting(one_way, neck, 0.05, 0.15, math.inf)
    assert (stiff.need, stiff.reach, stiff.turns, stiff.force) == (pytest.approx(-0.1), 0.0, 0.0, 0.0)
    assert stiff.spare == pytest.approx(-0.1)


def test_rod_of_a_preset() -> None:
    """dunnock's rod is 5.6 x 10.6: flat bar 5.6 x 3, thread M5 below it, axes 6.6 apart, 485 mm between its blocks."""
    rod = two_way_rod(laid_out("dunnock"))
    assert rod is not None
    assert (rod.spacing, rod.pitch, rod.area_bar) == (pytest.approx(6.6), 0.8, pytest.approx(16.8))
    assert rod.length == pytest.approx(520 - 11 - 12 - 12)
    shallow = two_way_rod(laid_out("dunnock", "rod.height=6.0", "rod.block.height=6.0", "rod.anchor.height=6.0"))
    assert shallow is not None
    assert (shallow.spacing, shallow.pitch) == (pytest.approx(6.0 - 1.0 - 2.0), 0.7)  # flat bar 2 mm, M4


def test_a_wider_spacing_reaches_further_and_travel_ends_it() -> None:
    free = estimate(laid_out("redpoll")).rod
    ended = estimate(laid_out("redpoll", "rod.adjuster.travel=0.4")).rod
    assert free is not None
    assert ended is not None
    assert ended.likely.turns_end == pytest.approx(0.5)
    assert ended.likely.reach < free.likely.reach
    assert ended.likely.turns == pytest.approx(free.likely.turns)


def test_what_the_rod_takes_out_matches_the_whole_curve() -> None:
    """Second route: both moments together, bent as one; at the fret of the greatest relief the wanted one is left."""
    layout = laid_out("redpoll")
    strength = estimate(layout)
    assert strength.rod is not None
    span = layout.rod.segment("span") if layout.rod else None
    assert span is not None
    sections = neck_sections(layout, 0.0, span.x_end)
    lying = (sections.x > span.x_start) & (sections.x < span.x_end)
    loose = lying * strength.rod.rod.own_bending
    whole = sections.stiffness((strength.neck.modulus_low,), strength.fretboard.modulus_low, (), False, loose)
    pulled = strength.load.moment(sections.x, whole.neutral) / whole.bending
    x_1, x_joint = layout.frets.x(1), layout.heel.x_joint
    new, x = relief(sections.edges, pulled, x_1, x_joint)
    each = off_chord(sections.edges, lying / whole.bending, x_1, x_joint)
    moment = (new - 0.15) / float(np.interp(x, sections.edges, each))
    left = off_chord(sections.edges, pulled - moment * lying / whole.bending, x_1, x_joint)
    assert float(np.interp(x, sections.edges, left)) == pytest.approx(0.15, abs=1e-5)
    force = moment / strength.rod.rod.spacing
    assert strength.rod.least.force < force < strength.rod.most.force
