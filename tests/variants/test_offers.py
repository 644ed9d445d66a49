"""Each offered remedy, applied to the design anew, passes and breaks nothing: over random failing designs."""

from __future__ import annotations

import pytest
from as_built_slips import part_way
from failing import Tally, slipped, try_offers
from measured_offers import try_measured


def run(wanted: int, first: int) -> Tally:
    """The first so many failing designs from a number on; the share with an offer is printed (`-s` shows it)."""
    tally, number = Tally(), first
    while tally.designs < wanted:
        design = slipped(number)
        number += 1
        if design is not None:
            try_offers(design, tally)
    print(tally)  # noqa: T201 - the share is what the run is for
    return tally


def test_a_sample_of_failing_designs() -> None:
    tally = run(1, 0)
    assert tally.ways > 0
    assert tally.with_offer >= 1


def test_a_failing_neck_part_way() -> None:
    design, tally = part_way(5000), Tally()
    assert design is not None
    assert try_measured(design, tally)
    assert tally.ways > 0


@pytest.mark.sweep
def test_five_hundred_failing_designs() -> None:
    tally = run(500, 1000)
    assert tally.ways > 0
    assert tally.with_offer >= 400


def test_the_same_number_gives_the_same_design() -> None:
    designs = [slipped(number) for number in (3, 3, 4)]
    first, again, other = (design.sha256 if design is not None else None for design in designs)
    assert first == again != other
