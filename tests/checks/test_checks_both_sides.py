"""Every check misses its limit where it should, at the number worked out by hand, keeps it beside it, and is mended."""

from __future__ import annotations

import pytest
from check_cases import CASES, Case, run_long
from inch_words import without_unit
from neck_runs import as_overrides, found, laid_out
from spares import agrees

IN_ORDER = ("pass", "warn", "fail")
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)


@each_case
def test_misses_its_limit(case: Case):
    finding = found(case.check, case.preset, *case.bad)
    assert finding.verdict == case.verdict
    assert finding.measured == pytest.approx(case.measured, abs=case.tolerance)
    assert agrees(finding), f"{finding.spare} to spare"


@pytest.mark.parametrize("case", [case for case in CASES if case.good is not None], ids=lambda case: case.name)
def test_keeps_it_beside(case: Case):
    finding = found(case.check, case.preset, *case.good)
    assert finding.verdict in ("pass", case.mended)
    assert agrees(finding), f"{finding.spare} to spare"


@each_case
def test_says_what_a_maker_needs(case: Case):
    finding = found(case.check, case.preset, *case.bad)
    assert 20 < len(finding.says) < 180
    assert finding.error is not None
    assert finding.limit is not None
    assert finding.basis
    if case.check != "stock/grain":  # a board has no place
        assert finding.at is not None
        frets = laid_out(case.preset, *case.bad).frets
        places = {0: 0.0} | {fret.number: fret.x for fret in frets.frets}
        assert abs(places[finding.at.fret] - finding.at.x) == min(abs(x - finding.at.x) for x in places.values())
    assert "None" not in finding.says
    assert "-0.00" not in finding.says
    assert without_unit(finding.says) == []
    assert finding.remedy is None or without_unit(finding.remedy.says, to_follow=True) == []


@each_case
def test_its_remedy_mends_it(case: Case):
    remedy = found(case.check, case.preset, *case.bad).remedy
    if remedy is None:
        assert (case.check, case.verdict) in WITHOUT
        return
    assert remedy.says
    for value in remedy.set.values():
        if isinstance(value, float):
            assert value == pytest.approx(round(value, 4), abs=1e-9)
    mended = found(case.check, case.preset, *case.bad, *as_overrides(remedy.set))
    assert mended.verdict in ("pass", case.mended)
    assert IN_ORDER.index(mended.verdict) < IN_ORDER.index(case.verdict)


# Where no number in the design mends it: another board, another cutter's flutes, strings pushed aside; a wall that only
# the tolerances miss; an L-key stopped by wood, or glue surface beside a key's pocket, which are the maker's to choose.
WITHOUT = {
    ("stock/grain", "fail"),
    ("stock/grain", "warn"),
    ("cutter/run", "warn"),
    ("access/strings", "warn"),
    ("wall/run", "warn"),
    ("access/swing", "fail"),
    ("glue/nut", "fail"),
    ("fit/adjuster", "warn"),
}


def test_a_round_end_needs_what_the_circle_through_the_corner_says():
    finding = found("fit/end", "redpoll", "channel.ends=round")
    assert finding.limit == pytest.approx(run_long(6.0, 6.1, 3.0), abs=1e-9)
    assert finding.limit == pytest.approx(2.4546, abs=1e-4)


def test_wood_at_the_end_of_a_tenon_leaves_out_its_shoulders():
    """The rod ends at 4 + 360, its channel 1 farther, the tenon at 376.02; the shoulders, at 356, lie beside it."""
    finding = found("wall/rod-end", "wheatear")
    assert finding.measured == pytest.approx(376.02 - 365, abs=finding.error)
    # what is left beside it, of a tenon 22 wide and a channel of 10.2, is told by the wall
    assert found("wall/anchor", "wheatear").measured == pytest.approx((22 - 10.2) / 2, abs=0.05)
