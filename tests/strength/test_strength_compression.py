"""Compression rods: figures worked by hand, closed forms, a finite-element frame, a geometry library for what they
press on, and what the checks say of them."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strength_samples import frame_relief, laid_out

from neckmodel.checks.strength import check_strength
from neckmodel.design import changed, read_text
from neckmodel.errors import DesignError
from neckmodel.findings import Finding
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.curve import Curve
from neckmodel.strength.beam import cell_edges, middles, relief
from neckmodel.strength.bearing import bearing_faces, box, disc, wood_behind
from neckmodel.strength.bent import Moduli, bending_of
from neckmodel.strength.compression import (
    CompressionRod,
    compression_rod,
    even_neck_relief,
    faces,
    press_on_strip,
)
from neckmodel.strength.estimate import estimate
from neckmodel.strength.loads import load_of
from neckmodel.strength.materials import COARSE_THREADS, coarse_pitch
from neckmodel.strength.stress import spare_of_end_grain
from neckmodel.strength.strings import pull_of

EI = 3.87e8


def findings(layout: Layout) -> dict[str, Finding]:
    bench = cast(Any, SimpleNamespace(layout=layout, design=layout.design))
    return {f.check: f for f in check_strength(bench)}


# --- the rod and an even neck ----------------------------------------------------------------------------------------
@pytest.mark.parametrize(("ends", "middle", "change"), [(0.0, 5.0, 0.3070), (0.0, 0.0, 0.0)])
def test_an_even_neck(ends: float, middle: float, change: float) -> None:
    """1500 N over 390 mm: 0.3070 from a 5 mm curve, nothing from a straight rod on the axis."""
    assert even_neck_relief(1500.0, 390.0, EI, ends, middle) == pytest.approx(change, abs=5e-5)


def test_its_moment_is_its_pull_times_its_distance_from_the_neutral_axis() -> None:
    """Axis 7 deep at the ends and 10 in the middle, neutral axis at -5: e is 2 and 5; against the closed form."""
    rod = CompressionRod(Curve(0.0, 390.0, 7.0, 7.0, 10.0), 5.0, 0.8)
    edges = cell_edges([0.0, 195.0, 390.0], 2000)
    x = middles(edges)
    arm = rod.arm(x, np.full_like(x, -5.0))
    assert (arm.min(), arm.max()) == (pytest.approx(2.0, abs=0.01), pytest.approx(5.0, abs=0.01))
    found, _ = relief(edges, 1500 * arm / EI, 0.0, 390.0)
    assert found == pytest.approx(even_neck_relief(1500.0, 390.0, EI, 2.0, 5.0), rel=1e-5)


def test_push_on_the_strip_balances_the_bent_rod() -> None:
    """A parabola's slope at its ends is 4 sag/l: twice the force times that slope is what the strip pushes back."""
    assert press_on_strip(1500.0, 3.5, 390.0) * 390 == pytest.approx(2 * 1500 * 4 * 3.5 / 390, rel=1e-12)
    rod = CompressionRod(Curve(0.0, 390.0, 6.0, 6.0, 9.5), 5.0, 0.8)
    assert rod.push_on_strip(1500.0) == pytest.approx(press_on_strip(1500.0, 3.5, 390.0))
    assert replace(rod, curve=Curve(0.0, 390.0, 6.0, 6.0)).push_on_strip(1500.0) == 0.0


def test_threads_are_those_of_iso_261() -> None:
    """M5 x 0.8: 14.18 mm2 (ISO 898-1 lists 14.2), proof stress of class 4.6 at 3191 N; between two, in proportion."""
    rod = CompressionRod(Curve(0.0, 390.0, 6.0, 6.0, 9.5), 5.0, coarse_pitch(5.0))
    assert rod.area_core == pytest.approx(14.18, abs=5e-3)
    assert rod.greatest_force == pytest.approx(225 * 14.1825, rel=1e-4)
    assert [coarse_pitch(d) for d, _ in COARSE_THREADS] == [p for _, p in COARSE_THREADS]
    assert coarse_pitch(4.5) == pytest.approx(0.75)
    assert 0 < coarse_pitch(2.0) < 0.5


# --- the rod in a real neck ------------------------------------------------------------------------------------------
def test_what_it_takes_out_against_a_finite_element_frame() -> None:
    """wheatear's own sections, and its rod as a cable of 1000 N laid from edge to edge: each edge it bends at is pushed
    by the two ends that meet there, at the rod's own depth. No moment is put in."""
    layout = laid_out("wheatear")
    rod = compression_rod(layout)
    assert rod is not None
    bending = bending_of(layout, load_of(layout, pull_of(layout.design.strings)), rod, 100)
    bent = bending.under(Moduli(11_330.0, 13_530.0, True))
    sections = bending.sections
    start, end = faces(layout)
    edges = [k for k, x in enumerate(sections.edges) if start - 1e-6 <= x <= end + 1e-6]
    line = [(float(sections.edges[k]), -rod.curve.at(float(sections.edges[k]))) for k in edges]
    pushes = []
    for i, k in enumerate(edges):
        along = up = 0.0
        for j in (i + 1, i - 1):
            if 0 <= j < len(line):
                run, rise = line[j][0] - line[i][0], line[j][1] - line[i][1]
                along += 1000 * run / math.hypot(run, rise)
                up += 1000 * rise / math.hypot(run, rise)
        pushes.append((k, along, up, line[i][1]))
    frame = frame_relief(sections.edges, bent.stiffness, pushes, bending.x_from, bending.x_to)
    each = bending.lying * rod.arm(sections.x, bent.stiffness.neutral) / bent.stiffness.bending
    own, _ = relief(sections.edges, -1000 * each, bending.x_from, bending.x_to)
    assert frame == pytest.approx(own, rel=0.005)
    assert bending.rod_on(rod, bent).per_force == pytest.approx(-own / 1000, rel=0.01)  # taken where strings bow most


def test_turns_are_what_rod_and_neck_give() -> None:
    """Even neck: the adjuster runs `F (l/(E A) + l/EA_neck + INT e**2 dx/EI)`; for a straight rod e is constant."""
    layout = laid_out("wheatear")
    rod = compression_rod(layout)
    assert rod is not None
    flat = replace(rod, curve=Curve(rod.curve.x_start, rod.curve.x_end, 8.0, 8.0))
    bending = bending_of(layout, load_of(layout, pull_of(layout.design.strings)), flat)
    bent = bending.under(Moduli(11_330.0, 13_530.0, True))
    even = replace(
        bent,
        stiffness=replace(
            bent.stiffness,
            **{
                name: np.full_like(bent.moment, value)
                for name, value in (("axial", 1e7), ("neutral", -4.0), ("bending", EI))
            },
        ),
    )
    length = rod.curve.length
    expected = length / (200_000 * rod.area_core) + length / 1e7 + length * 4.0**2 / EI
    assert bending.rod_on(flat, even).give == pytest.approx(expected, rel=1e-3)


def test_settings_of_a_preset() -> None:
    strength = estimate(laid_out("wheatear"))
    rod = strength.rod
    assert rod is not None
    assert rod.least.force < rod.likely.force < rod.most.force
    assert rod.likely.need == pytest.approx(strength.relief.likely - 0.15)
    assert rod.likely.turns < rod.turns_end < rod.most.turns
    assert rod.likely.reach == pytest.approx(rod.likely.need * rod.rod.greatest_force / rod.likely.force)
    assert rod.force_high == pytest.approx(rod.rod.greatest_force)  # a weak neck after years asks for more than that
    assert rod.steel == pytest.approx(rod.likely.force / 14.1825, rel=1e-4)
    assert rod.moment == pytest.approx(rod.likely.force * 5.4, rel=0.02)  # 9.5 below the glue plane, axis at 4.1


def test_a_deeper_bend_takes_more_and_a_rod_on_the_axis_none() -> None:
    deep = estimate(laid_out("wheatear", "rod.axis_depth.middle=11")).rod
    usual = estimate(laid_out("wheatear")).rod
    assert deep is not None
    assert usual is not None
    assert deep.likely.reach > usual.likely.reach
    assert deep.likely.force < usual.likely.force
    high = ("rod.diameter=3", "rod.adjuster.diameter=7", "rod.washer.diameter=6", "rod.anchor.height=4")
    shallow = ("rod.cover_strip.thickness=2", "rod.axis_depth={adjuster = 2.2, middle = 2.3, anchor = 2.2}")
    layout = laid_out("wheatear", *high, *shallow)
    assert estimate(layout).rod is None
    for check in ("strength/rod", "strength/washer"):
        found = findings(layout)[check]
        assert found.verdict == "warn"
        assert "cannot take out" in found.says


# --- what it presses on ----------------------------------------------------------------------------------------------
def test_washer_round_its_rod_by_hand() -> None:
    """1500 N on a 10 mm washer with a 5 mm hole: 58.905 mm2 and 25.5 MPa; maple's 54.0 x 0.6 bears that 1.27 times."""
    ring = wood_behind(10.0, lambda y: disc(y, 10.0, 6.0), lambda y: disc(y, 5.0, 6.0))
    assert ring == pytest.approx(math.pi / 4 * (10**2 - 5**2), rel=1e-4)
    assert spare_of_end_grain(1500 / ring, 54.0) == pytest.approx(54 * 0.6 / 25.465, rel=1e-4)


def test_a_face_above_the_glue_plane_presses_on_nothing_there() -> None:
    """A box 8 wide from 5 below to 3 above has 40 mm2; a channel 4 wide and 2 deep takes 8 of it."""
    assert wood_behind(8.0, lambda y: box(y, 8.0, -5.0, 3.0)) == pytest.approx(40.0)
    cut = wood_behind(8.0, lambda y: box(y, 8.0, -5.0, 3.0), lambda y: box(y, 4.0, -2.0, 0.0))
    assert cut == pytest.approx(32.0)


def test_anchor_of_a_preset_by_hand() -> None:
    """wheatear's anchor, 10 x 8: its run there is 5.2 wide, 9.1011 deep, and its strip comes down to 3.9495."""
    anchor = next(face for face in bearing_faces(laid_out("wheatear")) if face.name == "anchor")
    assert anchor.area == pytest.approx(10 * 8 - 5.2 * (9.1011 - 3.9495), abs=0.02)
    assert anchor.x == pytest.approx(352.0)


def test_washer_of_a_preset_against_a_geometry_library() -> None:
    """shapely: the washer less its hole and the run under the strip, as polygons."""
    from shapely import Point
    from shapely import box as rectangle

    layout = laid_out("wheatear")
    assert layout.rod is not None
    washer, strip = layout.rod.washer, layout.rod.strip
    assert washer is not None
    assert strip is not None
    run = next(step for step in layout.steps if step.name == "run")
    middle = Point(0.0, -layout.rod.axis_at(washer.x_end))
    opening = rectangle(-2.6, -run.depth_at(washer.x_end), 2.6, -strip.underside.at(washer.x_end))
    ring = middle.buffer(5.0, quad_segs=400).difference(middle.buffer(washer.hole / 2, quad_segs=400))
    assert bearing_faces(layout)[0].area == pytest.approx(ring.difference(opening).area, rel=5e-4)


def test_at_the_heel_the_faces_look_the_other_way() -> None:
    flipped = laid_out("wheatear", "rod.adjuster_at=heel", "rod_place.from_nut=8", "rod_place.past_joint=-20")
    assert flipped.rod is not None
    assert flipped.rod.washer is not None
    washer, anchor = bearing_faces(flipped)
    assert washer.x == pytest.approx(flipped.rod.washer.x_start)
    assert anchor.x == pytest.approx(8 + 12)
    found = estimate(flipped).rod
    assert found is not None
    assert found.likely.need > 0


# --- what is said of it ----------------------------------------------------------------------------------------------
def test_findings_of_a_preset() -> None:
    found = findings(laid_out("wheatear"))
    assert set(found) >= {"strength/relief", "strength/rod", "strength/section", "strength/washer"}
    rod, washer = found["strength/rod"], found["strength/washer"]
    assert "cannot add any" in rod.says
    assert rod.more["reach_adding"] == 0.0
    assert washer.verdict == "warn"
    assert washer.measured is not None
    assert washer.worst_case is not None
    assert washer.worst_case < 1.0 < washer.measured
    assert washer.measured == pytest.approx(46.7 * 0.6 * washer.more["washer_area"] / rod.more["force"], rel=1e-3)
    assert washer.worst_case == pytest.approx(
        46.7 * 0.6 * 0.82 * washer.more["washer_area"] / rod.more["force_high"], rel=1e-3
    )
    for finding in (rod, washer):
        assert "an estimate" in finding.says
        assert "Wood Handbook" in finding.basis


def test_a_neck_stiffer_than_wanted_cannot_be_given_relief() -> None:
    """0.30 mm is wanted, and at its stiffest the neck bows by less: no turn adds the rest."""
    layout = laid_out("wheatear", "action.wanted_relief=0.3", "rod.diameter=6", "rod.axis_depth.middle=11")
    found, least = findings(layout)["strength/rod"], estimate(layout).relief.low
    assert found.verdict == "warn"
    assert found.measured == 0.0
    assert found.limit == pytest.approx(0.3 - least, abs=1e-4)
    assert f"bow it by {least:.2f} mm, {0.3 - least:.2f} less than wanted, which no turn adds" in found.says


def test_a_small_washer_fails_and_its_remedy_passes() -> None:
    layout = laid_out("wheatear", "rod.washer.diameter=8", "rod.anchor.width=7")
    found = findings(layout)["strength/washer"]
    assert found.verdict == "fail"
    assert found.remedy is not None
    assert set(found.remedy.set) == {"rod.washer.diameter", "rod.anchor.width"}
    mended = findings(lay_out(changed(layout.design, found.remedy.set)))["strength/washer"]
    assert mended.measured == pytest.approx(1.0, abs=0.01)
    assert mended.verdict == "warn"
    smaller = {key: float(value) - 0.1 for key, value in found.remedy.set.items()}
    assert findings(lay_out(changed(layout.design, smaller)))["strength/washer"].verdict == "fail"


def test_an_anchor_no_wider_than_its_run_holds_nothing() -> None:
    """Without a strip the run is open to the glue plane: there is no wood behind an anchor 5 x 5 in a run of 5.2."""
    text = laid_out("wheatear").design.source.text
    bare = text.replace('cover_strip = {thickness = 7.5, wood = "maple"}\n', "")
    assert bare != text
    found = findings(lay_out(read_text(bare, "bare", ("rod.anchor.width=5", "rod.anchor.height=5"))))["strength/washer"]
    assert (found.verdict, found.measured) == ("fail", 0.0)
    assert found.says.startswith("no wood lies behind the anchor")
    assert "anchor_area" not in found.more
    assert found.remedy is not None
    over = {"rod.anchor.height": 5.0, **found.remedy.set}
    mended = lay_out(read_text(bare, "bare", over))
    assert findings(mended)["strength/washer"].verdict != "fail"


def test_without_washer_or_anchor_the_rest_is_told() -> None:
    """The adjuster itself presses where there is no washer; no anchor is stated, so nothing is told of one."""
    text = laid_out("wheatear").design.source.text
    bare = text.replace("washer = {diameter = 10.0, thickness = 1.5}\n", "")
    bare = bare.replace("anchor = {length = 12.0, width = 10.0, height = 8.0}\n", "")
    assert bare != text
    (face,) = bearing_faces(lay_out(read_text(bare)))
    assert (face.name, face.key, face.size) == ("adjuster", "rod.adjuster.diameter", 8.0)
    found = findings(lay_out(read_text(bare)))["strength/washer"]
    assert "the adjuster presses its end grain" in found.says


@settings(max_examples=30)
@given(
    depths=st.tuples(*[st.integers(20, 120)] * 3),
    sizes=st.tuples(st.integers(25, 70), st.integers(60, 160), st.integers(30, 140)),
    wanted=st.integers(0, 60),
    heel=st.booleans(),
)
def test_any_compression_rod_is_told_in_finite_numbers(
    depths: tuple[int, int, int], sizes: tuple[int, int, int], wanted: int, heel: bool
) -> None:
    """In 0.1 mm: axis, diameters of rod and washer, width of the anchor; in 0.01 mm the wanted relief."""
    names = ("adjuster", "middle", "anchor")
    ends = [f"rod.axis_depth.{name}={depth / 10}" for name, depth in zip(names, depths, strict=True)]
    over = [*ends, f"rod.diameter={sizes[0] / 10}", f"rod.washer.diameter={sizes[1] / 10}"]
    over += [f"rod.anchor.width={sizes[2] / 10}", f"rod.adjuster.diameter={sizes[0] / 10 + 4}"]
    over += [f"action.wanted_relief={wanted / 100}", "rod.cover_strip.thickness=12"]
    over += ["rod.adjuster_at=heel", "rod_place.past_joint=-20"] if heel else []
    try:
        layout = laid_out("wheatear", *over)
    except DesignError:
        return
    for finding in findings(layout).values():
        json.dumps([finding.measured, finding.error, finding.limit, finding.worst_case, finding.more], allow_nan=False)
    rod = estimate(layout).rod
    if rod is not None:
        assert rod.most.need >= rod.likely.need >= rod.least.need
        assert 0 <= rod.likely.force <= rod.force_high or rod.likely.spare < 0
        assert all(0 <= face.area < sizes[1] ** 2 for face in rod.faces)
