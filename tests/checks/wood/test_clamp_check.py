"""wall/clamp-screw, head/clamp and access/reach: the wood by hand, what fails, and remedies that mend it."""

from __future__ import annotations

import json

import pytest
from headless_samples import SMEW
from kind_samples import built, laid_out

from neckmodel.checks.bench import Bench
from neckmodel.checks.rod.reach import check_reach
from neckmodel.checks.wood.clamp import check_clamp
from neckmodel.findings import Finding
from neckmodel.solids.uncut import Uncut

LEVEL = ("head.swell_length=5",)
"""A swell that has ended long before the screws, so that round them the wood is the stated block."""


def bench(*sets: str, text: str = SMEW) -> Bench:
    """Measured before anything is cut, so that only the carved neck and the cutting solids are built."""
    return Bench(Uncut(laid_out(text, *LEVEL, *sets), built(SMEW, *LEVEL)))


def found(name: str, *sets: str) -> Finding:
    return next(finding for finding in check_clamp(bench(*sets)) if finding.check == name)


@pytest.mark.parametrize(
    ("sets", "wood", "other"),
    [
        ((), 17.0 - 12.0, "under side"),
        (("head.clamp.screws.0.depth=4", "head.clamp.screws.1={x=-20,y=18,diameter=4,depth=4}"), 22 - 18 - 2.0, "side"),
        (("head.clamp.screws.0.depth=4", "head.clamp.screws.1={x=-29,y=13,diameter=4,depth=4}"), 34 - 29 - 2.0, "end"),
        (
            ("head.clamp.screws.0.depth=4", "head.clamp.screws.1={x=-20,y=8,diameter=4,depth=4}"),
            8 - 2 - 5.53 / 2,
            "access slot",
        ),
    ],
)
def test_the_least_wood_round_the_screws(sets: tuple[str, ...], wood: float, other: str) -> None:
    finding = found("wall/clamp-screw", *sets)
    assert finding.measured == pytest.approx(wood, abs=0.03)
    assert finding.measured is not None
    assert finding.measured <= wood + 1e-3
    assert other in finding.says or finding.verdict == "pass"


def test_a_screw_that_comes_out_below_is_negative_and_a_shorter_one_mends_it() -> None:
    finding = found("wall/clamp-screw", "head.clamp.screws.0.depth=19")
    assert finding.verdict == "fail"
    assert finding.measured == pytest.approx(-2.0, abs=0.05)
    assert "comes out through the nut end's under side" in finding.says
    assert finding.remedy is not None
    sets = tuple(f"{key}={json.dumps(value)}" for key, value in finding.remedy.set.items())
    assert found("wall/clamp-screw", "head.clamp.screws.0.depth=19", *sets).verdict == "pass"


def test_a_clamp_past_the_end_warns_and_no_clamp_is_told() -> None:
    past = found("head/clamp", "head.clamp.length=33")
    assert (past.verdict, past.measured) == ("warn", -4.0)
    assert "4.00 mm beyond the neck's end" in past.says
    assert found("head/clamp").verdict == "pass"
    no_clamp = SMEW[: SMEW.index("[head.clamp]")] + SMEW[SMEW.index("[rod]") :]
    told = check_clamp(bench(text=no_clamp))
    assert [(finding.check, finding.verdict) for finding in told] == [("head/clamp", "skipped")]
    assert "head.clamp" in told[0].says


def test_a_key_that_cannot_be_held_fails() -> None:
    """At 7, engaged 4, past 34 of nut end and held by 25: 70 long at least; 60 is 10 short."""
    finding = check_reach(bench("adjusting_key.length=60"))[0]
    assert (finding.verdict, finding.measured) == ("fail", -10.0)
    assert finding.remedy is not None
    assert finding.remedy.set["adjusting_key.length"] >= 70.0
    assert check_reach(bench())[0].verdict == "pass"
