"""The finding at the root comes first, and what its remedy mends follows it: one cause, one finding."""

from __future__ import annotations

import json

import pytest
from neck_runs import as_overrides, found_all, proved

from neckmodel.findings import ways_of
from neckmodel.writers.folders.previous import _findings
from neckmodel.writers.jsons import findings_json

LONG = ("rod.length=470",)
# a 34 in bass, its rod turned at the heel with an L-key whose slot ends 1.5 mm before the wood does: the arm of 74 and
# 0.5 of clearance from the adjuster at 26 + 620
BASS = (
    "strings.scale=863.6",
    "neck.joint_fret=20",
    "fretboard.frets=24",
    "heel.wood_ends_at=722",
    "rod.length=620",
    "rod.adjuster_at=heel",
    'adjusting_key={kind = "L-key", size = 4, long_arm = 74, short_arm = 29}',
    "board.length=1000",
    "rod_place.from_nut=26",
)


def test_a_rod_too_long_is_one_cause_and_one_finding() -> None:
    """It starts at 7 in wood to 468.41 less 6 and 1: 454.41 at most, measured 0.1 wrong 454.31, in rods 450."""
    findings = proved("redpoll", *LONG)
    failing = [f for f in findings.findings if f.verdict == "fail"]
    assert [f.check for f in failing] == ["place/adjuster", "cover/run", "wall/rod-end", "wall/run"]
    root, *rest = failing
    assert root.follows is None
    assert [f.follows for f in rest] == ["place/adjuster"] * 3
    assert all(f.remedy == root.remedy for f in rest)
    # by itself it would lie at 5 (4 is the least): 468.41 - 7 - 4 - 2 x 0.1, in rods 455
    assert [way.set for way in ways_of(root.remedy)] == [
        {"rod.length": 450.0},
        {"rod_place.from_nut": "auto", "rod.length": 455.0},
    ]
    for way in ways_of(root.remedy):
        after = found_all("redpoll", *as_overrides(way.set))
        assert after.passed
        assert after["place/adjuster"].verdict == after["wall/rod-end"].verdict == "pass"


def test_a_rod_too_short_is_told_which_lengths_fit() -> None:
    """From 386.02 + 15 past the joint less fret 1 with adjuster and block (35.92 - 22) to wood's end less 7 less 4."""
    finding = proved("redpoll", "rod.length=370")["place/adjuster"]
    assert "rods 387.10 to 457.41 mm long have a place in this neck" in finding.says
    assert finding.more["fitting_length_from"] == pytest.approx(387.10, abs=0.005)
    assert [way.set for way in ways_of(finding.remedy)] == [
        {"rod.length": 395.0},  # 401.02 - 7 and 0.1
        {"rod.length": 390.0, "rod_place.from_nut": "auto"},
        {"rod_place.from_nut": 31.5},
    ]
    assert "place/span then warns" in ways_of(finding.remedy)[-1].says


def test_the_key_slot_is_the_cause_and_not_the_rod() -> None:
    findings = proved("dunnock", *BASS)
    failing = [f for f in findings.findings if f.verdict == "fail"]
    assert failing[0].check == "access/swing"
    assert "its slot ends 1.50 mm before the wood does" in failing[0].says
    assert {f.check for f in failing[1:]} == {"access/withdraw", "wall/access-slot", "wall/key-swing", "wall/rod-end"}
    assert {f.follows for f in failing[1:]} == {"access/swing"}
    assert [way.set for way in ways_of(failing[0].remedy)] == [
        {"rod_place.from_nut": 28.0},  # 26 + 1.5 and 0.1 of measuring
        {"heel.wood_ends_at": 720.0},
    ]


def test_a_rod_too_straight_is_the_cause_and_not_its_washer() -> None:
    finding = proved("wheatear", "rod.axis_depth.middle=6.0")["strength/washer"]
    assert finding.verdict == "fail"
    assert finding.says.startswith("the rod lies too straight in the neck")
    assert set(ways_of(finding.remedy)[0].set) == {"rod.axis_depth.middle"}


def test_no_remedy_makes_another_failing_check_worse() -> None:
    """A neck too thin for its rod, and a rod too long besides: a rod that is only shorter leaves the wall as it was."""
    thin = ("neck.thickness.fret_1=18", "neck.thickness.fret_12=20", *LONG)
    before, findings = found_all("redpoll", *thin), proved("redpoll", *thin)
    for finding in findings.findings:
        for way in ways_of(finding.remedy) if finding.verdict == "fail" else ():
            after = found_all("redpoll", *thin, *as_overrides(way.set))
            for name in (f.check for f in after.findings if f.verdict == "fail"):
                assert before[name].verdict == "fail"
                assert after[name].measured >= before[name].measured - 0.02


def test_what_follows_is_told_in_json_and_read_back() -> None:
    findings = proved("redpoll", *LONG)
    data = json.loads(json.dumps(findings_json(findings)))
    told = {found["check"]: found for found in data["findings"]}
    assert told["wall/run"]["follows"] == "place/adjuster"
    assert told["place/adjuster"]["follows"] is None
    assert told["place/adjuster"]["remedy"]["leaves"] == "pass"
    assert [way["set"] for way in told["place/adjuster"]["remedy"]["ways"]] == [
        {"rod.length": 450.0},
        {"rod_place.from_nut": "auto", "rod.length": 455.0},
    ]
    again = _findings(data)
    assert again["wall/run"].follows == "place/adjuster"
    assert again["place/adjuster"].remedy == findings["place/adjuster"].remedy
