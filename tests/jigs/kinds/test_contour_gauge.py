"""Contour gauges: the plate's area by the superellipse's closed form, and where the gauges stand."""

from __future__ import annotations

import math

import pytest
from jig_runs import drafted, inspected
from neck_runs import laid_out

from neckmodel.jigs.kinds.gauge import profile
from neckmodel.layout.neck.section import Section
from neckmodel.solids.kernel.gate import volume


@pytest.mark.parametrize("exponent", [1.35, 2.0, 3.5])
def test_the_polygon_encloses_the_superellipse(exponent: float) -> None:
    """Area of half a superellipse, `2ab G(1+1/p)**2/G(1+2/p)`, against the polygon's by its corners."""
    section = Section(21.5, 15.0, exponent, 2.0)
    points = profile(section)
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, [*points[1:], points[0]], strict=True)) / 2
    exact = 2 * 21.5 * 15.0 * math.gamma(1 + 1 / exponent) ** 2 / math.gamma(1 + 2 / exponent)
    assert area == pytest.approx(exact, rel=4e-4)
    assert area < exact


def test_a_gauge_is_a_plate_less_the_section() -> None:
    """garganey, fret 12: 3 thick, 12 beside the neck, a ring of 4.5, a notch of 1 x 1 with a right angle."""
    layout = laid_out("garganey")
    section = layout.back.section(layout.frets.x(12))
    (gauge,) = [piece for piece in drafted("garganey", "contour-gauge").pieces if piece.name == "fret-12"]
    under = -gauge.solid.BoundingBox().zmin - section.depth
    width, height = 2 * (section.half_width + 12.0), section.depth + under
    plate = width * height - section.area() - math.pi * 2.25**2 - 1.0
    assert volume(gauge.solid) == pytest.approx(3.0 * plate, rel=2e-4)
    assert gauge.label.words[:2] == ("fret 12", "T23.00")


def test_the_edge_is_held_against_the_law_at_every_gauge() -> None:
    found = [f for f in inspected("pipit", "contour-gauge").findings if f.check == "jig/contour"]
    assert [f.at.fret for f in found if f.at] == [1, 3, 5, 7, 9]
    assert all(f.measured is not None and f.measured < 0.006 for f in found)


def test_no_gauge_where_the_heel_swells() -> None:
    layout = laid_out("pipit")
    names = [piece.name for piece in drafted("pipit", "contour-gauge").pieces]
    assert names == ["fret-1", "fret-3", "fret-5", "fret-7", "fret-9"]
    assert layout.frets.x(12) > layout.heel.x_swell
