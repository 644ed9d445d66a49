"""Wood beside round holes: closed forms for pockets, other holes and the skin."""

from __future__ import annotations

import math

import pytest
from measure_samples import TOP, block, half_cylinder, pocket, round_ended

from neckmodel.checks.measure.cutter import TOOL_LINEAR, in_wood, tool_mesh
from neckmodel.checks.measure.holes import RoundHole, hole_to_skin, hole_to_tool
from neckmodel.checks.measure.neck import prepare_neck

SCREW = RoundHole((430.0, -18.0, -19.0), (430.0, -18.0, -1.0), 2.25)


@pytest.fixture(scope="module")
def heel():
    return prepare_neck(block(380, 470, 57, 19), TOP)


def test_screw_against_a_pockets_corner(heel):
    found = hole_to_tool(SCREW, in_wood(heel, tool_mesh(pocket(400, 424, 9, 12))))
    true = math.hypot(430 - 424, 18 - 4.5) - 2.25
    assert found.lo == pytest.approx(true - TOOL_LINEAR, abs=1e-9)
    assert found.hi == pytest.approx(true + TOOL_LINEAR, abs=1e-9)
    assert found.at_other[:2] == pytest.approx((424, -4.5), abs=1e-9)


def test_screw_against_a_pockets_side_and_below_its_floor(heel):
    beside = hole_to_tool(SCREW, in_wood(heel, tool_mesh(pocket(400, 450, 9, 12))))
    assert beside.lo == pytest.approx(18 - 4.5 - 2.25 - TOOL_LINEAR, abs=1e-9)
    # a short screw ends 3 below the floor's level: the nearest point is on the floor's edge, aslant
    short = RoundHole((430.0, -18.0, -19.0), (430.0, -18.0, -15.0), 2.25)
    under = hole_to_tool(short, in_wood(heel, tool_mesh(pocket(400, 450, 9, 12))))
    assert under.lo == pytest.approx(math.hypot(13.5, 3) - 2.25 - TOOL_LINEAR, abs=1e-9)


def test_screw_against_a_round_end(heel):
    found = hole_to_tool(SCREW, in_wood(heel, tool_mesh(round_ended(390, 428, 6, 12))))
    true = math.hypot(430 - 425, 18) - 3 - 2.25
    assert found.lo <= true <= found.hi


def test_screw_through_the_channel_has_no_wood(heel):
    struck = RoundHole((420.0, 1.0, -19.0), (420.0, 1.0, -1.0), 2.25)
    found = hole_to_tool(struck, in_wood(heel, tool_mesh(pocket(400, 450, 9, 12))))
    assert found.hi == pytest.approx(-2.25, abs=TOOL_LINEAR)
    assert found.at_other == pytest.approx((420, 1, -12), abs=1e-9)
    assert hole_to_tool(struck, in_wood(heel, tool_mesh(pocket(900, 950, 9, 12)))) is None


def test_screw_to_the_heels_side_not_to_the_face_it_enters(heel):
    found = hole_to_skin(SCREW, heel)
    true = 57 / 2 - 18 - 2.25
    assert found.lo <= true <= found.hi
    assert found.hi - found.lo < 0.05
    assert found.at_other[1] == pytest.approx(-28.5, abs=1e-9)


def test_dowel_along_a_round_back():
    neck = prepare_neck(half_cylinder(22, 100), TOP)
    dowel = RoundHole((0.0, 6.0, -8.0), (60.0, 6.0, -8.0), 4.0)
    found = hole_to_skin(dowel, neck)
    true = 22 - math.hypot(6, 8) - 4
    assert found.lo <= true <= found.hi
    assert found.hi - found.lo < 0.05


def test_blind_hole_that_comes_out_has_no_wood(heel):
    out = RoundHole((470.0, 0.0, -9.0), (450.0, -40.0, -9.0), 2.0)
    assert hole_to_skin(out, heel).hi == pytest.approx(-2.0)
    through = RoundHole((470.0, 0.0, -9.0), (455.75, -28.5, -9.0), 2.0, through=True)
    left = hole_to_skin(through, heel)
    # what is left is the bottom, 10 below the axis
    assert left.lo <= 10 - 2 <= left.hi
