"""Closed contours: areas in closed form, arcs that touch, boxes."""

from __future__ import annotations

import math

import pytest

from neckmodel.layout.channel.step import Step
from neckmodel.sheets.marks.arcs import arc_of, rectangle, rounded_path, stretch_box
from neckmodel.sheets.marks.layers import BLANK
from neckmodel.sheets.views.outlines import area, step_contour, template_opening


def test_a_polygon_and_its_rounded_corners() -> None:
    """A triangle 3-4-5 is 6 mm2; a corner of angle t rounded by r loses r2 (1/tan(t/2) - (pi - t)/2)."""
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0))
    assert area(rounded_path(BLANK, [(corner, 0.0) for corner in corners])) == pytest.approx(6.0)
    radius, angles = 0.4, (math.atan2(3, 4), math.pi / 2, math.atan2(4, 3))
    lost = sum(radius**2 * (1 / math.tan(t / 2) - (math.pi - t) / 2) for t in angles)
    for order in (corners, corners[::-1]):  # either way round
        assert area(rounded_path(BLANK, [(corner, radius) for corner in order])) == pytest.approx(6.0 - lost)


def test_a_full_round_is_a_half_circle() -> None:
    step = Step("run", 10.0, 110.0, 6.0, 9.0, 9.0, y=2.0, corner_end=3.0, end_end="round")
    path = step_contour(BLANK, step)
    assert area(path) == pytest.approx(97.0 * 6.0 + math.pi * 9.0 / 2)
    arcs = [arc_of(*stretch) for stretch in path.stretches() if stretch[2]]
    assert [(centre, radius) for centre, radius, _, _ in arcs] == [
        (pytest.approx((107.0, 2.0)), pytest.approx(3.0))
    ] * 2
    boxes = [stretch_box(*stretch) for stretch in path.stretches()]
    assert max(box[2] for box in boxes) == pytest.approx(110.0)


def test_a_template_leads_the_cutter_round_the_step() -> None:
    """A 16 mm bush with a 6 mm cutter stands off 5 mm: the opening is 10 mm longer and wider, and wide enough for the
    bush; its corners are the bush's own."""
    step = Step("run", 10.0, 110.0, 6.1, 9.0, 9.0)
    path = template_opening(BLANK, step, 6.0, 16.0)
    assert area(path) == pytest.approx(110.0 * 16.1 - (4 - math.pi) * 8.0**2)
    assert min(x for x, _ in path.points) == pytest.approx(5.0)
    assert max(y for _, y in path.points) == pytest.approx(8.05)


def test_the_box_of_an_arc() -> None:
    """A quarter circle of radius 2 from (2, 0) to (0, 2) round the origin; three quarters reach round the other way."""
    assert stretch_box((2.0, 0.0), (0.0, 2.0), math.tan(math.pi / 8)) == pytest.approx((0, 0, 2, 2))
    assert stretch_box((2.0, 0.0), (0.0, 2.0), -math.tan(3 * math.pi / 8)) == pytest.approx((-2, -2, 2, 2))
    assert area(rectangle(BLANK, (-1.0, 3.0), (2.0, 7.0))) == 20.0
