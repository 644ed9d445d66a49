"""Compression rods: figures worked by hand, closed forms, and a finite-element frame."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from strength_samples import findings, frame_relief, laid_out

from neckmodel.geometry.curve import Curve
from neckmodel.strength.bending.beam import relief
from neckmodel.strength.bending.bending import Bending, Moduli, bending_of
from neckmodel.strength.estimate import estimate
from neckmodel.strength.materials.metals import COARSE_THREADS, coarse_pitch
from neckmodel.strength.rod.compression import CompressionRod, compression_rod, faces, press_on_strip
from neckmodel.strength.sections.cells import cell_edges, middles
from neckmodel.strength.strings.load import load_of
from neckmodel.strength.strings.pull import pull_of

EI = 3.87e8


def even_neck_relief(force: float, length: float, bending: float, e_end: float, e_middle: float) -> float:
    """Relief that a compression rod takes out of an even neck, mm, e being how far its axis, a parabola, lies below the
    neutral axis at the ends and in the middle: `F e(x)/EI` integrated twice, `F l**2 (e_end + 5 e_mid)/(48 EI)`."""
    return force * length**2 * (e_end + 5 * e_middle) / (48 * bending)


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


def unstrung(bending: Bending) -> Bending:
    """The same neck with its strings slack."""
    return replace(bending, load=replace(bending.load, pull=0.0))


# --- the rod in a real neck ------------------------------------------------------------------------------------------
def test_what_it_takes_out_against_a_finite_element_frame() -> None:
    """wheatear's own sections, and its rod as a cable of 1000 N laid from edge to edge: each edge it bends at is pushed
    by the two ends that meet there, at the rod's own depth. No moment is put in."""
    layout = laid_out("wheatear")
    rod = compression_rod(layout)
    assert rod is not None
    assert layout.rod is not None
    bending = bending_of(layout, load_of(layout, pull_of(layout.design.strings)), rod, 100)
    bent = bending.under(Moduli((11_330.0,), 13_530.0, True))
    sections = bending.sections
    start, end = faces(layout.rod)
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
    each = bending.along_rod * rod.arm(sections.x, bent.stiffness.neutral) / bent.stiffness.bending
    own, _ = relief(sections.edges, -1000 * each, bending.x_from, bending.x_to)
    assert frame == pytest.approx(own, rel=0.005)
    found = unstrung(bending).rod_on(rod, bent).per_force  # the frame knows no string that the neck bends away from
    assert found == pytest.approx(-own / 1000, rel=0.01)  # taken where the strings bow it most


def test_turns_are_what_rod_and_neck_give() -> None:
    """Even neck: the adjuster runs `F (l/(E A) + l/EA_neck + INT e**2 dx/EI)`; for a straight rod e is constant."""
    layout = laid_out("wheatear")
    rod = compression_rod(layout)
    assert rod is not None
    flat = replace(rod, curve=Curve(rod.curve.x_start, rod.curve.x_end, 8.0, 8.0))
    bending = bending_of(layout, load_of(layout, pull_of(layout.design.strings)), flat)
    bent = bending.under(Moduli((11_330.0,), 13_530.0, True))
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
    assert unstrung(bending).rod_on(flat, even).give == pytest.approx(expected, rel=1e-3)
    assert bending.rod_on(flat, even).give > expected  # and the strings follow what the rod does


def test_settings_of_a_preset() -> None:
    strength = estimate(laid_out("wheatear"))
    rod = strength.rod
    assert rod is not None
    assert rod.least.force < rod.likely.force < rod.most.force
    assert rod.likely.need == pytest.approx(strength.relief.likely - 0.15)
    assert rod.likely.turns < rod.likely.turns_end
    assert rod.most.turns == rod.most.turns_end  # and still short of what is needed
    assert rod.most.spare < 0
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


def test_a_neck_stiffer_than_wanted_cannot_be_given_relief() -> None:
    """0.30 mm is wanted, and at its stiffest the neck bows by less: no turn adds the rest."""
    layout = laid_out("wheatear", "action.wanted_relief=0.3", "rod.diameter=6", "rod.axis_depth.middle=11")
    found, least = findings(layout)["strength/rod"], estimate(layout).relief.low
    assert found.verdict == "warn"
    assert found.measured == 0.0
    assert found.limit == pytest.approx(0.3 - least, abs=1e-4)
    assert f"bow it by {least:.2f} mm, {0.3 - least:.2f} mm less than wanted, which no turn adds" in found.says
