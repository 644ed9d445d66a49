"""Two rods as the design file states them: what is refused, with which key, and what keeps its hash."""

from __future__ import annotations

import pytest
from pair_samples import GREENSHANK, KEY, ONE, pair

from neckmodel.design import read_text
from neckmodel.errors import DesignError


def refused(text: str, *overrides: str) -> list[tuple[str, str]]:
    with pytest.raises(DesignError) as error:
        read_text(text, "greenshank.toml", overrides)
    return [(problem.key, problem.says) for problem in error.value.problems]


def test_an_offset_without_two_rods_is_refused() -> None:
    (problem,) = refused(ONE.replace("[rod]\n", "[rod]\noffset = 9.0\n"))
    assert problem == ("rod.offset", "is stated of one rod, which lies on the centre line")


def test_two_rods_need_their_offset() -> None:
    ((key, says),) = refused(ONE.replace("[rod]\n", "[rod]\ncount = 2\n"))
    assert key == "rod.offset"
    assert "is missing" in says


def test_two_rods_that_overlap_are_refused() -> None:
    ((key, says),) = refused(GREENSHANK, "rod.offset=3.4")  # an adjuster of 7 on either side
    assert (key, says) == ("rod.offset", "lets the two rods overlap")


def test_a_soundhole_that_both_keys_would_miss_is_refused() -> None:
    hole = "[body]\nsoundhole = {from = 500.0, to = 590.0, width = 24.0}\n"
    text = GREENSHANK.replace('adjuster_at = "head"', 'adjuster_at = "heel"') + KEY + 'enters = "soundhole"\n' + hole
    text = text.replace("offset = 9.0", "offset = 12.0")
    assert ("body.soundhole.width", "is too narrow: neither rod's key would come through it") in refused(text)


def test_one_rod_stated_as_one_is_the_same_design() -> None:
    plain = read_text(ONE, "greenshank.toml")
    assert read_text(ONE, "greenshank.toml", ("rod.count=1",)).sha256 == plain.sha256
    assert read_text(ONE, "greenshank.toml", ("limits.wall.between=6",)).sha256 == plain.sha256
    assert pair().sha256 != plain.sha256


def test_one_length_for_all_walls_leaves_the_wood_between_two_rods_as_it_was() -> None:
    assert pair("limits.wall=3.5").limits.wall.between == 6.0
    assert pair("limits.wall=3.5").limits.wall.run == 3.5
