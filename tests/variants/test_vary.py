"""Tolerances drawn and values varied: against the normal distribution, the layout itself, and themselves."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from neck_runs import PRESETS, design, found_all, laid_out
from normal_share import share_passing

from neckmodel.errors import DesignError
from neckmodel.layout.workshop.tolerance import worst_loss
from neckmodel.presets import names
from neckmodel.variants import vary_range, vary_tolerance
from neckmodel.variants.ranges import is_length, values_between
from neckmodel.variants.tolerance.errors import shares

THIN = ("neck.thickness.fret_1=18.9", "neck.thickness.fret_12=20.9")


@pytest.mark.parametrize("preset", PRESETS)
def test_walls_are_those_of_the_strength_floor(preset: str) -> None:
    """The same necks, drawn in the same order: every wall's share is the one told there."""
    layout = laid_out(preset)
    told = {share.step: share for share in shares(layout, 20_000).each}
    found = {sure.check: sure for sure in vary_tolerance(layout, 20_000).checks}
    for step, share in told.items():
        sure = found[f"wall/{step}"]
        assert (sure.value, sure.share, sure.worst, sure.low) == (share.wall, share.share, share.worst, share.low)
        assert (sure.largest, sure.takes[sure.largest] / 2) == share.largest


def test_the_share_meets_the_normal_distribution() -> None:
    """The run of a thin redpoll: its least wall leads, so the share is that of one normal error; within three standard
    errors and 0.003 for the sections beside it, which may be the least one in some necks."""
    report = vary_tolerance(laid_out("redpoll", *THIN))
    run = report.checks[0]
    assert run.check == "wall/run"
    exact = share_passing(run.value, run.limit, run.takes)
    assert exact - 0.003 - 3 * run.error < run.share < exact + 3 * run.error
    assert report.every == run.share  # nothing else fails in any neck


def test_the_rods_place_and_the_glue_surface_meet_it_too() -> None:
    """An adjuster 0.05 farther from the nut than it must be, marked out within 0.1: one sigma, so 0.8413 pass. A glue
    surface limited to 0.1 less than there is beside the slot, 0.2 sideways: two sides, each one sigma, 0.6827."""
    place, glue = (
        next(sure for sure in vary_tolerance(laid_out("redpoll", near)).checks if sure.check == check)
        for check, near in (("place/adjuster", "rod_place.from_nut=4.05"), ("glue/nut", "limits.glue_nut=18.435"))
    )
    assert place.value == pytest.approx(0.05)
    assert abs(place.share - NormalDist().cdf(1.0)) < 3 * place.error
    assert glue.value == pytest.approx(42.6 / 2 - 5.53 / 2)  # half the nut's width less half the slot's
    assert abs(glue.share - (2 * NormalDist().cdf(1.0) - 1)) < 3 * glue.error
    assert (place.worst, glue.worst) == (pytest.approx(-0.05), pytest.approx(glue.value - 0.2))


def test_the_wood_beyond_the_channel() -> None:
    """3.05 against 3.0, 0.1 of measuring and 0.1 of stock: sigma 0.0707, 0.7602 pass."""
    long = ("rod_place.from_nut=4", "rod.length=460.36")
    found = {sure.check: sure for sure in vary_tolerance(laid_out("redpoll", *long)).checks}
    end = found["wall/rod-end"]
    assert end.value == pytest.approx(3.05)
    assert abs(end.share - NormalDist().cdf(0.05 / (0.02**0.5 / 2))) < 3 * end.error
    assert end.worst == pytest.approx(2.85)


@pytest.mark.parametrize("preset", names())
def test_sums_are_what_the_solids_measure(preset: str) -> None:
    """Cover, glue surface, place, tuners: the same value, limit and worst case as by the solids, to 0.02 mm (a head's
    hole is measured as a lower bound). Wood at the end is not compared: beside an open end the solids find less."""
    measured = {f.check: f for f in found_all(preset).findings}
    found = [sure for sure in vary_tolerance(laid_out(preset), 100).checks if sure.check.startswith(SUMS)]
    found = [sure for sure in found if sure.check != "cover/back-strip"]  # to the carved skin, by sections: a wall
    undrawn = {
        "place/span",
        "place/span-1",
        "place/span-2",
        "cover/back-strip",
        "cover/strip",
    }  # on which no tolerance bears, and which hangs on glue besides
    layout = laid_out(preset)
    if not any(step.x_start <= layout.design.nut.thickness and step.x_end > 0 for step in layout.steps):
        undrawn.add("glue/nut")  # nothing is open there
    assert {sure.check for sure in found} == {name for name in measured if name.startswith(SUMS)} - undrawn
    for sure in found:
        finding = measured[sure.check]
        assert sure.value == pytest.approx(finding.measured, abs=0.02), sure.check
        assert sure.limit == finding.limit
        assert sure.worst == pytest.approx(finding.worst_case, abs=0.02), sure.check


SUMS = ("cover/", "glue/", "place/", "head/tuners")


def test_a_run_hardly_covered() -> None:
    """19.75 of fretboard beside the run at its start (x 20), 0.2 sideways: limited to 0.05 less than that, a channel
    off to either side by half a sigma fails: 2 Phi(0.5) - 1 = 0.3829."""
    value = next(s for s in vary_tolerance(laid_out("redpoll"), 100).checks if s.check == "cover/run").value
    run = next(
        s
        for s in vary_tolerance(laid_out("redpoll", f"limits.cover_run={value - 0.05}")).checks
        if s.check == "cover/run"
    )
    assert run.largest == "sideways"
    assert abs(run.share - (2 * NormalDist().cdf(0.5) - 1)) < 3 * run.error


def test_every_tuner_is_marked_out_by_itself() -> None:
    """Six holes that keep their limit by one sigma of sideways and measuring each: 0.8413 to the sixth, 0.3546. The
    head's sides are parallel, so that all six are as near to them."""
    level = ("head.outline={near=56,far=56}",)
    value = next(s for s in vary_tolerance(laid_out("redpoll", *level), 100).checks if s.check == "head/tuners").value
    assert value == pytest.approx(28 - 15 - 5)
    sigma = (0.2**2 + 0.1**2) ** 0.5 / 2
    report = vary_tolerance(laid_out("redpoll", *level, f"limits.wall.tuner={value - sigma}"))
    head = next(s for s in report.checks if s.check == "head/tuners")
    assert abs(head.share - NormalDist().cdf(1.0) ** 6) < 3 * head.error
    assert head.worst == pytest.approx(value - 0.3)


def test_worst_case_and_sensitivities_are_the_formula() -> None:
    layout = laid_out("redpoll")
    tolerances = layout.design.workshop.tolerances
    run = next(sure for sure in vary_tolerance(layout, 100).checks if sure.check == "wall/run")
    down = run.takes["depth"] / tolerances.depth
    across = run.takes["sideways"] / tolerances.sideways
    assert down**2 + across**2 == pytest.approx(1.0)
    assert run.takes["carve"] == tolerances.carve
    assert run.value - run.worst == pytest.approx(worst_loss(tolerances, across, down, 9.3), abs=2e-3)
    assert run.largest == "carve"


def test_the_same_seed_gives_the_same_numbers() -> None:
    layout = laid_out("redpoll", *THIN)
    one, two, other = (vary_tolerance(layout, 20_000, seed) for seed in (20, 20, 21))
    assert one == two
    assert other.every != one.every
    assert abs(other.every - one.every) < 5 * one.error


def test_halving_a_tolerance_gains_what_the_normal_distribution_says() -> None:
    report = vary_tolerance(laid_out("redpoll", *THIN))
    gains, run = dict(report.gains), report.checks[0]
    assert report.gains[0][0] == "carve"
    assert gains["measuring"] == 0.0
    better = share_passing(run.value, run.limit, {**run.takes, "carve": 0.2})
    assert gains["carve"] == pytest.approx(better - share_passing(run.value, run.limit, run.takes), abs=0.004)


def test_a_hundred_thousand_necks_are_drawn_unless_another_number_is_asked_for() -> None:
    assert vary_tolerance(laid_out("garganey")).necks == 100_000


def test_a_design_without_a_rod_has_no_place_of_one() -> None:
    found = {sure.check for sure in vary_tolerance(laid_out("garganey"), 100).checks}
    assert {"wall/bar-1", "wall/bar-2", "place/adjuster"} <= found


# --- one value varied -------------------------------------------------------------------------------------------------


def test_each_variant_is_the_design_with_that_value() -> None:
    values = values_between(18.0, 21.0, 0.5)
    assert values == (18.0, 18.5, 19.0, 19.5, 20.0, 20.5, 21.0)
    for variant in vary_range(design("redpoll", "head.drop=7"), "neck.thickness.fret_1", values):
        layout = laid_out("redpoll", "head.drop=7", f"neck.thickness.fret_1={variant.value}")
        assert variant.walls == layout.walls
        assert variant.keeps is (min(wall.wall for wall in layout.walls) >= 3.0)
        assert variant.rod_margin == pytest.approx(3.0)


def test_a_rod_that_grows_loses_its_place_by_as_much() -> None:
    """420 has 41.41 - 7 = 34.41 to spare toward the wood's end, and its block 6.92 before fret 1; but 3.0 from the
    nut's side. Beyond 454.41 - 3 the wood's end is nearer, and from 454.41 on it lacks."""
    found = vary_range(design("redpoll"), "rod.length", values_between(430, 460, 10))
    assert [v.rod_margin for v in found] == [pytest.approx(m) for m in (3.0, 3.0, 3.0, -5.59)]
    assert [v.keeps for v in found] == [True, True, True, False]
    assert found[-1].first is not None
    assert found[-1].first.what == "the wood's end"


def test_what_cannot_be_laid_out_says_why() -> None:
    thin, thick = vary_range(design("redpoll"), "neck.thickness.fret_1", (5.0, 20.0))
    assert (thin.keeps, thin.refused, thin.walls) == (False, "neck.thickness.fret_1 is too small", ())
    assert thick.keeps


def test_counts_and_other_numbers_can_be_varied() -> None:
    few, many = vary_range(design("redpoll"), "fretboard.frets", (21.0, 22.0))
    assert few.keeps
    assert many.keeps
    swings = vary_range(design("redpoll"), "channel.key_swing", (60.0, 75.0))
    assert all(variant.keeps for variant in swings)


@pytest.mark.parametrize("key", ["neck.thickness", "neck", "rod.colour", "heel.screws", "foo.bar", "neck.back"])
def test_what_is_no_single_value_cannot_be_varied(key: str) -> None:
    with pytest.raises(DesignError, match="is no key of a design that holds one value"):
        is_length(key)


def test_kinds_of_values() -> None:
    assert is_length("heel.screws.0.y")
    assert not is_length("fretboard.frets")


def test_values_between() -> None:
    assert values_between(0.1, 0.3, 0.1) == (0.1, 0.2, 0.3)  # though 0.1 + 2 x 0.1 is more than 0.3 in binary
    assert values_between(1.0, 1.9, 0.5) == (1.0, 1.5)
    assert values_between(-20.0, -18.0, 1.0) == (-20.0, -19.0, -18.0)
    for first, last, step, says in ((1, 0, 1, "TO"), (0, 1, 0, "STEP"), (0, 1e9, 1, "at most 500")):
        with pytest.raises(ValueError, match=says):
            values_between(first, last, step)
