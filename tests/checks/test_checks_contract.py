"""What every finding is: named, explained, placed, with verdicts that follow the rules; ties pass."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import cadquery as cq
import pytest
from check_cases import CASES
from measured_runs import found_on, measured_parts
from neck_runs import PRESETS, RUNS, built, design, found, found_all, laid_out
from spares import agrees

from neckmodel.checks.bench import Bench
from neckmodel.checks.explain.checks import ABOUT
from neckmodel.checks.registry import about, functions
from neckmodel.checks.rod.fit import check_fit
from neckmodel.checks.rod.place import check_place
from neckmodel.checks.verdict import at_least, down, place, short_by, up
from neckmodel.design import read_text
from neckmodel.findings import VERDICTS
from neckmodel.layout import lay_out
from neckmodel.lengths import in_unit
from neckmodel.solids.kernel.gate import cut
from neckmodel.solids.parts import Tool

BARE = """
[design]
name = "bare"
units = "{units}"
[strings]
courses = 6
scale = "640 mm"
spacing_at_nut = "35.4 mm"
spacing_at_bridge = "52.5 mm"
[fretboard]
frets = 22
[neck]
joint_fret = 16
thickness = {{fret_1 = "{thin} mm", fret_12 = "22.5 mm"}}
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
socket = {{kind = "hex", size = "4 mm", depth = "5 mm"}}
"""
CONTRACT = {
    "dunnock": (
        "wall/run wall/adjuster wall/access-slot wall/rod-end wall/screw wall/tuner section/nut cover/run glue/nut "
        "fret-slots/edge place/adjuster place/anchor place/span fit/run fit/adjuster access/swing access/withdraw "
        "access/strings cutter/run cutter/adjuster cutter/access-slot stock/size stock/grain head/tuners heel/screws"
    ),
    "garganey": "wall/bar-1 wall/bar-2 place/bar-1 place/bar-2 cutter/bar-1 cover/bar-1 wall/rod-end head/tuners",
}
# what these tests show; checks that came with other kinds of rod, head and body have tests beside those
OWN = {
    *("wall/<step>", "wall/rod-end", "wall/screw", "wall/tuner", "section/nut", "cover/<step>", "glue/nut"),
    *("fret-slots/wood", "fret-slots/edge", "place/adjuster", "place/anchor", "place/span", "place/<bar>"),
    *("fit/<step>", "fit/adjuster", "access/swing", "access/withdraw", "access/strings", "overlap/<part>-<part>"),
    *("cutter/<step>", "stock/size", "stock/grain", "head/tuners", "head/housings", "heel/screws", "heel/end"),
}


# --- names -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("preset", CONTRACT)
def test_the_names_that_scripts_rely_on(preset):
    names = {finding.check for finding in found_all(preset).findings}
    assert set(CONTRACT[preset].split()) <= names


def all_names() -> set[str]:
    return {finding.check for preset in PRESETS for finding in found_all(preset).findings} | {c.check for c in CASES}


def test_every_finding_is_explained():
    for name in all_names():
        told = about(name)
        assert len(told.measures) > 10
        assert told.limit
        assert told.source
    with pytest.raises(KeyError):
        about("wall")
    with pytest.raises(KeyError):
        about("taste/best")


def test_everything_explained_is_found_and_shown_to_fail():
    """Each entry is what some finding is explained by, and a case here shows it missing its limit."""
    shown = {about(case.check).name for case in CASES} | {"overlap/<part>-<part>", "section/nut"}
    assert {entry.name for entry in ABOUT} >= OWN
    assert OWN - {about(name).name for name in all_names()} == set()
    assert OWN - shown == set()


def test_every_name_is_explained_once():
    names = [entry.name for entry in ABOUT]
    assert len(names) == len(set(names))


def test_every_check_of_these_tests_is_in_the_registry():
    assert set(RUNS.values()) <= {function.__name__ for function in functions()}


# --- verdicts --------------------------------------------------------------------------------------------------------
def test_ties_pass():
    assert at_least(3.0, 3.0) == "pass"
    assert at_least(3.0 - 9e-7, 3.0) == "pass"
    assert at_least(3.0 - 2e-6, 3.0) == "fail"
    assert at_least(3.0, 3.0, 3.0 - 9e-7) == "pass"
    assert at_least(3.6, 3.0, 2.85) == "warn"
    assert at_least(2.9, 3.0, 5.0) == "fail"


def test_rounding_is_toward_safety_and_leaves_round_numbers_alone():
    assert [up(18.561), up(18.57), up(0.1 + 0.2)] == [18.57, 18.57, 0.3]
    assert [down(18.569), down(18.57), down(0.3)] == [18.56, 18.57, 0.3]
    assert short_by(2.439, 3.0) == "0.56 mm short"
    assert short_by(2.9996, 3.0) == "0.0004 mm short"


def test_a_place_has_its_nearest_fret():
    layout = laid_out("redpoll")  # fret 1 at 35.92, fret 2 at 69.83
    assert [place(layout, (x, 0.0, 0.0)).fret for x in (-170.0, 17.9, 18.0, 52.8, 52.9, 468.0)] == [0, 0, 1, 1, 2, 22]
    assert place(layout, (-0.0000001, 1 / 3, 0.0)).x == 0.0
    assert math.copysign(1.0, place(layout, (-0.0000001, 0.0, 0.0)).x) == 1.0
    assert place(layout, (0.0, 1 / 3, 0.0)).y == 0.333


@pytest.mark.parametrize("preset", PRESETS)
def test_what_passes_has_something_to_spare(preset):
    """By the range or the limit that each finding shows, within its own error."""
    assert [(f.check, f.measured, f.held or f.limit) for f in found_all(preset) if not agrees(f)] == []


def test_findings_come_worst_first():
    findings = found_all("redpoll", "rod.length=458.41", "limits.wall.access_slot=7.03").findings
    assert [VERDICTS.index(f.verdict) for f in findings] == sorted(VERDICTS.index(f.verdict) for f in findings)
    assert findings[0].verdict == "fail"
    assert not found_all("redpoll", "rod.length=458.41", "limits.wall.access_slot=7.03").passed


@pytest.mark.parametrize("preset", PRESETS)
def test_the_worst_case_of_a_wall_by_hand(preset):
    """`|n_y| 0.2 + |n_z| (0.15 + 0.1 + 0.1) + 0.4`, n from the run's floor corner to the skin."""
    finding, layout = found("wall/run", preset), laid_out(preset)
    step = layout.step("run")
    corner = (layout.rod.x_block, math.copysign(step.width / 2, finding.at.y), -step.depth)
    across = [a - b for a, b in zip((finding.at.x, finding.at.y, finding.at.z), corner, strict=True)]
    length = math.hypot(*across)
    loss = abs(across[1]) / length * 0.2 + abs(across[2]) / length * 0.35 + 0.4
    assert finding.measured - finding.worst_case == pytest.approx(loss, abs=2e-3)
    assert 0.75 < loss < 0.80


def test_a_wall_straight_down_loses_0_75():
    """3.6 against 3.0 is 2.85 at the worst: the anchor's pocket over the heel's level bottom."""
    finding = found("wall/anchor", "redpoll", "rod.anchor={length=12,width=9,height=12}", "limits.wall.anchor=7")
    assert finding.measured - finding.worst_case == pytest.approx(0.75, abs=1e-6)
    tight = ("workshop.tolerances={depth=0,sideways=0,glue_plane=0,carve=0.1,tilt=0.01,stock=0,measuring=0}",)
    finding = found(
        "wall/anchor", "redpoll", "rod.anchor={length=12,width=9,height=12}", "limits.wall.anchor=7", *tight
    )
    assert finding.measured - finding.worst_case == pytest.approx(0.1 + 0.01 * 12.1, abs=1e-6)


def test_what_is_not_stated_is_skipped_and_says_what_to_state():
    findings = found_on(Bench(measured_parts(lay_out(read_text(BARE.format(units="mm", thin=20.5))))))
    skipped = {finding.check: finding.says for finding in findings.findings if finding.verdict == "skipped"}
    keys = {
        "stock/size": "[board]",
        "access/swing": "[adjusting_key]",
        "cutter/run": "workshop.cutters",
        "head/tuners": "head.tuners",
        "heel/screws": "heel.screws",
    }
    assert {name: key for name, key in keys.items() if key in skipped.get(name, "")} == keys
    assert "board.grain_slope" in found("stock/grain", "redpoll").says
    assert findings.passed
    assert all(f.measured is None and f.limit is None for f in findings.findings if f.check in keys)


def test_remedies_of_a_design_in_inches_are_in_inches():
    thin = read_text(BARE.format(units="in", thin=17.5))
    remedy = found_on(Bench(measured_parts(lay_out(thin))))["wall/run"].remedy
    assert {"neck.thickness.fret_1", "neck.thickness.fret_12"} <= set(remedy.set)
    told = in_unit(remedy.says, "in", to_follow=True)
    for value in remedy.set.values():  # to 0.001 in, as the sentence has it
        assert re.fullmatch(r"\d\.\d{3} in", value)
        assert value.removesuffix(" in") in told
    mended = read_text(BARE.format(units="in", thin=17.5), overrides=[f"{k}={v}" for k, v in remedy.set.items()])
    assert found_on(Bench(measured_parts(lay_out(mended))))["wall/run"].verdict == "pass"
    assert design("redpoll").design.units == "mm"


# --- the solids, never the intention ---------------------------------------------------------------------------------
def test_a_rod_wider_than_its_channel_fails_whatever_the_layout_says():
    parts = built("redpoll")
    narrow = Tool("run", cut(parts.tools[0].solid, [slab(2.9)], "narrowing"))
    assert parts.tools[0].step == "run"
    wrong = replace(parts, tools=(narrow, *parts.tools[1:]))
    finding = next(f for f in check_fit(Bench(wrong)) if f.check == "fit/run")
    # one side of the run at y = 2.9 instead of 3.05: 5.95 wide for a rod of 6.0
    assert finding.verdict == "fail"
    assert finding.measured == pytest.approx(5.95 - 6.0, abs=1e-6)
    assert finding.limit == 0.0
    assert finding.remedy.set == {"channel.wider_by": 0.25}  # 0.15 to let it in, and the usual 0.1 of play


def slab(y: float) -> cq.Solid:
    """All space beyond y."""
    return cq.Solid.makeBox(1000, 100, 100, cq.Vector(-100, y, -50))


def test_a_rod_out_of_its_place_fails():
    parts = built("redpoll")
    moved = replace(parts["rod"], solid=parts["rod"].solid.translate((0.5, 0, 0)))
    wrong = replace(parts, parts=tuple(moved if part.name == "rod" else part for part in parts.parts))
    (finding,) = check_place(Bench(wrong))
    assert (finding.check, finding.verdict) == ("place/adjuster", "fail")
    assert finding.spare == pytest.approx(-0.49, abs=1e-6)
    assert finding.measured == pytest.approx(7.5, abs=1e-6)


def test_the_run_stands_proud_of_the_glue_plane():
    parts = built("redpoll")
    raised = replace(parts["rod"], solid=parts["rod"].solid.translate((0, 0, 0.25)))
    wrong = replace(parts, parts=tuple(raised if part.name == "rod" else part for part in parts.parts))
    finding = next(f for f in check_fit(Bench(wrong)) if f.check == "fit/run")
    assert finding.verdict == "fail"
    assert finding.measured == pytest.approx(0.1 - 0.25, abs=1e-6)
    assert "proud" in finding.says


# --- measured against closed forms -----------------------------------------------------------------------------------
def test_section_at_the_nut_by_the_half_ellipse():
    """Half an ellipse less a rectangle: area, centroid and second moment by the usual formulas (any handbook)."""
    overrides = ("channel.key_clearance=6",)
    finding, layout = found("section/nut", "redpoll", *overrides), laid_out("redpoll", *overrides)
    slot = layout.step("access-slot")
    assert slot.width == pytest.approx(4.53 + 12)
    a, b, w, d = layout.back.half_width(0.05), layout.back.depth(0.05), slot.width, slot.depth

    def modulus(w: float, d: float) -> tuple[float, float]:
        area = math.pi / 2 * a * b - w * d
        z = (-2 / 3 * a * b**2 + w * d**2 / 2) / area
        second = math.pi / 8 * a * b**3 - w * d**3 / 3 - area * z * z
        return area, second / (z + b)

    (area, back), (whole, whole_back) = modulus(w, d), modulus(0.0, 0.0)
    assert finding.verdict == "warn"
    assert finding.more["area"] == pytest.approx(area / whole, abs=finding.error)
    assert finding.more["modulus_back"] == pytest.approx(back / whole_back, abs=finding.error)
    assert finding.measured == pytest.approx(finding.more["modulus_back"], abs=1e-4)
    assert finding.limit == 0.75
    assert found("section/nut", "redpoll").verdict == "pass"


def test_how_deep_a_run_comes_out_by_the_ellipse():
    """A floor corner at y 3.05, z -16.1 outside the half ellipse at the run's start: its distance, by many points."""
    overrides = ("rod.height=16", "rod.block.height=16", "rod.anchor.height=16")
    finding, layout = found("wall/run", "redpoll", *overrides), laid_out("redpoll", *overrides)
    section = layout.back.section(17.0)
    turn = [k / 20000 for k in range(20000, 40000)]
    nearest = min(
        math.hypot(
            section.half_width * math.sin(math.pi * t) - 3.05, -section.depth * abs(math.cos(math.pi * t)) + 16.1
        )
        for t in (v - 1 for v in turn)
    )
    assert finding.verdict == "fail"
    assert finding.measured == pytest.approx(-nearest, abs=2e-3)
    assert "comes out" in finding.says
    assert finding.measured - finding.error <= -nearest


def test_parts_in_each_others_space_are_named_with_their_volume():
    """Bars 4 wide at 4.4 from the middle reach 0.4 into a rod of 5.6: from their common start at 19 to 605."""
    findings = found_all("garganey", "bars.offset=4.4")
    finding = findings["overlap/rod-bar-1"]
    assert finding.verdict == "fail"
    # along the rod's blocks and span, 9 high from 0.05 down, the rod's top 0.1 down
    assert finding.more["volume"] == pytest.approx((605 - 19) * 0.4 * (9.05 - 0.1), rel=0.01)
    assert not findings.passed
    assert "overlap/rod-bar-2" in findings
    assert found("overlap/none", "garganey").verdict == "pass"
