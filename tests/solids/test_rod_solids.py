"""Solids of bent rods, washers, strips, wheels, tilted keys and sloping channels against closed forms and integrals."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from rod_samples import acoustic, seven
from scipy import integrate

from neckmodel.geometry.curve import Curve
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.rod.compression import CoverStrip, Washer
from neckmodel.solids.channel import tool
from neckmodel.solids.hardware.compression import bent_bar, strip_solid, washer_solid
from neckmodel.solids.hardware.key import key_solid
from neckmodel.solids.hardware.rod import rod_solid
from neckmodel.solids.kernel.gate import common, is_sound, volume

BEND = Curve(10.0, 310.0, 5.0, 7.0, 9.0)


def slice_at(solid: cq.Solid, x: float) -> tuple[float, float, float]:
    """(middle depth, half width, half height) of a solid's section at x, by its box."""
    thin = cq.Solid.makeBox(2e-3, 200, 200, cq.Vector(x - 1e-3, -100, -100))
    box = common(solid, [thin], "slice").BoundingBox()
    return -(box.zmax + box.zmin) / 2, (box.ymax - box.ymin) / 2, (box.zmax - box.zmin) / 2


def bent() -> Layout:
    return lay_out(acoustic())


def test_bent_bar_by_pappus():
    """Area of the circle times the length of the axis, the ends square to x."""
    solid = bent_bar(BEND, 5.0)
    length = integrate.quad(lambda x: math.hypot(1.0, BEND.slope(x)), 10.0, 310.0)[0]
    assert volume(solid) == pytest.approx(math.pi / 4 * 25.0 * length, rel=1e-5)
    box = solid.BoundingBox()
    assert (box.xmin, box.xmax) == pytest.approx((10.0, 310.0), abs=1e-6)
    assert is_sound(solid)


@pytest.mark.parametrize("x", [12.0, 90.0, 160.0, 300.0])
def test_bent_bar_lies_on_its_axis(x):
    middle, half, high = slice_at(bent_bar(BEND, 5.0), x)
    assert middle == pytest.approx(BEND.at(x), abs=2e-3)
    assert half == pytest.approx(2.5, abs=1e-4)
    assert high == pytest.approx(2.5 * math.hypot(1.0, BEND.slope(x)), abs=2e-3)  # a sloping bar is that much higher


def test_curved_channel_tool():
    layout = bent()
    run = layout.step("run")
    solid = tool(layout, run).solid
    under = integrate.quad(run.depth_at, run.x_start, run.x_end)[0]
    assert volume(solid) == pytest.approx(5.2 * (under + 2.0 * (run.x_end - run.x_start)), rel=1e-9)
    for x in (20.0, 100.0, 184.0, 350.0):
        face = cq.Vertex.makeVertex(x, 0.0, -run.depth_at(x))
        assert solid.distance(face) == pytest.approx(0.0, abs=1e-6)
        assert not solid.isInside(cq.Vector(x, 0.0, -run.depth_at(x) - 1e-3))
        assert solid.isInside(cq.Vector(x, 2.59, -run.depth_at(x) + 1e-3))


def test_curved_channel_with_the_cutters_round_end():
    layout = lay_out(acoustic('channel.ends="round"', "rod.anchor.length=0"))
    run = layout.step("run")
    assert run.corner_end == 2.5
    solid = tool(layout, run).solid
    left = run.x_end - run.corner_end
    by_strips = (
        integrate.quad(run.depth_at, run.x_start, left)[0] * run.width
        + integrate.quad(
            lambda x: (run.depth_at(x)) * (run.width - 2 * (2.5 - math.sqrt(2.5**2 - (x - left) ** 2))), left, run.x_end
        )[0]
    )
    above = 2.0 * (run.width * (run.x_end - run.x_start) - 2 * 2.5**2 * (1 - math.pi / 4))
    assert volume(solid) == pytest.approx(by_strips + above, rel=1e-6)


def test_sloping_slot_tool_runs_out_of_the_head():
    layout = bent()
    slot = layout.step("access-slot")
    solid = tool(layout, slot).solid
    box = solid.BoundingBox()
    assert box.xmin == pytest.approx(slot.x_start - 2.0, abs=1e-6)
    assert box.zmin == pytest.approx(-slot.depth_end, abs=1e-6)
    x0, over = slot.x_start - 2.0, 2.0
    long = slot.x_end - x0
    mean = (slot.depth_at(x0) + slot.depth_end) / 2 + over
    assert volume(solid) == pytest.approx(long * mean * slot.width, rel=1e-9)


def test_rod_with_a_tilted_adjuster_and_an_anchor():
    """Adjuster `A l/cos(t)` less its socket, bar by Pappus from 16 to 352, anchor 12 x 8 x 8."""
    layout = bent()
    rod = layout.rod
    solid = rod_solid(rod, layout.design.channel.deeper_by)
    length = integrate.quad(lambda x: math.hypot(1.0, rod.curve.slope(x)), 16.0, 352.0)[0]
    adjuster = math.pi / 4 * 64.0 * 12.0 / math.cos(math.radians(rod.tilt)) - math.sqrt(3) / 2 * 5.02**2 * 6.0
    assert volume(solid) == pytest.approx(adjuster + math.pi / 4 * 25.0 * length + 12.0 * 64.0, rel=2e-5)
    assert (solid.BoundingBox().xmin, solid.BoundingBox().xmax) == pytest.approx((4.0, 364.0), abs=1e-6)
    assert slice_at(solid, 10.0)[0] == pytest.approx((rod.axis_at(4.0) + rod.axis_at(16.0)) / 2, abs=1e-3)
    assert slice_at(solid, 360.0)[0] == pytest.approx(rod.axis_at(358.0), abs=1e-6)


def test_washer():
    solid = washer_solid(Washer(16.0, 17.5, 6.4, 10.0, 5.5))
    assert volume(solid) == pytest.approx(math.pi / 4 * (100.0 - 5.5**2) * 1.5, rel=1e-9)
    box = solid.BoundingBox()
    assert (box.xmin, box.xmax, box.zmin, box.zmax) == pytest.approx((16.0, 17.5, -11.4, -1.4), abs=1e-5)


def strip(thickness: float) -> CoverStrip:
    return CoverStrip(20.0, 300.0, 5.2, Curve(20.0, 300.0, 3.0, 4.0, 6.5), thickness, "maple")


@pytest.mark.parametrize("thickness", [7.0, 5.0, 2.5])
def test_cover_strip_reaches_as_deep_as_its_stock(thickness):
    made = strip(thickness)
    area = integrate.quad(lambda x: min(made.underside.at(x), thickness), 20.0, 300.0, limit=200)[0]
    solid = strip_solid(made)
    assert volume(solid) == pytest.approx(5.2 * area, rel=1e-6)
    assert solid.BoundingBox().zmax == pytest.approx(0.0, abs=1e-6)
    assert solid.BoundingBox().zmin == pytest.approx(-min(made.underside.extremes()[1], thickness), abs=1e-4)


def test_wheel_collar_and_the_hole_a_bar_stands_in():
    layout = lay_out(seven())
    solid = rod_solid(layout.rod, 0.1)
    boxes = 485.0 * 6.0 * 9.2
    collar = math.pi / 4 * 6.0**2 * 2.0
    wheel = math.pi / 4 * 14.0**2 * 9.0
    radius = 4.02 / 2
    # the hole's volume under the wheel's round side: integral over its circle of the height between bottom and rim
    hole = integrate.dblquad(
        lambda y, _: math.sqrt(49.0 - y * y) - 2.0,
        -radius,
        radius,
        lambda x: -math.sqrt(radius**2 - x * x),
        lambda x: math.sqrt(radius**2 - x * x),
    )[0]
    assert volume(solid) == pytest.approx(boxes + collar + wheel - hole, rel=1e-6)
    box = solid.BoundingBox()
    assert (box.xmin, box.xmax, box.zmax) == pytest.approx((24.5, 520.5, 2.3), abs=1e-5)


def test_a_bar_stands_in_its_hole_with_play():
    layout = lay_out(seven())
    bar = key_solid(layout.key, 0.0)
    assert volume(bar) == pytest.approx(math.pi / 4 * 3.9**2 * 90.0, rel=1e-9)
    assert bar.distance(rod_solid(layout.rod, 0.1)) == pytest.approx((4.02 - 3.9) / 2, abs=1e-6)
    assert bar.BoundingBox().zmax == pytest.approx(-4.7 + 7.0 - 3.9 + 90.0, abs=1e-6)


@pytest.mark.parametrize(
    "more", [(), ("adjusting_key.engaged_depth=4",), ('adjusting_key.kind="straight"',)], ids=["ball", "deeper", "hex"]
)
def test_a_tilted_key_clears_its_socket(more):
    """The key in the tilted socket touches nothing: a ball end by its waist, a hexagon because it is tilted with it."""
    layout = lay_out(acoustic(*more))
    key, rod = key_solid(layout.key, 0.0), rod_solid(layout.rod, layout.design.channel.deeper_by)
    assert is_sound(key)
    assert 0.0 < key.distance(rod) <= 0.011


def test_a_ball_end_key_points_where_its_tilt_says():
    layout = bent()
    solid = key_solid(layout.key, 0.0)
    box = solid.BoundingBox()
    turn = math.radians(15.0)
    far = layout.key.x_tip - 150.0 * math.cos(turn)
    high = -layout.key.axis + 150.0 * math.sin(turn)
    across = 5.67 / 2
    assert box.xmin == pytest.approx(far - across * math.sin(turn), abs=0.2)
    assert box.zmax == pytest.approx(high + across * math.cos(turn), abs=0.4)


def test_a_handle_at_the_heel_points_to_the_body():
    layout = lay_out(
        acoustic(
            "rod.length=300", "rod_place.from_nut=40", 'rod.adjuster_at="heel"', 'adjusting_key.kind="straight"',
            "adjusting_key.handle={diameter=12,length=60}",
        )
    )  # fmt: skip
    box = key_solid(layout.key, 0.0).BoundingBox()
    turn = math.radians(layout.rod.tilt)
    reach = layout.key.x_tip + 210.0 * math.cos(turn)
    assert layout.key.outward == 1
    assert box.xmax == pytest.approx(reach + 6.0 * math.sin(turn), abs=1e-3)
    assert box.xmin == pytest.approx(layout.key.x_tip, abs=0.3)


@pytest.mark.parametrize("sag", [0.2, 3.5, 12.0])
@pytest.mark.parametrize("length", [120.0, 360.0, 800.0])
def test_bars_of_all_bends_are_sound(length, sag):
    curve = Curve(4.0, 4.0 + length, 7.0, 6.0, 6.5 + min(sag, 0.14 * length / 4))
    solid = bent_bar(curve, 4.0)
    assert is_sound(solid)
    assert volume(solid) == pytest.approx(math.pi * 4.0 * curve.arc_length(), rel=1e-4)
    assert np.isfinite(solid.BoundingBox().zmin)
