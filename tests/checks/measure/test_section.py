"""Section values against the closed forms of handbook shapes."""

from __future__ import annotations

import math

import cadquery as cq
import pytest
from measure_samples import block, half_cone, half_cylinder, pocket, wedge

from neckmodel.checks.measure.section import sections
from neckmodel.meshes import mesh_of


def only(solid, x, linear=0.005):
    (found,) = sections(mesh_of(solid, linear, 0.1), [x])
    return found


def test_rectangle():
    found = only(block(0, 100, 42, 16), 33.3)
    assert found.area == pytest.approx(42 * 16)
    assert (found.y, found.z) == pytest.approx((0, -8), abs=1e-9)
    assert found.second_moment == pytest.approx(42 * 16**3 / 12)
    assert (found.z_low, found.z_high) == pytest.approx((-16, 0))
    assert found.modulus_low == pytest.approx(42 * 16**2 / 6)


def test_half_circle():
    """Area pi R2/2, centroid 4R/(3 pi), I = R4 (pi/8 - 8/(9 pi)): Roark's Formulas, table of sections, from memory."""
    found = only(half_cylinder(21, 100), 50.0)
    assert found.area == pytest.approx(math.pi * 21**2 / 2, rel=3e-4)
    assert found.z == pytest.approx(-4 * 21 / (3 * math.pi), rel=3e-4)
    assert found.second_moment == pytest.approx(21**4 * (math.pi / 8 - 8 / (9 * math.pi)), rel=1e-3)


def test_triangle():
    """b h3 / 36 about the centroid, a third of the height from the base."""
    found = only(wedge(26, 24, 100), 40.0)
    assert found.area == pytest.approx(26 * 24)
    assert found.z == pytest.approx(-8)
    assert found.second_moment == pytest.approx(52 * 24**3 / 36)
    assert found.modulus_low == pytest.approx(52 * 24**2 / 24)
    assert found.modulus_high == pytest.approx(52 * 24**2 / 12)


def test_rectangle_less_a_channel_and_one_with_a_covered_hole():
    open_ = block(0, 100, 42, 16).cut(pocket(10, 90, 6, 10)).Solids()[0]
    found = only(open_, 50.0)
    area, first = 42 * 16 - 60, -42 * 16 * 8 + 60 * 5
    z = first / area
    second = 42 * 16**3 / 3 - 6 * 10**3 / 3 - area * z * z
    assert (found.area, found.z, found.second_moment) == pytest.approx((area, z, second))
    bar = cq.Solid.makeBox(80, 6, 4, cq.Vector(10, 5, -12))
    holed = only(block(0, 100, 42, 16).cut(bar).Solids()[0], 50.0)
    assert holed.area == pytest.approx(42 * 16 - 24)
    assert holed.y == pytest.approx(-24 * 8 / (42 * 16 - 24))
    assert holed.z == pytest.approx((-42 * 16 * 8 + 24 * 10) / (42 * 16 - 24))


def test_stations_along_a_taper_and_beyond_the_end():
    mesh = mesh_of(half_cone(20, 0.08, 200), 0.005, 0.1)
    near, far, beyond = sections(mesh, [10.0, 150.0, 200.5])
    assert beyond is None
    assert far.area / near.area == pytest.approx(((20 + 12) / (20 + 0.8)) ** 2, rel=1e-3)
    assert (near.x, far.x) == (10.0, 150.0)
    assert far.z_low == pytest.approx(-32, abs=0.01)
