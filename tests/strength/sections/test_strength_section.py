"""Composite sections against worked examples, closed forms and a section library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from strength_samples import PRESETS, laid_out

from neckmodel.layout.channel.step import Step
from neckmodel.layout.neck.section import Section
from neckmodel.strength.bending.stress import stress
from neckmodel.strength.sections.neck import ROUND, back_outlines, fretboard_moments, neck_sections
from neckmodel.strength.sections.section import Moments, crown_places, crowned, polygon, rectangle, stiffness
from neckmodel.strength.sections.strips import openings

KSI, INCH = 1.0, 1.0  # the inch examples are computed in their own units


def test_glued_neck_section() -> None:
    """Wood 50 x 16 with a channel 6 x 11, fretboard 50 x 6: worked by hand. EA, z_n and EI to the printed places."""
    wood = rectangle([50.0], -16, 0) - rectangle([6.0], -11, 0)
    whole = stiffness([(12600, wood), (14000, rectangle([50.0], 0, 6))])
    assert whole.axial[0] == pytest.approx(13_448_400, abs=0.5)
    assert whole.neutral[0] == pytest.approx(-4.7192, abs=5e-5)
    assert whole.bending[0] == pytest.approx(5.7751e8, abs=5e3)
    below = stiffness([(12600, wood), (14000, rectangle([50.0], 0, 3.5))])
    assert below.neutral[0] == pytest.approx(-6.1358, abs=5e-5)
    assert below.bending[0] == pytest.approx(3.9621e8, abs=5e3)


def test_loose_steel_adds_its_own_bending_only() -> None:
    wood = rectangle([50.0], -16, 0)
    bare, with_rod = stiffness([(12600, wood)]), stiffness([(12600, wood)], loose=5.9e6)
    assert with_rod.bending[0] - bare.bending[0] == pytest.approx(5.9e6)
    assert with_rod.neutral[0] == bare.neutral[0]


def test_timber_with_a_steel_plate_on_top() -> None:
    """Printed textbook answer: timber 140 x 400 at 12.5 GPa, steel 200 x 8 on top, +30 kN m: wood 2.76 MPa pressed and
    5.36 pulled, steel 46.8 pressed. Neutral axis 264.000 above the bottom, EI 1.847424e13."""
    both = stiffness([(12_500, rectangle([140.0], 0, 400)), (200_000, rectangle([200.0], 400, 408))])
    assert both.neutral[0] == pytest.approx(264.000, abs=5e-4)
    assert both.bending[0] == pytest.approx(1.847424e13, rel=5e-7)
    at = {z: float(stress(e, 30e6, z, both, 0.0)[0]) for z, e in ((0, 12_500), (400, 12_500), (408, 200_000))}
    assert -at[400] == pytest.approx(2.76, abs=0.005)
    assert at[0] == pytest.approx(5.36, abs=0.005)
    assert -at[408] == pytest.approx(46.8, abs=0.05)
    assert -float(stress(200_000, 30e6, 400, both, 0.0)[0]) == pytest.approx(44.1696, abs=5e-5)


def test_wood_over_a_steel_strip() -> None:
    """After Gere and Timoshenko (problem from memory; figures recomputed): wood 4 x 6 in over steel 4 x 0.5 in, 1500
    and 30,000 ksi, 60 kip in: neutral axis 1.46875 in, EI 346,906.25 kip in2; four stresses in ksi."""
    both = stiffness([(1500, rectangle([4.0], 0.5, 6.5)), (30_000, rectangle([4.0], 0, 0.5))])
    assert both.neutral[0] == pytest.approx(1.46875, abs=5e-6)
    assert both.bending[0] == pytest.approx(346_906.25, abs=0.005)
    for z, modulus, ksi in ((6.5, 1500, -1.3053), (0.5, 1500, 0.2513), (0.5, 30_000, 5.0266), (0.0, 30_000, 7.6209)):
        assert float(stress(modulus, 60.0, z, both, 0.0)[0]) == pytest.approx(ksi, abs=5e-5)


def _moment_limit(allowed: float, modulus: float, lever: float, bending: float) -> float:
    return allowed * bending / (modulus * lever)


def test_wood_between_steel_side_plates() -> None:
    """Textbook input: wood 200 x 300, plates 12 x 300, 11 and 190 GPa, 7.5 and 110 MPa. About z 69.14 and 58.71 kN m,
    about y 119.91 and 90.91."""
    upright = stiffness([(11_000, rectangle([200.0], -150, 150)), (190_000, rectangle([24.0], -150, 150))])
    ei = float(upright.bending[0])
    assert _moment_limit(7.5, 11_000, 150, ei) / 1e6 == pytest.approx(69.14, abs=0.005)
    assert _moment_limit(110, 190_000, 150, ei) / 1e6 == pytest.approx(58.71, abs=0.005)
    plates = rectangle([[300.0, 300.0]], [[-112.0, 100.0]], [[-100.0, 112.0]])
    flat = float(stiffness([(11_000, rectangle([300.0], -100, 100)), (190_000, plates)]).bending[0])
    assert _moment_limit(7.5, 11_000, 100, flat) / 1e6 == pytest.approx(119.91, abs=0.005)
    assert _moment_limit(110, 190_000, 112, flat) / 1e6 == pytest.approx(90.91, abs=0.005)


def test_wood_on_a_narrow_steel_plate() -> None:
    """Textbook input: wood 200 x 350 on steel 165 x 20, 12.5 and 200 GPa, 9.1 m, 7.5 and 145 MPa: neutral axis 95.456
    above the joint, EI 2.183047e13, limits 51.458 and 137.083 kN m, 4.971 kN/m."""
    both = stiffness([(12_500, rectangle([200.0], 0, 350)), (200_000, rectangle([165.0], -20, 0))])
    zn, ei = float(both.neutral[0]), float(both.bending[0])
    assert zn == pytest.approx(95.456, abs=5e-4)
    assert ei == pytest.approx(2.183047e13, rel=5e-7)
    wood, steel = _moment_limit(7.5, 12_500, 350 - zn, ei), _moment_limit(145, 200_000, zn + 20, ei)
    assert wood / 1e6 == pytest.approx(51.458, abs=5e-4)
    assert steel / 1e6 == pytest.approx(137.083, abs=5e-4)
    assert 8 * wood / 9100**2 == pytest.approx(4.971, abs=5e-4)


def test_wood_between_two_steel_strips() -> None:
    """Textbook input: wood 5.50 x 11.00 in, steel 4.50 x 0.60 in above and below, 1250 and 30,000 ksi, 16.5 ft, 950 and
    20,000 psi: 859,089 and 679,464 lbf in, 13,726.5 lbf in the middle."""
    strips = rectangle([[4.5, 4.5]], [[-6.1, 5.5]], [[-5.5, 6.1]])
    ei = float(stiffness([(1250e3, rectangle([5.5], -5.5, 5.5)), (30_000e3, strips)]).bending[0])
    wood, steel = _moment_limit(950, 1250e3, 5.5, ei), _moment_limit(20_000, 30_000e3, 6.1, ei)
    assert wood == pytest.approx(859_089, abs=0.5)
    assert steel == pytest.approx(679_464, abs=0.5)
    assert 4 * min(wood, steel) / (16.5 * 12) == pytest.approx(13_726.5, abs=0.05)


@pytest.mark.parametrize("exponent", [1.3, 1.35, 1.7, 2.0, 2.6, 3.5, 4.0])
@pytest.mark.parametrize("apex", [0.0, -4.0])
def test_back_against_the_beta_function(exponent: float, apex: float) -> None:
    """Half a superellipse: `INT z**n dA = 2 a b**(n+1)/((n+1) p) B(1/p, (n+1)/p + 1)`, whatever the lean. The polygon
    lies within the curve: short by at most 4e-5 of the area, 8e-5 of the second moment."""
    a, b = 21.5, 15.0
    found = polygon(Section(a, b, exponent, apex).at(ROUND)[None])

    def exact(n: int) -> float:
        x, y = 1 / exponent, (n + 1) / exponent + 1
        beta = math.gamma(x) * math.gamma(y) / math.gamma(x + y)
        return (-1) ** n * 2 * a * b ** (n + 1) / ((n + 1) * exponent) * beta

    assert exact(0) == pytest.approx(Section(a, b, exponent, apex).area(), rel=1e-12)
    for n, value, bound in ((0, found.area, 4e-5), (1, found.first, 6e-5), (2, found.second, 8e-5)):
        short = 1 - float(value[0]) / exact(n)
        assert 0 < short < bound


def test_crown_against_a_circular_segment() -> None:
    """A crown of radius R over a width: rectangle and circular segment. Textbook segment: area R2 (t - sin t)/2."""
    half, thickness, radius = np.array([28.0]), 6.0, 180.0
    y = crown_places(half)
    found = crowned(half, thickness - radius + np.sqrt(radius**2 - y**2))
    sag = radius - math.sqrt(radius**2 - 28.0**2)
    angle = 2 * math.asin(28.0 / radius)
    segment = radius**2 * (angle - math.sin(angle)) / 2
    assert found.area[0] == pytest.approx(56 * (thickness - sag) + segment, rel=1e-11)
    centre = 4 * radius * math.sin(angle / 2) ** 3 / (3 * (angle - math.sin(angle)))  # of the segment from the middle
    first = 56 * (thickness - sag) ** 2 / 2 + segment * (centre - radius + thickness)
    assert found.first[0] == pytest.approx(first, rel=1e-9)


def test_below_the_slots_is_the_crown_lowered_or_a_flat_floor() -> None:
    layout = laid_out("redpoll")
    x = np.array([200.0])
    whole, below = fretboard_moments(layout.fretboard, x)
    width = 2 * layout.fretboard.half_width(200.0)
    assert whole.area[0] - below.area[0] == pytest.approx(width * layout.fretboard.slot_depth, rel=1e-9)
    flat = laid_out("redpoll", "fretboard.fret_slot.floor=flat")
    level = flat.fretboard.thickness - flat.fretboard.slot_depth
    assert fretboard_moments(flat.fretboard, x)[1].area[0] == pytest.approx(width * level, rel=1e-12)


def test_where_steps_lie_over_each_other_the_deepest_counts() -> None:
    run = Step("run", 0.0, 100.0, 6.0, 9.0, 9.0)
    pocket = Step("block", 0.0, 50.0, 10.0, 4.0, 4.0)
    beside = Step("bar-1", 0.0, 50.0, 4.0, 7.0, 7.0, y=12.0)
    x, deepest, half = np.array([25.0, 75.0]), np.array([15.0, 15.0]), np.array([21.0, 21.0])
    found = openings((run, pocket, beside), x, deepest, half)
    assert found.area.tolist() == pytest.approx([6 * 9 + 4 * 4 + 4 * 7, 6 * 9])
    assert found.second.tolist() == pytest.approx([(6 * 9**3 + 4 * 4**3 + 4 * 7**3) / 3, 6 * 9**3 / 3])


def test_a_channel_deeper_than_the_wood_ends_with_the_wood() -> None:
    run = Step("run", 0.0, 100.0, 60.0, 20.0, 20.0)
    found = openings((run,), np.array([50.0]), np.array([15.0]), np.array([21.0]))
    assert found.area[0] == pytest.approx(42 * 15)


def _library(name: str, x: float) -> tuple[float, float, float]:
    """(EA, z_n, EI) of one section by the library sectionproperties: outline of 1001 points, channel cut out, a cover
    strip put back. Bars, which touch nothing in it, are put in by hand."""
    from sectionproperties.analysis import Section as Analysed
    from sectionproperties.pre import Geometry, Material
    from shapely import Polygon, box
    from shapely.ops import unary_union

    layout = laid_out(name)

    def material(title: str, modulus: float) -> Material:
        return Material(title, modulus, 0.3, 100, 1e-9, "grey")

    def rectangles(parts: list[tuple[float, float, float, float]]) -> Polygon:
        return unary_union([box(*part) for part in parts])

    steps = [s for s in layout.steps if s.x_start < x < s.x_end]
    cut = rectangles([(s.y - s.width / 2, -s.depth_at(x), s.y + s.width / 2, 1.0) for s in steps])
    back = Polygon(layout.back.section(x).points(1001)).difference(cut)
    strip = layout.rod.strip if layout.rod is not None else None
    if strip is not None:
        back = back.union(box(-strip.width / 2, -strip.underside.at(x), strip.width / 2, 0.0))
    y = np.linspace(-layout.fretboard.half_width(x), layout.fretboard.half_width(x), 401)
    top = [(float(v), layout.fretboard.top(x, float(v))) for v in y]
    crown = Polygon([(float(y[0]), 0.0), (float(y[-1]), 0.0), *reversed(top)])
    whole = Geometry(back, material("maple", 13_860)) + Geometry(crown, material("rosewood", 13_530))
    whole.create_mesh(mesh_sizes=[20.0])
    analysed = Analysed(whole)
    analysed.calculate_geometric_properties()
    ea, zn, ei = analysed.get_ea(), analysed.get_c()[1], analysed.get_eic()[0]
    for b in layout.bars:
        own, z = 125_000 * b.width * b.height, -0.05 - b.height / 2  # half the glue fit of 0.10 over it
        ei += 125_000 * b.width * b.height**3 / 12 + own * ea / (own + ea) * (z - zn) ** 2
        zn, ea = (ea * zn + own * z) / (ea + own), ea + own
    return ea, zn, ei


@pytest.mark.parametrize("name", [*PRESETS, "wheatear"])
@pytest.mark.parametrize("x", [40.0, 260.0])
def test_sections_against_a_library(name: str, x: float) -> None:
    """sectionproperties (finite-element cross-section library): EA, EI within 0.1 %, z_n within 0.005 mm."""
    sections = neck_sections(laid_out(name), x - 0.001, x + 0.001, 1)
    bars = [125_000.0] * len(sections.bars)
    found = sections.stiffness((13_860,), 13_530, bars)
    ea, zn, ei = _library(name, x)
    assert found.axial[0] == pytest.approx(ea, rel=1e-3)
    assert found.neutral[0] == pytest.approx(zn, abs=5e-3)
    assert found.bending[0] == pytest.approx(ei, rel=1e-3)


@pytest.mark.parametrize("name", PRESETS)
def test_transitions_follow_the_solid(name: str) -> None:
    """In the swells of head and heel the solid's own section, from its splines, is the second route: the box blended
    here is up to 4.1 % short of its area and 9 % of its second moment, and hardly ever above."""
    from neckmodel.solids.neck.neck import back_law
    from neckmodel.solids.neck.superellipse import curve

    layout = laid_out(name)
    outside = layout.outside
    x = np.concatenate(
        [
            np.linspace(layout.head.x_line + 0.01, -0.01, 5),
            np.linspace(outside.heel.x_swell + 1, outside.heel.x_joint - 0.01, 9),
        ]
    )
    t = np.linspace(0.0, 1.0, 400)
    areas, seconds = [], []
    for place, poles in zip(x.tolist(), back_law(outside).sections(x), strict=True):
        half = [curve(side, t) for side in poles]
        points = np.vstack([half[0], half[1][::-1]])
        points[:, 1] = np.maximum(points[:, 1], -outside.flat_depth(place))
        exact = polygon(points[None])
        areas.append(float(exact.area[0]))
        seconds.append(float(exact.second[0]))
    found = polygon(back_outlines(outside, x.tolist()))
    area, second = found.area / np.array(areas), found.second / np.array(seconds)
    assert 0.959 < area.min() < area.max() < 1.001
    assert 0.91 < second.min() < second.max() < 1.001


def test_moments_add_and_take_away() -> None:
    one, two = rectangle([10.0], -4, 0), rectangle([10.0], -6, -4)
    both = one + two
    assert (both - two).second[0] == pytest.approx(one.second[0])
    assert both.second[0] == pytest.approx(rectangle([10.0], -6, 0).second[0])
    assert isinstance(both.at(0), Moments)
