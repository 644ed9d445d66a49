"""The back's cross-sections: area by two outside routes, walls against printed values and a brute search."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import PRESETS, laid_out, plain
from scipy import integrate, special
from wall_oracle import brute_wall

from neckmodel.layout import lay_out
from neckmodel.layout.neck.section import Opening, Section, section_walls


def section_wall(section, half_width, depth, y=0.0):
    """The wall of one channel of this half width and depth, centred on y."""
    return float(section_walls([section], [Opening(y - half_width, y + half_width, depth)])[0])


# half width 21.5, depth 15, channel 6 x 11: exponent, area, straight down at the floor's corner, least in any direction
FAMILIES = (
    (1.35, 413.30, 3.215, 3.005),
    (1.7, 471.97, 3.688, 3.620),
    (2.0, 506.58, 3.853, 3.832),
    (2.6, 550.96, 3.965, 3.964),
    (3.5, 586.29, 3.996, 3.996),
)


@pytest.mark.parametrize(("exponent", "area", "corner", "least"), FAMILIES)
def test_families(exponent, area, corner, least):
    section = Section(21.5, 15.0, exponent, 0.0)
    assert section.area() == pytest.approx(area, abs=5e-3)
    assert section.depth_at(0.0) - 11.0 == pytest.approx(4.000, abs=1e-12)
    assert section.depth_at(3.0) - 11.0 == pytest.approx(corner, abs=5e-4)
    assert section_wall(section, 3.0, 11.0) == pytest.approx(least, abs=5e-4)


sections = st.builds(Section, st.floats(12, 48), st.floats(4, 26), st.floats(1.3, 4.0), st.floats(-6, 6))


@given(sections)
def test_area_by_the_beta_function_and_by_numerical_integration(section):
    """Outside routes: the beta function (DLMF 5.12) in scipy's own implementation, and scipy's adaptive quadrature."""
    p = section.exponent
    quarter = special.beta(1 / p, 1 + 1 / p) / p  # area of the unit quarter superellipse
    assert section.area() == pytest.approx(2 * section.half_width * section.depth * quarter, rel=1e-12)
    ends = (-section.half_width, section.apex, section.half_width)
    parts = [integrate.quad(section.depth_at, a, b, epsabs=1e-6, limit=200)[0] for a, b in itertools.pairwise(ends)]
    assert section.area() == pytest.approx(sum(parts), rel=1e-6)


@given(sections, st.floats(0, math.pi))
def test_points_lie_on_the_superellipse(section, t):
    y, z = section.at(np.array([t]))[0]
    span = section.half_width + (section.apex if y < section.apex else -section.apex)
    assert abs((y - section.apex) / span) ** section.exponent + abs(z / section.depth) ** section.exponent == (
        pytest.approx(1.0, abs=1e-9)
    )
    assert section.depth_at(y) == pytest.approx(-z, abs=1e-3 * section.depth + 1e-9)


openings = st.builds(
    lambda y, half, depth: Opening(y - half, y + half, depth), st.floats(-9, 9), st.floats(0.5, 8), st.floats(1, 28)
)


@given(sections, openings)
def test_walls_by_brute_search(section, opening):
    """The oracle walks a polyline of the section made from y, not from our own parameter."""
    assert section_walls([section], [opening])[0] == pytest.approx(brute_wall(section, opening), abs=1e-3)


def test_breaking_through_by_closed_form():
    """A circle: the corner (3, -12) of a channel in a half circle of radius 10 stands sqrt(153) - 10 outside."""
    circle = Section(10.0, 10.0, 2.0, 0.0)
    assert section_wall(circle, 3.0, 12.0) == pytest.approx(10.0 - math.sqrt(153.0), abs=1e-6)
    # of two corners outside, the farther one counts
    assert section_wall(circle, 3.0, 12.0, 1.0) == pytest.approx(10.0 - math.sqrt(160.0), abs=1e-6)


def test_a_channel_beside_the_centre_line():
    """In a half circle the wall is the radius less the far corner's distance."""
    circle = Section(20.0, 20.0, 2.0, 0.0)
    assert section_wall(circle, 2.0, 9.0, 8.0) == pytest.approx(20.0 - math.hypot(10.0, 9.0), abs=1e-6)
    assert section_wall(circle, 2.0, 9.0, -8.0) == pytest.approx(20.0 - math.hypot(10.0, 9.0), abs=1e-6)


@given(sections, openings, st.floats(0, 3))
def test_a_deeper_or_wider_channel_never_leaves_more(section, opening, more):
    deeper = Opening(opening.y_low, opening.y_high, opening.depth + more)
    wider = Opening(opening.y_low - more, opening.y_high + more, opening.depth)
    wall, below, beside = section_walls([section] * 3, [opening, deeper, wider])
    assert below <= wall + 1e-6
    assert beside <= wall + 1e-6


@given(sections, openings)
def test_a_mirrored_section_has_the_same_wall(section, opening):
    mirrored = Section(section.half_width, section.depth, section.exponent, -section.apex)
    there = Opening(-opening.y_high, -opening.y_low, opening.depth)
    walls = section_walls([section, mirrored], [opening, there])
    assert walls[0] == pytest.approx(walls[1], abs=1e-6)


@given(sections, openings)
def test_twice_the_lengths_twice_the_wall(section, opening):
    double = Section(2 * section.half_width, 2 * section.depth, section.exponent, 2 * section.apex)
    there = Opening(2 * opening.y_low, 2 * opening.y_high, 2 * opening.depth)
    walls = section_walls([section, double], [opening, there])
    assert walls[1] == pytest.approx(2 * walls[0], abs=1e-6)


def test_thickness_line():
    back = lay_out(plain()).back
    assert back.thickness(0.0) == pytest.approx(20.747, abs=5e-4)
    assert back.thickness(back.x_1) == pytest.approx(21.0, abs=1e-12)
    assert back.depth(320.0) == pytest.approx(17.0, abs=1e-12)


def test_blend_from_fret_1_to_fret_12():
    back = lay_out(plain('neck.back={fret_1 = {family = "V", lean = 2.0}, fret_12 = "D"}')).back
    assert (back.exponent(0.0), back.exponent(back.x_1)) == (1.35, 1.35)
    assert (back.exponent(320.0), back.exponent(500.0)) == pytest.approx((2.6, 2.6))
    assert back.apex(0.0) == -2.0  # toward the bass side
    assert back.apex(320.0) == pytest.approx(0.0, abs=1e-12)
    between = [back.exponent(x) for x in np.linspace(back.x_1, 320.0, 50)]
    assert np.all(np.diff(between) > 0)


WALLS = (("dunnock", 4.487), ("redpoll", 4.895), ("garganey", 4.062))


@pytest.mark.parametrize(("name", "wall"), WALLS)
def test_least_walls_of_the_presets(name, wall):
    """By section, at the rod's own end: where the adjuster ends and the run begins."""
    layout = laid_out(name)
    found = next(w for w in layout.walls if w.step == "run")
    assert found.wall == pytest.approx(wall, abs=5e-4)
    assert found.x == layout.rod.x_block


def test_wall_under_the_adjuster():
    layout = laid_out("redpoll")
    step = layout.step("adjuster")
    assert (step.width, step.depth) == (pytest.approx(7.8), pytest.approx(8.2))
    assert layout.wall_at(step, 7.0) == pytest.approx(5.802, abs=5e-4)


def test_a_neck_too_thin_for_its_rod():
    layout = laid_out("redpoll", "neck.thickness={fret_1 = 18.0, fret_12 = 20.0}")
    wall = next(w.wall for w in layout.walls if w.step == "run")
    assert wall == pytest.approx(2.439, abs=5e-4)
    assert layout.design.limits.wall.run - wall == pytest.approx(0.561, abs=5e-4)


LOWER_ENDS = ("rod.block.height={}", "rod.anchor.height={}")


@pytest.mark.parametrize(
    "change",
    [
        "neck.thickness={fret_1 = 18.57, fret_12 = 20.57}",
        "neck.thickness={fret_1 = 18.54, fret_12 = 20.0}",
        "rod.height=8.63",
    ],
)
def test_what_makes_that_neck_thick_enough(change):
    thin = "neck.thickness={fret_1 = 18.0, fret_12 = 20.0}"
    changes = [change] if "thickness" in change else [thin, change, *(c.format(8.63) for c in LOWER_ENDS)]
    layout = laid_out("redpoll", *changes)
    wall = next(w.wall for w in layout.walls if w.step == "run")
    assert 3.0 <= wall < 3.01


@pytest.mark.parametrize("name", PRESETS)
def test_walls_by_section_of_the_presets_by_brute_search(name):
    layout = laid_out(name)
    for found in layout.walls:
        step = layout.step(found.step)
        opening = Opening(step.y - step.width / 2, step.y + step.width / 2, step.depth)
        assert found.wall == pytest.approx(brute_wall(layout.back.section(found.x), opening), abs=1e-3)


def test_an_anchor_in_the_heel_has_the_heels_wall():
    layout = laid_out("redpoll", "rod.anchor={length = 12.0, width = 8.0, height = 9.2}")
    wall = next(w for w in layout.walls if w.step == "anchor")
    assert wall.wall == pytest.approx(19.0 - 9.3, abs=1e-9)
    assert wall.x >= layout.heel.x_joint


def test_bars_of_a_leaning_back_have_walls_of_their_own():
    lean = 'neck.back={family = "C", fullness = 2.1, lean = 2.5}'
    walls = {w.step: w.wall for w in laid_out("garganey", lean).walls}
    turned = {w.step: w.wall for w in laid_out("garganey", lean.replace("2.5", "-2.5")).walls}
    assert walls["bar-1"] > walls["bar-2"] + 0.1  # bar-1 is on the bass side, where the back is deeper
    assert (turned["bar-1"], turned["bar-2"]) == pytest.approx((walls["bar-2"], walls["bar-1"]), abs=1e-6)
    assert turned["run"] == pytest.approx(walls["run"], abs=1e-6)
