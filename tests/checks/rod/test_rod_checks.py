"""Findings on rods of every kind: both sides of each limit, the remedy tried, walls against a brute search in space."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from measured_runs import Measured, found_on, measured_parts
from rod_samples import FERN, HEX_AT_HEEL, L_KEY, ODD, SEDGE, STRAIGHT, acoustic, plain, seven
from scipy import integrate

import neckmodel
from neckmodel.checks.bench import Bench
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.design import Design
from neckmodel.findings import Finding, Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.solids import build

SAMPLES = {"acoustic": (acoustic, FERN), "seven": (seven, SEDGE)}


def design_of(sample: str, *overrides: str) -> Design:
    make, rod = SAMPLES[sample]
    return make(*overrides, rod=rod)


@cache
def uncut(sample: str, *overrides: str) -> Measured:
    return measured_parts(lay_out(design_of(sample, *overrides)), uncut(sample) if overrides else None)


@cache
def checked(sample: str, *overrides: str) -> Findings:
    """What is found, without facts about the parts."""
    return found_on(Bench(uncut(sample, *overrides)))


@cache
def whole(sample: str) -> Findings:
    return neckmodel.check(build(lay_out(design_of(sample))))


@cache
def of_plain(rod: str, *overrides: str) -> Findings:
    return found_on(Bench(measured_parts(lay_out(plain(rod, *overrides)))))


def as_overrides(settings: dict[str, float | str]) -> tuple[str, ...]:
    return tuple(f'{key}="{value}"' if isinstance(value, str) else f"{key}={value}" for key, value in settings.items())


def failing(findings: Findings) -> list[Finding]:
    return [finding for finding in findings.findings if finding.verdict == "fail"]


# --- the whole -------------------------------------------------------------------------------------------------------
def test_the_acoustic_stand_in_passes_with_its_strip_and_washer():
    findings = whole("acoustic")
    assert failing(findings) == []
    names = {finding.check for finding in findings.findings}
    assert {"wall/washer", "cover/strip", "fit/strip", "fit/washer", "fit/anchor", "cutter/washer"} <= names
    assert {part.name for part in findings.parts} >= {"washer", "cover-strip", "rod", "adjusting-key"}
    assert all(part.valid and part.watertight and part.solids == 1 for part in findings.parts)


def test_the_seven_string_stand_in_passes_with_its_wheel():
    findings = whole("seven")
    assert failing(findings) == []
    assert all(part.valid and part.watertight and part.solids == 1 for part in findings.parts)
    names = {finding.check for finding in findings.findings}
    assert {"place/wheel", "access/body", "cover/run"} <= names
    assert not {"cover/adjuster", "wall/rod-end", "wall/access-slot"} & names


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_left_handed_neck_finds_the_same(sample):
    right, left = checked(sample), checked(sample, 'design.hand="left"')
    assert [f.check for f in right.findings] == [f.check for f in left.findings]
    for one, other in zip(right.findings, left.findings, strict=True):
        assert one.verdict == other.verdict
        assert (other.measured is None) is (one.measured is None)
        if one.measured is not None:
            assert other.measured == pytest.approx(one.measured, abs=5e-3)


# --- walls -----------------------------------------------------------------------------------------------------------
def brute_wall(layout: Layout, x_from: float, x_to: float, half: float) -> float:
    """Least distance in space from the floor's two corner lines to the back, by points of both; no symmetry used."""
    back, run, best = layout.back, layout.step("run"), np.inf
    for x in np.linspace(x_from, x_to, 61):
        near = np.linspace(x - 1.5, x + 1.5, 61)
        a = np.array([back.half_width(v) for v in near])[:, None]
        b = np.array([back.depth(v) for v in near])[:, None]
        p = np.array([back.exponent(v) for v in near])[:, None]
        y = np.linspace(0.0, 12.0, 401)[None, :]
        z = b * (1 - (y / a) ** p) ** (1 / p)
        beside, below = np.maximum(y - half, 0.0), z - run.depth_at(float(x))
        assert below.min() > -8.0
        best = min(best, float(np.sqrt((near[:, None] - x) ** 2 + beside**2 + np.maximum(below, 0.0) ** 2).min()))
    return best


@pytest.mark.parametrize(
    ("sample", "x_from", "x_to", "half", "by_section"),
    [("acoustic", 90.0, 230.0, 2.6, 4.163), ("seven", 23.5, 60.0, 3.05, 4.379)],
)
def test_the_wall_of_a_run_in_space(sample, x_from, x_to, half, by_section):
    """The exact solids against a search by points, and both against the printed value by cross-section.

    In space the wall is less by the taper's angle, and where the run is longer by the end clearance.
    """
    layout = lay_out(design_of(sample))
    parts = uncut(sample)
    tool = next(t.solid for t in parts.tools if t.step == "run")
    exact = exact_wall(tool, parts.carved, parts.openings)
    assert exact is not None
    assert exact.value == pytest.approx(brute_wall(layout, x_from, x_to, half), abs=4e-3)
    assert by_section - 0.017 <= exact.value <= by_section + 1e-3
    found = checked(sample)["wall/run"]
    assert found.measured <= exact.value + 1e-6 <= found.measured + found.error + 1e-6


def test_a_deeper_bend_never_gives_a_thicker_wall():
    walls = [
        checked("acoustic", f"rod.axis_depth.middle={middle}", "rod.cover_strip.thickness=12")["wall/run"].measured
        for middle in (8.5, 9.5, 10.5)
    ]
    assert walls == sorted(walls, reverse=True)
    assert walls[0] - walls[2] == pytest.approx(2.0, abs=0.2)


def test_a_wall_too_thin_under_the_washer():
    found = checked("acoustic", "rod.washer.diameter=12")["wall/washer"]
    assert found.verdict == "fail"
    assert found.remedy is not None
    mended = checked("acoustic", "rod.washer.diameter=12", *as_overrides(found.remedy.set))
    assert mended["wall/washer"].verdict != "fail"


# --- cover strip -----------------------------------------------------------------------------------------------------
def test_a_strip_that_does_not_reach_the_rod():
    """Stock of 5.0 mm where 7.0 lie over the rod half way: it stays 2.0 off."""
    found = checked("acoustic", "rod.cover_strip.thickness=5")["fit/strip"]
    assert found.verdict == "fail"
    assert found.measured == pytest.approx(2.0, abs=found.error)
    assert found.remedy is not None
    assert found.remedy.set == {"rod.cover_strip.thickness": 7.0}
    assert checked("acoustic", *as_overrides(found.remedy.set))["fit/strip"].verdict == "pass"


def test_a_strip_too_thin_over_the_rod():
    """At the anchor's inner face, u = 348/360: the axis at 6.451, less the rod's radius."""
    found = checked("acoustic", "limits.cover_strip=4.2")["cover/strip"]
    u = 348.0 / 360.0
    assert found.measured == pytest.approx(6.0 + 14.0 * u * (1 - u) - 2.5, abs=found.error)
    assert found.verdict == "fail"
    assert found.remedy is not None
    assert set(found.remedy.set) == {"rod.axis_depth.adjuster", "rod.axis_depth.anchor"}  # it is too thin at both ends
    mended = checked("acoustic", "limits.cover_strip=4.2", *as_overrides(found.remedy.set))["cover/strip"]
    assert mended.verdict == "pass"
    assert mended.measured < 4.35 + 0.15 + 0.5  # the depth's tolerance, and the steps in which an axis is laid


def test_the_glue_surface_of_the_strip():
    """Both sides of it: twice the integral of its height over the rod."""
    height = integrate.quad(lambda x: 3.5 + 14.0 * (x - 4.0) / 360.0 * (1 - (x - 4.0) / 360.0), 17.5, 352.0)[0]
    assert checked("acoustic")["cover/strip"].more["glue_surface_mm2"] == pytest.approx(2 * height, rel=3e-3)


def test_no_strip_is_told():
    bare = FERN.replace('cover_strip = {thickness = 8.0, wood = "maple"}', "")
    findings = found_on(Bench(measured_parts(lay_out(acoustic(rod=bare)), uncut("acoustic"))))
    assert findings["cover/strip"].verdict == "skipped"
    assert "rod.cover_strip" in findings["cover/strip"].says
    assert "fit/strip" not in findings


# --- places and fits -------------------------------------------------------------------------------------------------
def test_a_wheel_under_the_fretboard():
    """From 20 instead of 23: three millimetres of the wheel stand in the fretboard."""
    findings = checked("seven", "rod_place.from_nut=20")
    found = findings["place/wheel"]
    assert found.verdict == "fail"
    assert found.measured == pytest.approx(-3.0, abs=1e-6)
    assert found.remedy is not None
    assert found.remedy.set == {"rod_place.from_nut": 23.5}  # 23 and 0.1 of measuring, in halves
    assert any(f.check == "overlap/fretboard-rod" for f in failing(findings))
    assert failing(checked("seven", *as_overrides(found.remedy.set))) == []


@pytest.mark.parametrize(
    ("overrides", "check", "measured"),
    [
        (("rod_place.from_nut=3",), "place/adjuster", 3.0 - 4.82436),
        (("rod_place.from_nut=25.5",), "place/adjuster", -0.5),
        (("rod_place.past_joint=67",), "place/anchor", None),
    ],
)
def test_places_at_the_heel_that_miss(overrides, check, measured):
    found = checked("seven", *overrides)[check]
    assert found.verdict == "fail"
    if measured is not None:
        assert found.measured == pytest.approx(measured, abs=1e-5)
    assert found.remedy is not None
    assert checked("seven", *overrides, *as_overrides(found.remedy.set))[check].verdict != "fail"


def test_a_rod_that_begins_past_fret_1_has_no_place_there():
    found = checked("seven", "rod_place.from_nut=40", "heel.wood_ends_at=530", "fretboard.ends_at=512")
    beyond = 664.0 * (1 - 2 ** (-1 / 12)) - 40.0
    assert (found["place/adjuster"].verdict, found["place/span"].verdict) == ("fail", "warn")
    assert found["place/adjuster"].measured == pytest.approx(beyond, abs=0.03)
    assert found["place/span"].measured == pytest.approx(beyond, abs=0.03)


def test_an_adjuster_half_in_the_wood_turns_in_its_pocket():
    found = checked("seven", "rod_place.from_nut=23")
    adjuster = found["fit/adjuster"]
    assert adjuster.verdict == "pass"
    assert adjuster.measured == pytest.approx(0.8, abs=0.03)
    assert "open in front" in adjuster.says
    assert found["wall/adjuster"].measured == pytest.approx(19.0 - 12.1, abs=0.02)  # the heel less the pocket


def test_odd_segments_fit_their_pockets():
    findings = of_plain(ODD)
    for name in ("run", "block", "segment-3"):
        assert findings[f"fit/{name}"].verdict == "pass"
        assert findings[f"fit/{name}"].more["play"] == pytest.approx(0.1, abs=1e-6)
    assert findings["wall/segment-3"].limit == 3.0
    assert findings["fit/end"].verdict == "pass"
    assert [f.check for f in failing(findings)] == []


def test_a_one_way_rod_passes():
    text = HEX_AT_HEEL.replace("two-way", "one-way").replace('"heel"', '"head"').replace("9.2", "7.5")
    findings = of_plain(text + STRAIGHT.replace("120.0", "190.0"), "rod_place.from_nut=8")
    assert failing(findings) == []
    assert findings["fit/run"].more["under_rod"] == pytest.approx(0.0, abs=1e-6)


# --- keys ------------------------------------------------------------------------------------------------------------
def test_a_slot_that_comes_out_beyond_the_first_tuner():
    layout = lay_out(acoustic("head.tuners.0.x=-10"))
    found = checked("acoustic", "head.tuners.0.x=-10")["access/withdraw"]
    assert found.verdict == "fail"
    out = layout.step("access-slot").x_start
    assert found.measured == pytest.approx(out - (-6.0 - 10.0 * np.cos(np.radians(14.0))), abs=1e-6)
    assert "beyond tuner-1" in found.says


def test_a_ball_end_key_turns_between_the_strings():
    findings = checked("acoustic")
    assert findings["access/swing"].verdict == findings["access/withdraw"].verdict == "pass"
    assert findings["access/swing"].measured == pytest.approx(0.5, abs=0.05)  # the clearance to its own slot
    assert findings["access/strings"].verdict == "pass"


def test_a_bar_meets_the_string_on_the_centre_line():
    """Seven strings: the fourth is on the centre line, so the upright bar turns only with it pushed aside."""
    found = checked("seven")["access/strings"]
    assert found.verdict == "warn"
    assert "string-4" in found.says


def test_a_bar_under_the_fretboard_cannot_turn():
    found = checked("seven", "rod_place.from_nut=14")["access/swing"]
    assert found.verdict == "fail"
    assert "fretboard" in found.says


def test_a_straight_key_from_the_body_turns():
    findings = of_plain(HEX_AT_HEEL + STRAIGHT)
    assert findings["access/swing"].verdict == findings["access/withdraw"].verdict == "pass"
    assert findings["access/swing"].measured == pytest.approx(0.5, abs=0.05)
    # the slot runs out there on purpose: what the adjuster's pocket, to 20 + 420 + 1, leaves beside it
    assert findings["wall/rod-end"].measured == pytest.approx(468.406 - 441, abs=1e-3)
    assert findings["access/body"].more["key_x_end"] == pytest.approx(560.5)


def test_a_heel_screw_in_the_keys_way():
    screw = 'heel.screws=[{from_end=12,y=0,diameter=4.5,length=48,kind="wood-screw"}]'
    findings = of_plain(HEX_AT_HEEL + STRAIGHT, screw)
    found = findings["access/swing"]
    assert found.verdict == "fail"
    assert "screw-1" in found.says


def test_an_l_key_at_the_heel_needs_its_swing():
    good = of_plain(HEX_AT_HEEL + L_KEY, "rod_place.from_nut=30")
    assert good["access/swing"].verdict == "pass"
    narrow = of_plain(HEX_AT_HEEL + L_KEY, "rod_place.from_nut=30", "channel.key_swing=60")
    assert narrow["access/swing"].verdict == "fail"


def test_what_the_body_needs_is_told():
    found = checked("seven")["access/body"]
    assert found.measured == pytest.approx(12.1)
    assert found.more["adjuster_x_start"] == 510.0
    assert found.more["key_swing"] == 45.0
    assert "below the body's top" in found.says
