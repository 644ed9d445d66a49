"""Carved necks of every kind: volumes by integration, sections against the law, transitions without bumps."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import cadquery as cq
import numpy as np
import pytest
from carving_cases import NECKS, Neck, smoothstep
from scipy.interpolate import BSpline
from section_curves import deviation_from_law, section_points

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import pocket
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.kernel.shapes import upright
from neckmodel.solids.neck.carving import carve, waste
from neckmodel.solids.neck.skin import DEGREE, Array, BackLaw, SlabEnd, nets
from neckmodel.solids.neck.superellipse import POLES

NAMED = {neck.name: neck for neck in NECKS}
each_neck = pytest.mark.parametrize("name", NAMED)
REDPOLL = NAMED["redpoll"]


@cache
def waste_of(name: str) -> cq.Solid:
    return waste(NAMED[name].law, NAMED[name].room)


@cache
def carved(name: str) -> cq.Solid:
    return carve(NAMED[name].stock(), waste_of(name))


@each_neck
def test_waste_has_the_volume_of_its_sections(name: str) -> None:
    # the integral's own error (trapezoid over 1200 steps a quarter) is below 1e-7 of the waste
    assert volume(waste_of(name)) == pytest.approx(NAMED[name].waste_volume(), rel=1e-6)


@each_neck
def test_neck_has_the_volume_of_its_sections(name: str) -> None:
    assert volume(carved(name)) == pytest.approx(NAMED[name].volume(), rel=2e-6)


@each_neck
def test_sections_follow_the_law_within_a_hundredth(name: str) -> None:
    assert deviation_from_law(carved(name), NAMED[name].law, count=3) <= 0.01


@each_neck
def test_only_the_skin_is_a_spline(name: str) -> None:
    kinds = [face.geomType() for face in carved(name).Faces()]
    stretches = 1 + len(NAMED[name].law.corners)
    assert kinds.count("BSPLINE") == 4 * stretches  # two strips a side
    assert kinds.count("CYLINDER") == 4  # the rounded corners of head and heel
    assert set(kinds) == {"BSPLINE", "CYLINDER", "PLANE"}


@each_neck
def test_both_sides_are_alike_where_the_design_is(name: str) -> None:
    neck, solid = NAMED[name], carved(name)
    points = section_points(solid, neck.fret(7))
    if neck.lean:
        assert points[points[:, 1].argmin(), 0] == pytest.approx(-neck.lean, abs=0.3)  # the bass side is y < 0
        assert abs(solid.Center().y) > 1e-3
    else:
        assert abs(solid.Center().y) < 1e-5
        assert points[:, 0].min() == pytest.approx(-points[:, 0].max(), abs=1e-4)


@each_neck
def test_transitions_have_no_bumps(name: str) -> None:
    neck = NAMED[name]
    for shaft, end in ((neck.x_joint - neck.heel_swell, neck.x_joint), (0.0, neck.x_from)):
        x = np.linspace(shaft, end, 201)
        deepest, widest = rows(neck.law, x)
        # the shaft's own taper runs on into the transition: nothing may run back faster than that
        taper = abs(neck.depth_12 - neck.depth_nut) / (neck.scale / 2) * abs(x[1] - x[0])
        assert np.diff(deepest).min() > -1.001 * taper
        assert changes_of_sign(np.diff(deepest, 2)) <= 1
        way = np.sign(widest[-1] - widest[0])
        taper = (neck.half_end - neck.half_nut) / neck.x_end * abs(x[1] - x[0])
        assert (way * np.diff(widest)).min() > -1.001 * taper
        if not (neck.narrow and end < 0):  # where the plan has real corners
            assert changes_of_sign(np.diff(widest, 2)) <= 2  # straight, cove, round, straight


def rows(law: BackLaw, x: Array) -> tuple[Array, Array]:
    """(n,) depths of the deepest line and half widths of the edge, of the spline that becomes the skin."""
    poles = np.empty((len(x), 2, POLES, 2))
    for net in nets(law):
        inside = (net.knots[0] <= x) & (x <= net.knots[-1])
        poles[inside] = BSpline(net.knots, net.poles, DEGREE)(x[inside])
    return -poles[:, 1, -1, 1], poles[:, 1, 0, 0]


def changes_of_sign(values: Array) -> int:
    signs = np.sign(values[np.abs(values) > 1e-7])
    return int((np.diff(signs) != 0).sum())


def test_the_solid_swells_steadily_into_the_heel() -> None:
    found = [section_points(carved("redpoll"), float(x)) for x in np.linspace(354, 388, 18)]
    depths = [-points[:, 1].min() for points in found]
    assert np.diff(depths).min() > -1e-4
    assert depths[-1] == pytest.approx(19, abs=1e-6)
    # at a third of the depth the side steps out from the C's to the heel's
    widths = [np.ptp(points[np.abs(points[:, 1] + 6) < 0.3][:, 0]) for points in found]
    assert np.diff(widths).min() > -0.1


def test_the_heel_and_the_head_keep_the_flats_of_the_stock() -> None:
    box = carved("redpoll").BoundingBox(0.01)
    assert box.zmin == pytest.approx(-24, abs=1e-6)  # drop 10 and 14 thick
    assert box.xmin == pytest.approx(-176, abs=1e-6)
    assert box.xmax == pytest.approx(468.41, abs=1e-6)
    heel = [f for f in carved("redpoll").Faces() if f.geomType() == "PLANE" and abs(f.Center().z + 19) < 1e-6]
    assert len(heel) == 1


def test_a_channel_is_cut_in_the_same_call() -> None:
    run = upright(pocket(7.0, 300.0, 6.0), -9.3, 2.0)
    neck = carve(REDPOLL.stock(), waste_of("redpoll"), [run])
    assert volume(carved("redpoll")) - volume(neck) == pytest.approx(293 * 6 * 9.3, rel=1e-6)


def test_a_neck_that_grew_or_shrank_is_refused() -> None:
    with pytest.raises(KernelError, match="carving: the volume is not what it should be"):
        carve(REDPOLL.stock(), waste_of("redpoll"), volume=REDPOLL.volume() * 1.001)


def test_a_volute_is_added_to_the_depth() -> None:
    def bump(x: np.ndarray) -> np.ndarray:
        return np.where(np.abs(x + 6) < 15, 3 * (1 - ((x + 6) / 15) ** 2) ** 2, 0.0)

    law = REDPOLL.law
    with_volute = replace(law, swelling=bump, breaks=tuple(sorted({*law.breaks, -21.0, 9.0})))
    at = np.array([-6.0])
    assert law.sections(at)[0, :, -1, 1] - with_volute.sections(at)[0, :, -1, 1] == pytest.approx([3, 3])
    neck = carve(REDPOLL.stock(), waste(with_volute, REDPOLL.room))
    assert volume(neck) > volume(carved("redpoll")) + 50


class TestRefused:
    def change(self, **changes: object) -> BackLaw:
        return replace(REDPOLL.law, **changes)  # type: ignore[arg-type]

    def test_breaks_out_of_order(self) -> None:
        with pytest.raises(KernelError, match="the breaks do not ascend"):
            self.change(breaks=(-30.0, 0.0, -6.0, 386.0))

    def test_a_corner_that_is_no_break(self) -> None:
        with pytest.raises(KernelError, match="a corner is not among the inner breaks"):
            self.change(corners=(-7.0,))

    def test_an_end_that_is_no_box(self) -> None:
        with pytest.raises(KernelError, match="no box where the heel begins"):
            self.change(heel_blend=lambda x: 0.5 * smoothstep((x - 350) / 30))

    def test_an_outline_that_misses_the_skin(self) -> None:
        with pytest.raises(KernelError, match="the heel's outline does not meet the skin"):
            self.change(half_width=lambda x: REDPOLL.half_width(x) + 0.01 * (x > 0))

    def test_a_box_that_ends_in_the_slab(self) -> None:
        head = REDPOLL.law.head
        with pytest.raises(KernelError, match="the head's depths do not ascend"):
            self.change(head=SlabEnd(head.straight, head.depth, head.depth, head.path))

    def test_a_kink_between_two_breaks(self) -> None:
        law = self.change(depth=lambda x: 14.5 + 0.02 * np.abs(x - 100.3))
        with pytest.raises(KernelError, match="not smooth between two breaks"):
            nets(law)

    def test_a_room_too_small(self) -> None:
        with pytest.raises(KernelError, match="the head reaches out of the room"):
            waste(REDPOLL.law, replace(REDPOLL.room, x_from=-170.0))


def test_rows_are_added_only_where_the_law_is_no_polynomial() -> None:
    plain, blended = (nets(neck.law) for neck in (Neck("plain"), Neck("blended", exponent=(2.6, 2.0))))
    assert len(plain[0].x) == 17  # four zones of degree 4, each two knots further for the break's
    assert len(plain[0].x) < len(blended[0].x) <= 40
