"""The checks of a neck with two rods, on its solids: both told apart, and the wood between them measured."""

from __future__ import annotations

from functools import cache

import pytest
from pair_samples import CUTTERS, KEY, pair

from neckmodel.checks import check
from neckmodel.checks.bench import Bench
from neckmodel.checks.overlap import check_overlaps
from neckmodel.checks.registry import about
from neckmodel.checks.remedies.fixed import changes_measured
from neckmodel.checks.rod.between import check_between
from neckmodel.findings import FAIL, PASS, WARN, Finding, Findings
from neckmodel.layout import lay_out
from neckmodel.solids import build
from neckmodel.solids.parts import Parts


@cache
def built(*overrides: str) -> Parts:
    return build(lay_out(pair(*overrides, more=KEY + CUTTERS)))


@cache
def checked() -> Findings:
    return check(built())


def between(*overrides: str) -> Finding:
    (found,) = check_between(Bench(built(*overrides)))
    return found


def named() -> dict[str, Finding]:
    return {finding.check: finding for finding in checked().findings}


def test_parts_are_named_by_their_side() -> None:
    names = set(built().names)
    assert names >= {"rod-1", "rod-2", "adjusting-key-1", "adjusting-key-2"}
    assert not names & {"rod", "adjusting-key"}
    low, high = (built()[name].solid.BoundingBox() for name in ("rod-1", "rod-2"))
    assert ((low.ymin + low.ymax) / 2, (high.ymin + high.ymax) / 2) == (pytest.approx(-9.0), pytest.approx(9.0))


@pytest.mark.parametrize("family", ["place/adjuster", "place/anchor", "place/span", "fit/run", "fit/adjuster"])
def test_findings_of_each_rod_are_alike_but_for_their_side(family: str) -> None:
    one, two = (named()[f"{family}-{number}"] for number in (1, 2))
    assert (one.part, two.part) == ("rod-1", "rod-2")
    assert one.measured == pytest.approx(two.measured)
    assert one.at is not None
    assert two.at is not None
    assert (one.at.y, two.at.y) == (-9.0, 9.0)


@pytest.mark.parametrize("name", ["wall/run", "wall/adjuster", "cover/run", "cutter/adjuster", "access/swing"])
def test_steps_and_keys_of_both_rods_are_checked(name: str) -> None:
    assert {f"{name}-1", f"{name}-2"} <= set(named())
    assert name not in named()
    assert about(f"{name}-2") == about(name)


def test_walls_on_the_solids_are_those_by_section_or_a_little_less() -> None:
    """The skin is not square to the section, so the solid reads less, by no more than some hundredths here."""
    sections = {wall.step: wall.wall for wall in built().layout.walls}
    for name, wall in sections.items():
        measured = named()[f"wall/{name}"].measured
        assert measured is not None
        assert wall - 0.05 <= measured <= wall + 1e-6


def test_two_keys_in_one_place_do_not_count_for_a_hand_turns_one_at_a_time() -> None:
    """Handles of 24 mm, 18 mm apart, beyond the head's end."""
    handle = ("adjusting_key.handle.diameter=24", "adjusting_key.handle.length=80", "adjusting_key.length=250")
    found = check_overlaps(Bench(built(*handle)))
    assert [(finding.check, finding.verdict) for finding in found] == [("overlap/none", PASS)]


def test_wood_between_the_solids_is_what_is_worked_out_by_hand() -> None:
    found = between()
    assert found.measured == pytest.approx(18.0 - 7.8, abs=1e-4)
    assert (found.verdict, found.limit) == (PASS, 6.0)
    assert found.worst_case == pytest.approx(18.0 - 7.8 - 2 * 0.2, abs=1e-4)
    assert "adjuster pocket of rod 1" in found.says


def test_a_pocket_of_either_rod_that_is_measured_is_not_planned_anew() -> None:
    cut = pair("measured.channel.adjuster-2.width=7.4")
    assert changes_measured(cut, ["channel.adjuster_clearance"])
    assert changes_measured(pair("measured.channel.run-1.width=6.2"), ["channel.wider_by"])
    assert not changes_measured(cut, ["channel.deeper_by", "rod.offset"])


def test_too_little_wood_between_is_mended_by_laying_the_rods_apart() -> None:
    found = between("rod.offset=6.8")
    assert found.verdict == FAIL
    assert found.measured == pytest.approx(13.6 - 7.8, abs=1e-4)
    assert found.remedy is not None
    (key, value), *_ = found.remedy.set.items()
    assert key == "rod.offset"
    assert between(f"rod.offset={value}").verdict == PASS


def test_wood_that_only_tolerances_take_is_warned_of() -> None:
    assert between("rod.offset=7.0").verdict == WARN  # 6.2 of wood, and 0.4 in the worst case
