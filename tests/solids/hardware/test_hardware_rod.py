"""The rod and the adjusting key in its socket: places, sizes and volumes against closed forms, no two sizes alike."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from hardware_cases import away, bounds

from neckmodel import presets
from neckmodel.design import read
from neckmodel.errors import KernelError
from neckmodel.layout.key.key import KeyPlace
from neckmodel.layout.rod.rod import RodPlace, Segment
from neckmodel.solids.hardware.hardware import key_solid, rod_solid
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.kernel.turned import hexagon


def rod(segments: tuple[Segment, ...] = (), size: float = 4.0, depth: float = 5.0) -> RodPlace:
    usual = (
        Segment("block", 18.5, 31.0, 6.4, 9.7),
        Segment("span", 31.0, 400.0, 5.6, 8.1, 0.3),
        Segment("anchor", 400.0, 414.2, 6.2, 10.3),
    )
    stated = read(presets.folder() / "redpoll.toml").rod  # its numbers are not looked at
    assert stated is not None
    return RodPlace(
        table=stated,
        x_adjuster=8.0, stated=True, length=406.2, lower=(), upper=(), x_span=0.0, fitting_from=0.0, fitting_to=0.0,
        axis=4.7, adjuster_diameter=7.1, adjuster_length=10.5, socket_size=size, socket_depth=depth,
        segments=segments or usual,
    )  # fmt: skip


def key(arm: float = math.inf, rise: float = 0.0, handle: tuple[float, float] = (0.0, 0.0)) -> KeyPlace:
    """In the socket of `rod()`, 4 mm deep. Width across corners of a 4 mm key: 4.53 (JIS B 4648:2008)."""
    return KeyPlace(
        kind="straight" if math.isinf(arm) else "L-key", size=4.0, corners=4.53, x_tip=12.0, axis=4.7, floor=7.0,
        engaged=4.0, length=163.0 if math.isinf(arm) else arm, arm=arm, rise=rise, swing=75.0, clearance=0.5,
        handle_diameter=handle[0], handle_length=handle[1],
    )  # fmt: skip


class TestHexagon:
    def test_sharp(self) -> None:
        corners = np.array(hexagon(5.0))
        assert np.hypot(*corners.T) == pytest.approx([5 / math.sqrt(3)] * 6, abs=1e-12)
        assert corners[:, 1].max() == pytest.approx(2.5, abs=1e-12)  # a flat up: no corner is higher
        assert np.sum(np.abs(corners[:, 1] - 2.5) < 1e-9) == 2

    def test_dulled(self) -> None:
        corners = np.array(hexagon(4.0, 4.53))
        assert len(corners) == 12
        assert np.hypot(*corners.T) == pytest.approx([2.265] * 12, abs=1e-12)
        assert corners[:, 1].max() == pytest.approx(2.0, abs=1e-12)

    def test_corners_beyond_the_sharp_ones_change_nothing(self) -> None:
        assert hexagon(4.0, 5.0) == hexagon(4.0)


class TestRod:
    def test_volume(self) -> None:
        boxes = 12.5 * 6.4 * 9.7 + 369.0 * 5.6 * 8.1 + 14.2 * 6.2 * 10.3
        socket = math.sqrt(3) / 2 * 4.02**2 * 5.0
        wanted = boxes + math.pi / 4 * 7.1**2 * 10.5 - socket
        assert volume(rod_solid(rod(), 0.15)) == pytest.approx(wanted, rel=1e-9)

    def test_place(self) -> None:
        solid = rod_solid(rod(), 0.15)
        assert bounds(solid) == pytest.approx((8.0, 414.2, -3.55, 3.55, -10.45, -0.15), abs=1e-5)

    @pytest.mark.parametrize(
        ("x", "half", "top", "bottom"),
        [(25.0, 3.2, -0.15, -9.85), (200.0, 2.8, -0.45, -8.55), (407.0, 3.1, -0.15, -10.45)],
    )
    def test_each_segment_lies_below_the_rods_top(self, x: float, half: float, top: float, bottom: float) -> None:
        solid = rod_solid(rod(), 0.15)
        middle = (top + bottom) / 2
        for y, z in ((half + 0.07, middle), (-half - 0.07, middle), (0.0, top + 0.07), (0.0, bottom - 0.07)):
            assert away(solid, (x, y, z)) == pytest.approx(0.07, abs=1e-6)

    def test_the_adjuster_lies_on_its_axis(self) -> None:
        solid = rod_solid(rod(), 0.15)
        for angle in (0.1, 1.7, 3.3, 5.0):
            y, z = 3.7 * math.sin(angle), -4.7 + 3.7 * math.cos(angle)
            assert away(solid, (15.0, y, z)) == pytest.approx(3.7 - 3.55, abs=1e-6)

    def test_the_socket_opens_outward_with_a_flat_up(self) -> None:
        solid = rod_solid(rod(), 0.15)
        assert away(solid, (9.0, 0.0, -4.7)) == pytest.approx(2.01, abs=1e-6)
        assert away(solid, (9.0, 0.0, -4.7 + 2.01)) == pytest.approx(0.0, abs=1e-6)
        assert away(solid, (9.0, 2.01, -4.7)) == pytest.approx(
            (4.02 / math.sqrt(3) - 2.01) * math.cos(math.pi / 6), abs=1e-6
        )
        assert away(solid, (12.9, 0.0, -4.7)) == pytest.approx(0.1, abs=1e-6)  # the bottom, 5 deep

    def test_an_even_rod_has_no_seams(self) -> None:
        even = tuple(
            Segment(name, *x, 6.0, 9.2)
            for name, x in (("block", (18.5, 30)), ("span", (30, 400)), ("anchor", (400, 414.2)))
        )
        # six faces of the box, its end split in two by the adjuster's disc; the adjuster's round, ring, socket
        assert len(rod_solid(rod(even), 0.1).Faces()) < 20
        assert len([f for f in rod_solid(rod(even), 0.1).Faces() if f.BoundingBox().xlen > 300]) == 4

    def test_a_socket_wider_than_the_adjuster_is_refused(self) -> None:
        with pytest.raises(KernelError, match="the socket is wider than the adjuster"):
            rod_solid(rod(size=6.2), 0.15)

    def test_a_socket_right_through_ends_at_the_block(self) -> None:
        solid = rod_solid(rod(depth=20.0), 0.15)
        assert away(solid, (18.4, 0.0, -4.7)) == pytest.approx(0.1, abs=1e-6)


class TestKey:
    # a dodecagon on a circle: 12 triangles, every second angle 2 acos(4/4.53)
    THETA = math.acos(4.0 / 4.53)
    SECTION = 3 * 2.265**2 * (math.sin(2 * THETA) + math.sin(math.pi / 3 - 2 * THETA))

    def test_straight(self) -> None:
        solid = key_solid(key(), 0.0)
        assert volume(solid) == pytest.approx(self.SECTION * 163.0, rel=1e-9)
        box = bounds(solid)
        assert box[:2] == pytest.approx((-151.0, 12.0), abs=1e-6)
        assert box[4:] == pytest.approx((-6.7, -2.7), abs=1e-6)
        assert box[3] == -box[2] == pytest.approx(2.265 * math.cos(math.pi / 6 - self.THETA), abs=1e-6)

    def test_a_handle_lies_beyond_the_length(self) -> None:
        solid = key_solid(key(handle=(11.0, 23.0)), 0.0)
        assert bounds(solid) == pytest.approx((-174.0, 12.0, -5.5, 5.5, -10.2, 0.8), abs=1e-5)
        assert volume(solid) == pytest.approx(self.SECTION * 163.0 + math.pi / 4 * 121 * 23, rel=1e-9)

    @pytest.mark.parametrize("bend_radius", [0.0, 2.5, 6.0])
    def test_both_arms_are_measured_to_the_outside_of_the_bend(self, bend_radius: float) -> None:
        solid = key_solid(key(arm=29.0, rise=41.0), bend_radius)
        box = bounds(solid)
        assert box[:2] == pytest.approx((12.0 - 29.0, 12.0), abs=1e-5)
        assert box[4:] == pytest.approx((-6.7, -6.7 + 41.0), abs=1e-5)

    @pytest.mark.parametrize("bend_radius", [0.0, 2.5, 6.0])
    def test_volume_by_pappus(self, bend_radius: float) -> None:
        """Area times the way of its middle: the arms less the bend's middle radius each, and a quarter turn."""
        turn = bend_radius + 2.0 if bend_radius else 0.0
        way = (29.0 - 2.0 - turn) + (41.0 - 2.0 - turn) + math.pi / 2 * turn
        assert volume(key_solid(key(arm=29.0, rise=41.0), bend_radius)) == pytest.approx(self.SECTION * way, rel=1e-7)

    def test_the_inside_of_the_bend_has_its_radius(self) -> None:
        centre = (12.0 - 29.0 + 4.0 + 6.0, 0.0, -4.7 + 2.0 + 6.0)
        solid = key_solid(key(arm=29.0, rise=41.0), 6.0)
        assert away(solid, centre) == pytest.approx(6.0, abs=1e-6)
        assert not solid.isInside(cq.Vector(12.0 - 29.0 + 0.1, 0.0, -6.6))  # the corner a mitre would fill
        assert key_solid(key(arm=29.0, rise=41.0), 0.0).isInside(cq.Vector(12.0 - 29.0 + 0.1, 0.0, -6.6))

    @pytest.mark.parametrize("arm", [math.inf, 29.0])
    def test_engaged_it_lies_in_the_socket_with_play(self, arm: float) -> None:
        """Flats 4.00 in 4.02: 0.01 on each side."""
        engaged = key_solid(key(arm=arm, rise=41.0), 4.0)
        assert engaged.distance(rod_solid(rod(), 0.15)) == pytest.approx(0.01, abs=1e-6)

    def test_a_bend_wider_than_an_arm_is_refused(self) -> None:
        with pytest.raises(KernelError, match="the bend leaves no straight arm"):
            key_solid(key(arm=9.0, rise=41.0), 6.0)
