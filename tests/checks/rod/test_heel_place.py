"""A rod turned at the heel must begin before fret 1, and a place that is none is told with what is wrong."""

from __future__ import annotations

import pytest
from neck_runs import found

# whimbrel as the worked numbers have it: fret 1 at 37.265 on the centre line, the fretboard and the wood to 510
SEVEN = (
    "strings.scale.bass=680",
    "strings.scale.treble=648",
    "strings.scale.square_fret=9",
    "fretboard.ends_at=510",
    "heel.wood_ends_at=510",
)


def test_a_rod_of_440_at_80_fails() -> None:
    """Its wheel of 9 is clear of the fretboard from 519 - 440 = 79 on, and fret 1 lies at 37.265: 41.735 too short."""
    over = (*SEVEN, "rod.length=440", "rod_place.from_nut=80")
    finding = found("place/adjuster", "whimbrel", *over)
    assert finding.verdict == "fail"
    assert finding.measured == pytest.approx(37.265 - 80.0, abs=1e-3)
    assert "it is 41.73 mm too short: the wheel clear of the fretboard and fret 1 leave no room" in finding.says
    span = found("place/span", "whimbrel", *over)  # what comes of it
    assert (span.verdict, span.measured) == ("warn", pytest.approx(37.265 - 80.0, abs=1e-3))


def test_a_rod_past_fret_1_is_led_back() -> None:
    """A neck whose wood goes on lets the rod of 496 lie farther in: it may start up to fret 1."""
    over = (*SEVEN, "heel.wood_ends_at=530", "rod_place.from_nut=40")
    finding = found("place/adjuster", "whimbrel", *over)
    assert (finding.verdict, finding.measured) == ("fail", pytest.approx(37.265 - 40.0, abs=1e-3))
    assert "fret 1 is in the way" in finding.says
    assert finding.remedy is not None
    assert finding.remedy.set == {"rod_place.from_nut": 37.0}  # in half millimetres
    assert finding.remedy.finer[-1].set["rod_place.from_nut"] == pytest.approx(37.26)  # to 0.01, of 37.265


def test_before_fret_1_its_span_is_told() -> None:
    finding = found("place/span", "whimbrel", *SEVEN)
    assert (finding.verdict, finding.measured) == ("pass", pytest.approx(37.265 - 24.5, abs=1e-3))


def test_a_rod_too_long_is_told_as_before() -> None:
    says = found("place/adjuster", "redpoll", "rod.length=470").says
    assert "it is 12.59 mm too long: the gap from the nut and the wood's end leave no room" in says


def test_where_no_length_has_a_place_that_is_told() -> None:
    """The anchor is to lie 60 past the joint at 386, and 7 before the wood's end at 440."""
    says = found("place/adjuster", "redpoll", "heel.wood_ends_at=440", "rod_place.past_joint=60", "rod.length=430").says
    assert "no place is left for a rod of any length" in says
