"""A remedy in a file in inches: one number to 0.001 in, never short of what was worked out in mm."""

from __future__ import annotations

import pytest
from neck_runs import design

from neckmodel.checks.remedies.unit import in_file_numbers, in_file_unit


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("neck.thickness.fret_1", 20.6, "0.812 in"),  # 0.81102 up from 20.5
        ("neck.thickness.fret_1", 20.4, "0.803 in"),  # 0.80315 down from 20.5
        ("rod.length", 400.3, "15.759 in"),  # 15.75984 down from 420
        ("head.tuners.0.x", -41.0, "-1.615 in"),  # -1.61417 farther from the nut than -40
        ("head.tuners.0.x", -39.0, "-1.535 in"),  # -1.53543 nearer
        ("board.thickness", 25.4, "1.000 in"),
        ("heel.width", 57.0, "2.245 in"),  # 2.24409 where a word stands
        ("measured.channel.run.depth", 9.3, "0.367 in"),  # 0.36614: what is cut may only get deeper
        ("measured.channel.run.x_start", 16.9, "0.665 in"),  # 0.66535: and longer
        ("measured.neck.thickness.fret_1", 20.4, "0.803 in"),
        ("adjusting_key.size", 4.0, "4 mm"),
    ],
)
def test_rounded_to_the_far_side(key: str, value: float, told: str) -> None:
    assert in_file_unit(design("redpoll"), key, value) == told


def test_the_sentence_tells_the_number_that_is_set() -> None:
    """0.732 in is 18.5928 mm; the difference to what it was is no number that is set."""
    before, after = {"neck.thickness.fret_1": 18.57}, {"neck.thickness.fret_1": "0.732 in"}
    says = "thicker by 0.57 mm: fret_1 = 18.57 mm, not 118.57 or 18.571 mm"
    assert in_file_numbers(says, before, after) == "thicker by 0.57 mm: fret_1 = 18.59 mm, not 118.57 or 18.571 mm"


def test_a_cutter_is_told_by_its_fraction_and_nothing_else_is() -> None:
    """3/32 in is 2.38125 mm, and 0.09375 in lies between two thousandths; a neck is measured to a thousandth."""
    assert in_file_unit(design("redpoll"), "workshop.cutters.0.diameter", 2.38125) == "3/32 in"
    assert in_file_unit(design("redpoll"), "neck.thickness.fret_1", 21.43125) == "0.844 in"  # 27/32, up from 20.5 mm
