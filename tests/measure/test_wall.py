"""Least walls against closed forms: both routes, on flat, round, tapered, hollow and broken skins."""

from __future__ import annotations

import math

import pytest
from measure_samples import (
    TOP,
    block,
    closed_cases,
    half_cylinder,
    hollowed,
    pocket,
)

from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.neck import NECK_EDGES, NECK_LINEAR, prepare_neck
from neckmodel.checks.measure.pairs import least_pair
from neckmodel.checks.measure.refine import FINE, SAME
from neckmodel.checks.measure.tool import TOOL_LINEAR, in_wood, tool_mesh
from neckmodel.checks.measure.wall import least_wall
from neckmodel.meshes import to_manifold

CASES = closed_cases()
# the skin is off by the finer bound on either side, its rim and the tool by theirs
WIDTH = 2 * (FINE + TOOL_LINEAR) + NECK_EDGES
ROUNDING = 1e-6


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("linear", [0.5, NECK_LINEAR, 0.05])
def test_closed_form_lies_in_a_narrow_bracket(name, linear):
    case = CASES[name]
    wall = least_wall(prepare_neck(case.carved, TOP, linear), tool_mesh(case.tool))
    assert wall.lo - ROUNDING <= case.wall <= wall.hi + ROUNDING
    assert wall.hi - wall.lo <= WIDTH
    assert not wall.through
    assert math.dist(wall.at_tool, wall.at_skin) == pytest.approx(case.wall, abs=WIDTH)


@pytest.mark.parametrize("name", CASES)
def test_exact_route_gives_the_closed_form(name):
    case = CASES[name]
    found = exact_wall(case.tool, case.carved, TOP)
    assert found.value == pytest.approx(case.wall, abs=1e-6)
    assert math.dist(found.at_tool, found.at_skin) == pytest.approx(found.value, abs=1e-9)


@pytest.mark.parametrize("name", CASES)
def test_gap_of_the_opened_neck_is_the_pair_search(name):
    """Two codes, two ideas of the skin, one mesh: they must agree to the meshes' rounding."""
    import manifold3d

    case = CASES[name]
    neck, tool = prepare_neck(case.carved, TOP), tool_mesh(case.tool)
    air = manifold3d.Manifold.cube((1400, 300, 300), True) - neck.opened
    gap = (to_manifold(tool) ^ neck.wood).min_gap(air, 40.0)
    assert least_pair(in_wood(neck, tool).surface, neck.skin_triangles).distance == pytest.approx(gap, abs=1e-5)


def test_place_of_the_wall():
    case = CASES["cone"]
    wall = least_wall(prepare_neck(case.carved, TOP), tool_mesh(case.tool))
    x, y, z = wall.at_tool
    assert (x, abs(y), z) == pytest.approx((30, 3, -11), abs=1e-6)
    # the foot stands square to the cone's line: toward the small end by wall x sin(atan(taper))
    assert wall.at_skin[0] == pytest.approx(30 - case.wall * math.sin(math.atan(0.08)), abs=0.5)
    assert wall.range_x[0] == pytest.approx(30, abs=1.0)
    assert wall.range_x[1] < 35


def test_even_wall_reports_its_whole_length():
    true = CASES["cylinder"].wall
    wall = least_wall(prepare_neck(half_cylinder(22, 100), TOP), tool_mesh(pocket(20, 80, 6, 11, 5)))
    # skin a little beyond the pocket's ends is still within reach of its corners
    beyond = math.sqrt((true + SAME) ** 2 - true**2)
    assert 20 - beyond - FINE <= wall.range_x[0] <= 20 + ROUNDING
    assert 80 - ROUNDING <= wall.range_x[1] <= 80 + beyond + FINE


@pytest.mark.parametrize("depth", [20.5, 21.0, 24.0])
def test_break_through_is_a_negative_wall_with_its_depth(depth):
    true = 22 - math.hypot(8, depth)
    assert true < 0
    wall = least_wall(prepare_neck(half_cylinder(22, 100), TOP), tool_mesh(pocket(20, 80, 6, depth, 5)))
    assert wall.through
    assert wall.lo <= true <= wall.hi < 0
    # the mesh's own error on both sides, and the tool's
    assert wall.hi - wall.lo <= 2 * (NECK_LINEAR + TOOL_LINEAR)
    assert wall.at_tool[1:] == pytest.approx((8, -depth), abs=1e-6)
    assert math.hypot(*wall.at_skin[1:]) == pytest.approx(22, abs=NECK_LINEAR)


def test_wall_goes_on_through_nought():
    """Depths a tenth apart, from 0.15 of wood to 0.15 outside: each bracket holds its closed form."""
    for true in (0.15, 0.05, 0.0, -0.05, -0.15):
        depth = math.sqrt((22 - true) ** 2 - 64)
        wall = least_wall(prepare_neck(half_cylinder(22, 60), TOP), tool_mesh(pocket(20, 40, 6, depth, 5)))
        assert wall.lo - ROUNDING <= true <= wall.hi + ROUNDING


def test_flush_contact_is_no_break_through():
    """A tool whose sides run out through the glue plane only, flush with an end of the block's opening."""
    neck = prepare_neck(block(0, 100, 50, 22), TOP)
    wall = least_wall(neck, tool_mesh(pocket(20, 80, 6, 22 - 1e-9)))
    assert not wall.through
    assert wall.lo - ROUNDING <= 0 <= wall.hi + ROUNDING


@pytest.mark.parametrize("aside", [-5.3, -2.0, 0.0, 1.7, 4.4])
@pytest.mark.parametrize("linear", [1.0, NECK_LINEAR])
def test_hollow_skin_keeps_an_honest_bound(aside, linear):
    """Over a hollow the mesh holds wood that is not there: its distance alone can be too large."""
    radius, crest = 24.0, 16.0
    beside = max(abs(aside) - 3.0, 0.0)
    true = math.hypot(beside, crest + radius - 10.0) - radius
    wall = least_wall(prepare_neck(hollowed(radius, crest), TOP, linear), tool_mesh(pocket(20, 80, 6, 10, aside)))
    assert wall.lo - ROUNDING <= true <= wall.hi + ROUNDING
    assert wall.hi - wall.lo <= WIDTH


def test_the_hollow_case_really_is_one():
    """Somewhere the bare mesh distance exceeds the true one, so that only the subtracted error makes the bound safe."""
    over = []
    neck = prepare_neck(hollowed(24.0, 16.0), TOP, 1.0)
    for aside in (-5.3, -4.4, 4.4, 5.3, 6.2):
        true = math.hypot(abs(aside) - 3.0, 30.0) - 24.0
        surface = in_wood(neck, tool_mesh(pocket(20, 80, 6, 10, aside))).surface
        over.append(least_pair(surface, neck.skin_triangles).distance - true)
    assert max(over) > 1e-3


def test_part_of_a_tool_and_one_way_only():
    solid, tool = block(0, 100, 50, 22), pocket(20, 93, 6, 11)
    neck = prepare_neck(solid, TOP)
    rod_end = least_wall(neck, tool_mesh(tool), toward=(1.0, 0.0, 0.0))
    assert rod_end.lo - ROUNDING <= 7.0 <= rod_end.hi + ROUNDING
    assert exact_wall(tool, solid, TOP, toward=(1.0, 0.0, 0.0)).value == pytest.approx(7.0, abs=1e-9)
    middle = least_wall(neck, tool_mesh(tool), between=(30.0, 60.0))
    assert middle.lo - ROUNDING <= 11.0 <= middle.hi + ROUNDING
    assert exact_wall(tool, solid, TOP, between=(30.0, 60.0)).value == pytest.approx(11.0, abs=1e-9)
    # the faces made by cutting the range out are not the tool's: at x = 90 they would be 10 from the end
    assert middle.range_x == pytest.approx((30.0, 60.0), abs=math.sqrt((11 + SAME) ** 2 - 11**2))
    assert least_wall(neck, tool_mesh(tool), between=(-30.0, 10.0)) is None
    assert least_wall(neck, tool_mesh(tool), toward=(0.6, 0.8, 0.0)) is None
