"""head/cheek, head/core, head/bores and head/ramp on solids, and their remedies tried."""

from __future__ import annotations

import math
from functools import cache

import pytest
from neck_runs import as_overrides
from slot_samples import PLOVER, RAMP, WITH_ROD, laid_out, slots_of

from neckmodel.checks.bench import Bench
from neckmodel.checks.strings import check_head_strings
from neckmodel.checks.wood.bores import check_bores
from neckmodel.checks.wood.cheeks import check_slots
from neckmodel.checks.wood.holes import check_hole_walls
from neckmodel.findings import FAIL, PASS, SKIPPED, Finding, ways_of
from neckmodel.layout import Layout
from neckmodel.solids import build

BARE = PLOVER.replace(RAMP, "")


@cache
def bench(*sets: str, text: str = PLOVER) -> Bench:
    return Bench(build(laid_out(*sets, text=text)))


def found(*sets: str, text: str = PLOVER) -> dict[str, Finding]:
    of = bench(*sets, text=text)
    return {finding.check: finding for finding in (*check_slots(of), *check_bores(of), *check_head_strings(of))}


def test_what_the_solids_show() -> None:
    """The head's sides stand upright and lean by 4 in 190, the slots are square to the face: under the back a slot lies
    20 tan 14 nearer to the nut, where the head is 4/190 of that narrower on either side. The straight part of its outer
    wall begins 7.5 beyond its end."""
    findings, pair = found(), slots_of(laid_out())
    lean = math.atan(4.0 / 190.0)
    at_back = (
        9.0
        + 7.5 * math.tan(lean)
        - 20.0 * math.sin(math.radians(14.0)) / math.cos(math.radians(14.0)) * (math.tan(lean))
    )
    cheek = findings["head/cheek"]
    assert cheek.verdict == PASS
    assert cheek.measured is not None
    assert cheek.error is not None
    # the round end comes no nearer than its wall; the mesh of the wood is a lower bound
    assert cheek.measured <= at_back * math.cos(lean) + 0.01 <= cheek.measured + cheek.error + 0.02
    assert findings["head/core"].measured == pytest.approx(pair.core, abs=1e-6)
    assert findings["head/bores"].measured == pytest.approx(5.0, abs=0.02)
    assert findings["head/ramp"].measured == pytest.approx(
        min(descent.least.room for descent in laid_out().descents), abs=0.02
    )
    assert {finding.verdict for finding in findings.values()} == {PASS}


def test_every_string_without_a_ramp_against_the_layout() -> None:
    """Two routes: the section of the drilled wood under each string, and the string's plan in the layout."""
    ramp = found(text=BARE)["head/ramp"]
    assert ramp.verdict == FAIL
    assert "deep through the wood at its slot's near end" in ramp.says
    for descent in laid_out(text=BARE).descents:
        assert ramp.more[f"string_{descent.string}"] == pytest.approx(descent.least.room, abs=0.02)


def _clears(layout: Layout) -> bool:
    return min(descent.least.room for descent in layout.descents) >= 0.5


def test_each_way_down_that_is_offered_clears_the_wood() -> None:
    ways = ways_of(found(text=BARE)["head/ramp"].remedy)
    assert {key for way in ways for key in way.set} == {
        "head.slots.ramp.length",
        "head.slots.ramp.angle",
        "head.slots.from",
    }
    assert all(_clears(laid_out(*as_overrides(way.set), text=BARE)) for way in ways)


def test_a_core_and_cheeks_too_thin_get_remedies_that_keep_both() -> None:
    narrow = found("head.slots.width=16")["head/core"]
    assert (narrow.verdict, narrow.measured) == (FAIL, pytest.approx(15.263, abs=1e-3))
    thin = found("head.slots.edge=7.5")["head/cheek"]
    assert thin.verdict == FAIL
    for finding, sets in ((narrow, "head.slots.width=16"), (thin, "head.slots.edge=7.5")):
        ways = ways_of(finding.remedy)
        assert ways
        for way in ways:
            pair = slots_of(laid_out(sets, *as_overrides(way.set)))
            assert pair.core >= 16.0
            assert pair.edge >= 8.0


@pytest.mark.parametrize(
    ("sets", "part", "measured", "says"),
    [
        (("head.tuners.1.below_face=7",), "tuner-2", 2.0, "to the head's face"),
        (("head.tuners.1.below_face=13",), "tuner-2", 2.0, "to the head's back"),
        (("head.tuners.1.x=-57",), "tuner-1", 2.0, "to tuner-2"),
        (("head.tuners.2.x=-143",), "tuner-3", 2.0, "to its slot's end"),
        (("head.tuners.0.into_core=8", "head.tuners.3.into_core=8"), "tuner-1", 1.263, "to tuner-4"),
    ],
)
def test_a_bore_with_too_little_wood_and_what_mends_it(
    sets: tuple[str, ...], part: str, measured: float, says: str
) -> None:
    bores = next(finding for finding in check_bores(bench(*sets)) if finding.check == "head/bores")
    assert (bores.verdict, bores.part) == (FAIL, part)
    assert bores.measured == pytest.approx(measured, abs=0.02)
    assert says in bores.says
    ways = ways_of(bores.remedy)
    assert ways
    for way in ways:
        after = slots_of(laid_out(*sets, *as_overrides(way.set)))
        assert min(wall.wood for wall in after.bore_walls()) >= 3.0


def test_the_access_slot_of_a_rod_between_the_slots() -> None:
    """A long L-key's trough runs far into the head: each half of the core is judged by itself."""
    key = 'kind = "L-key"\nshort_arm = 27.0\nlong_arm = 74.0'
    text = WITH_ROD.replace(RAMP, "").replace('kind = "ball-end"\nlength = 200.0', key)
    wide = ("head.slots.from=-12", "head.outline.near=84", "head.outline.far=84")
    core = next(f for f in check_slots(bench(*wide, text=text)) if f.check == "head/core")
    assert (core.limit, "between them" in core.says) == (3.0, True)
    assert "wall/tuner" in {finding.check for finding in check_hole_walls(bench(*wide, text=text))}


def test_as_many_tuners_as_strings_and_none_at_all() -> None:
    assert found()["head/tuner-count"].verdict == PASS
    none = PLOVER.split("tuners = [")[0]
    skipped = {finding.check: finding.verdict for finding in check_bores(bench(text=none))}
    assert skipped == {"head/bores": SKIPPED, "head/ramp": SKIPPED}
