"""Planes stay planes and cylinders stay cylinders; and what is not so is found."""

from __future__ import annotations

import math

import cadquery as cq
import pytest
from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert

from neckmodel.solids.parts import Part
from neckmodel.writers.step.cam import Floor, Upright, cam_facts

SLOT = 42.0 * 6.35 - (4 - math.pi) * 3.175**2  # mm2: a rectangle less its four corners
HOLE = math.pi * 2.25**2


def test_floors_radii_and_edges_of_the_blank(parts: tuple[Part, ...]) -> None:
    facts = cam_facts(parts[0].solid)
    assert (facts.solids, facts.shells, facts.valid, facts.closed) == (1, 1, True, True)
    assert facts.faces == {"CYLINDER": 3, "PLANE": 10}
    assert facts.hidden == ()
    top = 149.0 * 40.0 - SLOT - HOLE
    assert facts.floors == (
        Floor(-13.0, pytest.approx(HOLE, abs=1e-3)),
        Floor(-9.5, pytest.approx(SLOT, abs=1e-3)),
        Floor(0.0, pytest.approx(top, abs=1e-3)),
    )
    # one hole, and the two ends of the pocket
    assert facts.uprights == (Upright(2.25, True, -13.0, 0.0), Upright(3.175, True, -9.5, 0.0))
    assert facts.largest_cutter_radius == 2.25
    assert facts.shortest_edge == pytest.approx(9.5)  # the corners of the pocket's ends
    assert facts.short_edges == 0
    assert facts.smallest_face == pytest.approx(HOLE)


def test_a_post_is_not_a_pocket() -> None:
    facts = cam_facts(cq.Workplane().circle(5).extrude(7).val())
    assert facts.uprights == (Upright(5.0, False, 0.0, 7.0),)
    assert facts.largest_cutter_radius is None


def test_a_cylinder_that_lies_is_not_upright(parts: tuple[Part, ...]) -> None:
    assert cam_facts(parts[2].solid).uprights == ()
    assert cam_facts(parts[2].solid).faces == {"CYLINDER": 1, "PLANE": 2}


def test_a_loft_of_two_rectangles_hides_four_planes() -> None:
    below = cq.Wire.makePolygon([(0, 0, 0), (10, 0, 0), (10, 5, 0), (0, 5, 0)], close=True)
    above = cq.Wire.makePolygon([(1, 1, 8), (9, 1, 8), (9, 4, 8), (1, 4, 8)], close=True)
    facts = cam_facts(cq.Solid.makeLoft([below, above], True))
    assert facts.hidden == ("plane",) * 4


def test_a_converted_solid_hides_all_its_faces(parts: tuple[Part, ...]) -> None:
    converted = cq.Shape.cast(BRepBuilderAPI_NurbsConvert(parts[0].solid.wrapped, True).Shape())
    facts = cam_facts(converted)
    assert facts.faces == {"BSPLINE": 13}
    assert facts.hidden == ("cylinder",) * 3 + ("plane",) * 10
    assert facts.floors == ()


def test_the_carved_back_is_truly_free_form(parts: tuple[Part, ...]) -> None:
    facts = cam_facts(parts[1].solid)
    assert facts.faces["BSPLINE"] >= 1
    assert "cylinder" not in facts.hidden


def test_a_sliver_is_counted() -> None:
    facts = cam_facts(cq.Solid.makeBox(10, 5, 0.03))
    assert facts.short_edges == 4
    assert facts.shortest_edge == pytest.approx(0.03)
