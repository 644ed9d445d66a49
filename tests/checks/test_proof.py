"""Remedies prove themselves: what does not pass is not told, what needs more is told with it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from measured_runs import found_on, measured_parts
from neck_runs import as_overrides, built, checked, found_all, laid_out, uncut

from neckmodel.checks import prove
from neckmodel.checks.bench import Bench
from neckmodel.checks.proof import Proof
from neckmodel.checks.remedies.remedy import either, size_of
from neckmodel.checks.run import find
from neckmodel.checks.trial import Trials, failing_of
from neckmodel.design import changed, read_text
from neckmodel.findings import Finding, Findings, Remedy, ways_of
from neckmodel.layout import lay_out
from neckmodel.lengths import in_unit
from neckmodel.solids.uncut import Uncut

THIN = ("neck.thickness.fret_1=18", "neck.thickness.fret_12=20")
LONG = ("rod.length=470",)


def proof(preset: str, *overrides: str) -> Proof:
    return Proof(Trials(uncut(preset, *overrides), found_all(preset, *overrides)))


def test_where_nothing_fails_nothing_is_tried() -> None:
    said: list[str] = []
    findings = found_all("redpoll")
    assert prove(uncut("redpoll"), findings, said.append) is findings
    assert said == []


def test_remedies_that_pass_are_all_told() -> None:
    """The three ways of a run with too little wood: both thicknesses, fret 1 alone, a rod less high; each at once with
    the worst case included, so that what is behind it is never tried."""
    said: list[str] = []
    before = found_all("redpoll", *THIN)
    proved = prove(uncut("redpoll", *THIN), before, said.append)
    offered = ways_of(before["wall/run"].remedy)
    assert [(way.says, way.set) for way in ways_of(proved["wall/run"].remedy)] == [(w.says, w.set) for w in offered]
    assert all(way.leaves == "pass" and not way.finer for way in ways_of(proved["wall/run"].remedy))
    assert all(way.finer for way in offered)
    assert len(said) == len(offered) == 3
    assert all(line.startswith("trying a remedy: ") for line in said)


def _with(findings: Findings, check: str, remedy: Remedy | None) -> Findings:
    found = tuple(
        Finding(**{**vars(f), "remedy": remedy}) if f.check == check else f
        for f in findings.findings
        if f.verdict != "fail" or f.check == check
    )
    return Findings(findings.name, found, findings.parts)


TOO_LITTLE = Remedy("a little thicker", {"neck.thickness.fret_1": 18.2, "neck.thickness.fret_12": 20.2})
ENOUGH = Remedy("thick enough", {"neck.thickness.fret_1": 19.4, "neck.thickness.fret_12": 21.4})
BARE = Remedy("just thick enough", {"neck.thickness.fret_1": 18.57, "neck.thickness.fret_12": 20.57})
NONSENSE = Remedy("no neck at all", {"neck.thickness.fret_1": 2.0})
# thin enough for the wall, but the rod then lies in a channel that no cutter can cut
_LOW, _NARROW = dict.fromkeys(("rod.height", "rod.block.height", "rod.anchor.height"), 8.6), {"rod.width": 3.0}
BREAKS = Remedy("a rod too narrow to rout", {**_LOW, **_NARROW, "rod.block.width": 3.0, "rod.anchor.width": 3.0})


def test_a_remedy_that_does_not_pass_or_breaks_another_check_is_left_out() -> None:
    offered = either(BREAKS, NONSENSE, ENOUGH)
    proved = prove(uncut("redpoll", *THIN), _with(found_all("redpoll", *THIN), "wall/run", offered))
    assert proved["wall/run"].remedy == ENOUGH


def test_a_remedy_that_falls_short_goes_on_to_what_the_changed_design_needs() -> None:
    proved = prove(uncut("redpoll", *THIN), _with(found_all("redpoll", *THIN), "wall/run", TOO_LITTLE))
    remedy = proved["wall/run"].remedy
    assert remedy is not None
    assert remedy.set == {"neck.thickness.fret_1": 19.4, "neck.thickness.fret_12": 21.4}


def test_a_bare_remedy_is_told_as_one_and_only_where_none_does_better() -> None:
    """18.57 leaves 3.0095, and the tolerances may take 0.7705 of it."""
    before, parts = found_all("redpoll", *THIN), uncut("redpoll", *THIN)
    alone = prove(parts, _with(before, "wall/run", BARE))["wall/run"].remedy
    assert alone is not None
    assert (alone.set, alone.leaves) == (BARE.set, "warn")
    assert alone.says == "just thick enough; with every tolerance at its worst 0.77 mm is then missing"
    better = prove(parts, _with(before, "wall/run", either(BARE, ENOUGH)))["wall/run"].remedy
    assert better == ENOUGH
    ladder = replace(NONSENSE, finer=(TOO_LITTLE, BARE, ENOUGH))
    climbed = prove(parts, _with(before, "wall/run", ladder))["wall/run"].remedy
    assert climbed == ENOUGH


def test_without_any_way_out_the_finding_says_what_was_tried() -> None:
    proved = prove(uncut("redpoll", *THIN), _with(found_all("redpoll", *THIN), "wall/run", NONSENSE))["wall/run"]
    assert proved.remedy is None
    assert "; tried: no neck at all, but then neck.thickness.fret_1 is too small" in proved.says


# The way out of a wall at the end of the run is a longer heel, for which this board is too short.
SHORT_BOARD = ("rod_place.from_nut=9", "rod.length=458", "heel.wood_ends_at=468.41", "board.length=665")


def test_what_passes_only_with_something_else_is_told_with_it() -> None:
    only = Remedy("a longer heel", {"heel.wood_ends_at": 480.0})
    before = found_all("redpoll", *SHORT_BOARD)
    assert {"wall/rod-end", "place/adjuster"} <= failing_of(before)
    assert "stock/size" not in failing_of(before)
    remedy = proof("redpoll", *SHORT_BOARD).with_more(_with(before, "wall/rod-end", only)["wall/rod-end"], []).remedy
    assert remedy is not None
    assert remedy.set == {"heel.wood_ends_at": 480.0, "board.length": 680.0}  # of 676, in tens
    assert remedy.says == "a longer heel; with it, a board 680 mm long"
    after = found_all("redpoll", *SHORT_BOARD, *as_overrides(remedy.set))
    assert "wall/rod-end" not in failing_of(after)
    assert failing_of(after) <= failing_of(before)


def test_a_finding_without_a_remedy_takes_one_that_mends_another() -> None:
    """A pocket cut 2 mm short: the adjuster stands in the wood, and moving the rod mends both findings."""
    cut_short = ("measured.channel.adjuster.x_start=8",)
    before = found_all("redpoll", *cut_short)
    moved = {"overlap/neck-rod": None, "fit/adjuster": Remedy("the rod farther in", {"rod_place.from_nut": 8.0})}
    only = tuple(replace(f, remedy=moved[f.check]) if f.check in moved else f for f in before.findings)
    proved = prove(uncut("redpoll", *cut_short), replace(before, findings=only))
    for name in moved:
        remedy = proved[name].remedy
        assert remedy is not None
        assert remedy.set == {"rod_place.from_nut": 8.0}


def test_the_smallest_pair_is_found() -> None:
    """Neither of two half-way changes mends the wall, both together do; the smaller one of two pairs is told."""
    half, rod = {"neck.thickness.fret_1": 18.35}, {"rod.height": 8.9, "rod.block.height": 8.9, "rod.anchor.height": 8.9}
    lower = {"rod.height": 8.7, "rod.block.height": 8.7, "rod.anchor.height": 8.7}
    finding = _with(found_all("redpoll", *THIN), "wall/run", None)["wall/run"]
    pool = [Remedy("lower", lower), Remedy("half", dict(half)), Remedy("low", rod)]
    tried = proof("redpoll", *THIN)
    assert not any(tried.trials.mends("wall/run", remedy.set) for remedy in pool)
    remedy = tried.with_more(finding, pool).remedy
    assert remedy is not None
    assert remedy.set == {**half, **rod}
    assert remedy.says.startswith("half; with it, low; with every tolerance at its worst ")


def test_the_size_of_a_change() -> None:
    design = laid_out("redpoll").design
    assert size_of(design, {"neck.thickness.fret_1": 22.55}) == pytest.approx(0.1)
    assert size_of(design, {"rod.length": "378 mm", "heel.screws.0.y": -17.0}) == pytest.approx(0.1)
    assert size_of(design, {"channel.ends": "round"}) == pytest.approx(0.05)


def test_shapes_are_kept_where_a_change_leaves_them_alone() -> None:
    parts = built("redpoll")
    shorter = Uncut(laid_out("redpoll", "rod.length=419"), parts)
    assert shorter.carved is parts.carved
    assert shorter["fretboard"].solid is parts["fretboard"].solid
    assert shorter["rod"].solid is not parts["rod"].solid
    assert Uncut(laid_out("redpoll", "neck.thickness.fret_1=20.4"), parts).carved is not parts.carved


@pytest.mark.parametrize("preset", ["redpoll", "wheatear", "whimbrel"])
def test_a_trial_finds_what_a_whole_build_finds(preset: str) -> None:
    """Nothing is cut in a trial's solids: the checks cut meshes, and find the same to the last digit."""
    there = checked(preset).findings
    assert find(Bench(Uncut(laid_out(preset), built(preset).measured))) == there
    assert found_all(preset).findings == there


def test_a_trial_looks_no_further_than_it_must() -> None:
    """A rod that is still too long is seen to be so before any neck is carved."""
    said: list[str] = []
    trials = Trials(uncut("redpoll", *LONG), found_all("redpoll", *LONG), said.append)
    assert trials.mends("place/adjuster", {"rod.length": 460.0}) is None
    assert (trials.built, said) == (0, [])
    assert trials.mends("place/adjuster", {"rod.length": 450.0, "rod_place.from_nut": 7.0}) == "pass"
    assert trials.built == len(said) == 1


IN_INCHES = """
design = {name = "bare", units = "in"}
strings = {courses = 6, scale = "640 mm", spacing_at_nut = "35.4 mm", spacing_at_bridge = "52.5 mm"}
fretboard = {frets = 22}
neck = {joint_fret = 16, thickness = {fret_1 = "17.9 mm", fret_12 = "19.9 mm"}}
heel = {depth = "19 mm"}
[rod]
kind = "two-way"
adjuster_at = "head"
length = "420 mm"
width = "6 mm"
height = "9.2 mm"
[rod.adjuster]
diameter = "7 mm"
length = "10 mm"
axis_below_top = "4.2 mm"
socket = {kind = "hex", size = "4 mm", depth = "5 mm"}
"""


def test_offers_of_a_design_in_inches_are_tried_as_they_are_told() -> None:
    parts = measured_parts(lay_out(read_text(IN_INCHES)))
    proved = prove(parts, found_on(Bench(parts)))["wall/run"]
    assert proved.verdict == "fail"
    assert proved.remedy is not None
    for key, value in proved.remedy.set.items():
        assert re.fullmatch(r"\d\.\d{3} in", str(value))
        assert f"{str(value)[:-3]} in" in in_unit(proved.remedy.says, "in", to_follow=True), key
    mended = measured_parts(lay_out(changed(parts.layout.design, proved.remedy.set)), parts)
    assert found_on(Bench(mended))["wall/run"].verdict == "pass"


def test_a_change_that_the_layout_tells_will_fail_is_told_with_what_it_needs() -> None:
    """An adjuster 9.2 thick stands proud of the glue plane: the whole rod lower, and so a thicker neck."""
    thick = ("rod.adjuster.diameter=9.2", "neck.thickness.fret_1=19.2", "neck.thickness.fret_12=21.2")
    before = found_all("redpoll", *thick)
    deeper = before["fit/adjuster"].remedy
    assert deeper is not None
    assert set(deeper.set) == {"channel.deeper_by"}
    tried = proof("redpoll", *thick)
    assert tried.trials.mends("fit/adjuster", deeper.set) is None
    remedy = tried.with_more(before["fit/adjuster"], []).remedy
    assert remedy is not None
    assert remedy.says.startswith(f"{deeper.says}; with it, carve the neck ")
    assert {"channel.deeper_by", "neck.thickness.fret_1"} <= set(remedy.set)
    after = failing_of(found_all("redpoll", *thick, *as_overrides(remedy.set)))
    assert "fit/adjuster" not in after
    assert after <= failing_of(before)
