"""What strength's findings say where a rod has little, nothing or the opposite to do, and where a neck gives way."""

from __future__ import annotations

import math

import pytest
from strength_samples import findings, laid_out

from neckmodel.findings import Finding
from neckmodel.layout.hardware.posts import tuner_of_each
from neckmodel.layout.tables import Voice
from neckmodel.strength import estimate
from neckmodel.strength.rod.reach import RodOnNeck, setting
from neckmodel.strength.strings.load import head_side, load_of
from neckmodel.strength.strings.pull import press_on_nut, pull_of
from neckmodel.strength.tables import bending

OCTAVES_UP = tuple(f"strings.each.{k}.note={n}" for k, n in enumerate(("E4", "A4", "D5", "G5", "B5", "E6")))


@pytest.mark.parametrize("name", ["redpoll", "garganey", "wheatear"])
def test_strings_press_on_the_nut_by_the_angle_between_their_two_lines(name: str) -> None:
    """Each string by itself, seen along the way that it takes in plan: 180 degrees less the angle between the line to
    its post, 8 mm over the face, and the line to the bridge. Their presses add up."""
    layout = laid_out(name)
    pull = pull_of(layout.design.strings)
    load = load_of(layout, pull)
    side = head_side(layout, load, pull)
    assert side is not None
    tuners, found = tuner_of_each(layout.frets.strings, layout.tuners), []
    for string, tuner in zip(layout.frets.strings, tuners, strict=True):
        up = tuner.string_height
        post = [place + up * way for place, way in zip(tuner.on_face, tuner.axis, strict=True)]
        down = post[2] - string.z_nut - string.diameter / 2
        aside = -math.hypot(post[0] - string.x_nut, post[1] - string.y_nut)
        rise = (string.z_12 - string.z_nut) / (string.x_12 - string.x_nut)
        cosine = (aside + down * rise) / (math.hypot(aside, down) * math.hypot(1.0, rise))
        found.append(180 - math.degrees(math.acos(cosine)))
    assert side.angles == pytest.approx((min(found), sum(found) / len(found), max(found)), abs=1e-6)
    assert side.press[0] == pytest.approx(press_on_nut(load.pull, min(found)), rel=1e-6)
    total = sum(press_on_nut(force, angle) for force, angle in zip(pull.each, found, strict=True))
    assert side.press[1] == pytest.approx(total, rel=1e-6)


def rod(name: str, *overrides: str) -> Finding:
    return findings(laid_out(name, *overrides))["strength/rod"]


def test_a_rod_that_may_have_to_add_relief_counts_those_turns_as_minus() -> None:
    wanted = "action.wanted_relief=0.3"
    found, estimated = rod("redpoll", wanted), estimate(laid_out("redpoll", wanted))
    assert estimated.rod is not None
    assert found.more["turns_low"] < found.more["turns"] < 0 < found.more["turns_high"]
    assert found.more["force_low"] < found.more["force"] < 0 < found.more["force_high"]
    assert "minus is the other way" in found.says
    assert "it must add 0.12 mm" in found.says
    three = (estimated.rod.least, estimated.rod.likely, estimated.rod.most)
    assert [s.turns for s in three] == sorted(s.turns for s in three)
    for one in three:
        assert math.copysign(1, one.turns) == math.copysign(1, one.force) == math.copysign(1, one.need)
    assert "minus" not in rod("redpoll").says


def test_a_rod_that_cannot_add_relief_is_left_slack() -> None:
    """The strings bow wheatear by 0.39 mm: no turn sets 0.60, and the washer presses on nothing."""
    found = rod("wheatear", "action.wanted_relief=0.6")
    assert "bow the neck by 0.39 mm, less than the 0.60 mm wanted" in found.says
    assert "left slack" in found.says
    assert " sets " not in found.says
    washer = findings(laid_out("wheatear", "action.wanted_relief=0.6"))["strength/washer"]
    assert washer.measured is None
    assert washer.worst_case is not None
    assert washer.worst_case < 1
    assert washer.verdict == "warn"


def test_no_force_is_told_that_the_rod_cannot_make() -> None:
    """A thread of M4 bears 225 MPa on 8.78 mm2, 1975 N; the wanted relief would ask for more."""
    weak = ("rod.diameter=4", "action.wanted_relief=0.0", "fretboard.fret_slot.depth=3.4")
    found = rod("wheatear", *weak)
    assert found.more["force"] == found.more["force_high"] == pytest.approx(225 * 8.7787, rel=1e-3)
    assert found.more["steel_stress"] <= 225.0
    assert found.more["turns"] == found.more["turns_end"]
    assert "all that the rod can do" in found.says
    washer = findings(laid_out("wheatear", *weak))["strength/washer"]
    assert washer.more["washer_pressure"] <= washer.more["washer_pressure_high"]


@pytest.mark.parametrize("name", ["dunnock", "redpoll", "garganey", "wheatear"])
def test_low_likely_and_high_stand_in_order(name: str) -> None:
    more = rod(name).more
    assert more["turns_low"] <= more["turns"] <= more["turns_high"] <= more["turns_end_high"]
    assert more["turns"] <= more["turns_end"] <= more["turns_end_high"]
    assert more["force_low"] <= more["force"] <= more["force_high"]
    if "pressure" in more:
        assert more["pressure"] <= more["pressure_high"]


def test_ends_that_dent_the_wood_at_the_largest_setting_warn() -> None:
    """dunnock: 1299 N over 15.22 of lever and 5.6 of width is 15.2 MPa; sugar maple bears 10.1 across the grain (Wood
    Handbook, table 5-3a). Redpoll keeps to it."""
    found = rod("dunnock")
    more = found.more
    assert found.verdict == "warn"
    assert "bears 10.1 MPa across the grain, and is dented beyond that" in found.says
    assert more["pressure_high"] == pytest.approx(more["end_force_high"] / (5.6 * 15.22), rel=2e-3)
    assert more["pressure_high"] > 10.1 > more["pressure"]
    assert "dented" not in rod("redpoll").says
    assert rod("redpoll").verdict == "pass"


def test_travel_is_counted_in_turns_of_the_thread_not_of_a_fitted_pitch() -> None:
    """4 mm of travel on a thread of 0.8 are 5 turns, whatever bow a turn gave; the finding says what was measured."""
    fitted = "calibration.rod_bow_per_turn=10"
    likely = {}
    for name, overrides in (("bare", ()), ("measured", (fitted,))):
        estimated = estimate(laid_out("redpoll", "rod.adjuster.travel=0.4", *overrides)).rod
        assert estimated is not None
        likely[name] = estimated.likely.turns_end
    assert likely["bare"] == pytest.approx(likely["measured"]) == pytest.approx(0.4 / 0.8)
    assert "bow measured on the bare rod" in rod("redpoll", fitted).says
    assert "assumed" not in rod("redpoll", fitted).says


def test_a_pull_beyond_the_column_fails_with_numbers_that_exist() -> None:
    """Every string of redpoll two octaves up: 16 times the pull, more than a weak neck bears after years."""
    found = findings(laid_out("redpoll", *OCTAVES_UP))
    relief = found["strength/relief"]
    assert relief.verdict == "fail"
    assert "bows without end" in relief.says
    strength = estimate(laid_out("redpoll", *OCTAVES_UP))
    assert relief.measured == pytest.approx(strength.bears_as_column / strength.load.pull, abs=1e-4)
    assert strength.load.pull == pytest.approx(16 * estimate(laid_out("redpoll")).load.pull)
    assert found["strength/rod"].verdict == "skipped"
    for finding in found.values():
        assert "inf" not in finding.says
        for value in (finding.measured, finding.error, finding.worst_case, *finding.more.values()):
            assert value is None or math.isfinite(value)


def test_the_basis_names_the_spread_that_was_used() -> None:
    own = ("woods.maple.modulus_spread=0.05",)
    assert "one standard deviation of 22 %;" in estimate(laid_out("redpoll")).basis
    basis = estimate(laid_out("redpoll", *own)).basis
    assert "5 % of maple" in basis
    assert "22 % of" in basis


def test_a_setting_ends_where_the_rod_does() -> None:
    """1 mm wanted, 0.001 mm a newton, 5 turns of travel: 1000 N, at 0.8 of pitch and 0.0004 mm a newton half a turn; a
    relief of 8 would ask for 8000 N, and the thread ends before."""
    two_way = estimate(laid_out("redpoll")).rod
    assert two_way is not None
    neck = RodOnNeck(strings=1.0, per_force=0.001, give=0.0004)
    found = setting(two_way.rod, neck, 1.0, 0.0, 5.0)
    dead = two_way.rod.dead_turns
    assert (found.force, found.turns) == (pytest.approx(1000), pytest.approx(0.5 + dead))
    over = setting(two_way.rod, neck, 8.0, 0.0, 5.0)
    assert over.force == pytest.approx(two_way.rod.greatest_force)
    assert over.spare == pytest.approx(over.force * 0.001 - 8.0)
    assert over.turns == over.turns_end
    back = setting(two_way.rod, neck, 0.0, 1.0, 5.0)
    assert (back.force, back.turns) == (-found.force, -found.turns)


def test_the_table_says_which_way_a_rod_is_turned_and_where_it_is_slack() -> None:
    def rows(name: str, wanted: float) -> dict[str, tuple[str, ...]]:
        layout = laid_out(name, f"action.wanted_relief={wanted}")
        return {row[0]: row[1:] for row in bending(layout, estimate(layout), Voice("mm")).rows}

    turned = rows("redpoll", 0.3)
    assert turned["turns of the rod that set 0.30 mm of relief"] == ("-0.22 turns", "-0.01 turns", "0.62 turns")
    assert turned["force in the rod for it"][0].startswith("-")
    slack = rows("wheatear", 0.6)
    assert slack["relief it can move at most"][:2] == ("slack", "slack")
    assert slack["force in the rod for it"][:2] == ("slack", "slack")


def test_the_table_of_a_neck_that_gives_way_has_no_infinite_number() -> None:
    layout = laid_out("redpoll", *OCTAVES_UP)
    said = [cell for row in bending(layout, estimate(layout), Voice("mm")).rows for cell in row]
    assert "gives way" in said
    assert not any("inf" in cell for cell in said)
