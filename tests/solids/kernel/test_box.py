"""The exact box of a solid against closed forms, where curved faces end between their edges and where they do not."""

from __future__ import annotations

import math

import cadquery as cq
import pytest
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.Geom import Geom_BezierSurface
from OCP.gp import gp_Pnt, gp_Vec
from OCP.TColgp import TColgp_Array2OfPnt

from neckmodel.solids.kernel.box import box

EXACT = 1e-6


def test_a_round_bar_across_reaches_its_radius() -> None:
    """Its only edges are two circles and a seam, all of them at x = 0, 40 or on one side."""
    bar = cq.Solid.makeCylinder(7.0, 40.0, cq.Vector(0, 1, 2), cq.Vector(1, 0, 0))
    assert box(bar) == pytest.approx((0, -6, -5, 40, 8, 9), abs=EXACT)


def test_a_ball_and_a_ring() -> None:
    ball = cq.Solid.makeSphere(5.0, cq.Vector(1, 2, 3), angleDegrees1=-90)
    assert box(ball) == pytest.approx((-4, -3, -2, 6, 7, 8), abs=EXACT)
    turned = cq.Solid.makeTorus(20.0, 4.0).rotate(cq.Vector(0, 0, 0), cq.Vector(1, 0, 0), 30)
    # the highest point of a ring that leans by t: R sin t + r
    high = 20 * math.sin(math.radians(30)) + 4
    across = 20 * math.cos(math.radians(30)) + 4
    assert box(turned) == pytest.approx((-24, -across, -high, 24, across, high), abs=EXACT)


def test_what_was_cut_off_a_curved_face_does_not_count() -> None:
    """A quarter of a round bar, then less than that: its surface goes on, the solid does not."""
    bar = cq.Solid.makeCylinder(10.0, 30.0, cq.Vector(0, 0, 0), cq.Vector(1, 0, 0))
    quarter = bar.intersect(cq.Solid.makeBox(30, 10, 10, cq.Vector(0, 0, 0))).Solids()[0]
    assert box(quarter) == pytest.approx((0, 0, 0, 30, 10, 10), abs=EXACT)
    slice_ = bar.intersect(cq.Solid.makeBox(30, 4, 10, cq.Vector(0, 3, 0))).Solids()[0]
    assert box(slice_) == pytest.approx((0, 3, 0, 30, 7, math.sqrt(91)), abs=EXACT)


def _hill(cut_at: float | None = None) -> cq.Solid:
    """A block 20 x 20 under the surface z = 40 (1 - x/20) (x/20) (y/20), which is highest, 10, at x = 10, y = 20."""
    poles = TColgp_Array2OfPnt(1, 3, 1, 2)
    for i, (x, z) in enumerate([(0.0, 0.0), (10.0, 20.0), (20.0, 0.0)]):
        poles.SetValue(i + 1, 1, gp_Pnt(x, 0.0, 0.0))
        poles.SetValue(i + 1, 2, gp_Pnt(x, 20.0, z))
    face = BRepBuilderAPI_MakeFace(Geom_BezierSurface(poles), 1e-7).Face()
    hill = cq.Solid(BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, -5)).Shape())
    if cut_at is None:
        return hill
    return hill.intersect(cq.Solid.makeBox(20, cut_at, 40, cq.Vector(0, 0, -20))).Solids()[0]


def test_a_free_surface_by_its_formula() -> None:
    assert box(_hill()) == pytest.approx((0, 0, -5, 20, 20, 10), abs=EXACT)


def test_a_free_surface_that_was_cut_ends_where_it_was_cut() -> None:
    """At y = 8 the hill is only 4 high; the kernel's own box still holds all of the surface."""
    assert box(_hill(8.0)) == pytest.approx((0, 0, -5, 20, 8, 4), abs=EXACT)


def test_a_top_between_the_places_of_the_grid() -> None:
    """A dome whose top lies at a place that no grid of equal steps meets, without an edge near it."""
    top = (math.pi, math.e)
    dome = cq.Solid.makeSphere(9.0, cq.Vector(*top, 0)).rotate(
        cq.Vector(*top, 0), cq.Vector(top[0] + 1, top[1] + 0.37, 0.2), 41
    )
    dome = dome.intersect(cq.Solid.makeBox(6, 6, 20, cq.Vector(top[0] - 2.6, top[1] - 3.3, 0))).Solids()[0]
    assert box(dome)[5] == pytest.approx(9.0, abs=EXACT)
    assert box(dome)[2] == pytest.approx(0.0, abs=EXACT)


def test_a_top_lower_than_the_grid_can_see_over_the_edge() -> None:
    """z = 10 - (x - 0.5)^2/40 - (y - 10)^2/40 over 20 x 20: the edge at x = 0 reaches 9.99375, the next place of the
    grid, 20/12 farther on, lies lower, and between the two the hill reaches 10."""
    across, along = (-0.00625, 0.24375, -9.50625), (-2.5, 2.5, -2.5)  # Bezier values of both squares
    poles = TColgp_Array2OfPnt(1, 3, 1, 3)
    for i in range(3):
        for j in range(3):
            poles.SetValue(i + 1, j + 1, gp_Pnt(10.0 * i, 10.0 * j, 10.0 + across[i] + along[j]))
    face = BRepBuilderAPI_MakeFace(Geom_BezierSurface(poles), 1e-7).Face()
    hill = cq.Solid(BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, -20)).Shape())
    assert box(hill)[5] == pytest.approx(10.0, abs=EXACT)
