"""Least walls against closed forms: both routes, on flat, round, tapered, hollow and broken skins."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from measure_samples import (
    TOP,
    block,
    closed_cases,
    dimple,
    half_cone,
    half_cylinder,
    hollowed,
    pocket,
)

from neckmodel.checks.measure.bracket import FINE, SAME, bracket
from neckmodel.checks.measure.cutter import TOOL_LINEAR, in_wood, tool_mesh
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.neck import NECK_EDGES, NECK_LINEAR, prepare_neck
from neckmodel.checks.measure.pairs import least_pair
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


def test_a_tool_that_comes_out_elsewhere_is_judged_within_its_range():
    neck = prepare_neck(half_cone(20, -0.08, 150), TOP)
    tool = tool_mesh(pocket(10, 120, 6, 11))
    assert least_wall(neck, tool).through
    part = least_wall(neck, tool, between=(5.0, 40.0))
    true = (20 - 0.08 * 40 - math.hypot(3, 11)) * math.cos(math.atan(0.08))
    assert not part.through
    assert part.lo - ROUNDING <= true <= part.hi + ROUNDING


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


@pytest.mark.parametrize("linear", [2.0, 1.0, NECK_LINEAR])
def test_bound_over_a_hollow_is_not_the_meshes_distance(linear):
    """Somewhere the refined mesh is still farther off than the hollow itself; the bracket holds the truth even so."""
    neck = prepare_neck(hollowed(24.0, 16.0), TOP, linear)
    over = []
    for aside in (-7.1, -5.3, -4.4, -3.9, 4.4, 5.3, 6.2):
        true = math.hypot(abs(aside) - 3.0, 30.0) - 24.0
        surface = in_wood(neck, tool_mesh(pocket(20, 80, 6, 10, aside))).surface
        found = bracket(neck.mesh, neck.skin, surface, least_pair(surface, neck.skin_triangles).distance)
        assert found.lo <= true <= found.hi
        over.append(math.dist(found.at_tool, found.at_skin) - true)
    assert max(over) > 1e-5


def test_bracket_follows_the_surface_away_from_the_first_meshes_nearest_place():
    """Two round hollows, the wider one 0.02 nearer: the coarse mesh takes the other for the thinner place."""
    solid = block(0, 100, 80, 40)
    for y, radius, crest in ((-15.0, 8.0, 16.02), (15.0, 90.0, 16.0)):
        solid = solid.cut(dimple(50.0, y, radius, crest)).Solids()[0]
    neck, tool = prepare_neck(solid, TOP, 0.5), tool_mesh(pocket(20, 80, 50, 10))
    assert least_pair(in_wood(neck, tool).surface, neck.skin_triangles).on_second[1] < 0
    wall = least_wall(neck, tool)
    assert wall.lo - ROUNDING <= 6.0 <= wall.hi + ROUNDING
    assert wall.hi - wall.lo <= WIDTH


def test_upper_end_is_exact_and_the_tools_error_goes_off_both_ends():
    case = CASES["box"]
    neck, tool = prepare_neck(case.carved, TOP), tool_mesh(case.tool)
    wall, blunt = least_wall(neck, tool), least_wall(neck, tool, tool_error=0.3)
    assert wall.hi == pytest.approx(11.0 + TOOL_LINEAR, abs=1e-9)
    assert blunt.hi == pytest.approx(11.0 + 0.3, abs=1e-9)
    assert wall.lo - blunt.lo == pytest.approx(0.3 - TOOL_LINEAR, abs=1e-9)


def test_wood_toward_the_end_is_not_the_wood_beside_it():
    """A heel with round corners: the corners look toward the end too, but only the flat end counts, by either route."""
    heel = cq.Workplane(obj=block(0, 100, 50, 22)).edges("|Z and >X").fillet(12).val()
    tool = pocket(20, 85, 6, 11, 18)
    neck = prepare_neck(heel, TOP)
    wall = least_wall(neck, tool_mesh(tool), toward=(1.0, 0.0, 0.0))
    # the end's flat part reaches to y = 25 - 12; the tool's nearest edge stands at y = 15
    true = math.hypot(15, 15 - 13)
    assert wall.lo - ROUNDING <= true <= wall.hi + ROUNDING
    assert wall.hi - wall.lo <= WIDTH
    assert exact_wall(tool, heel, TOP, toward=(1.0, 0.0, 0.0)).value == pytest.approx(true, abs=1e-9)


def test_part_of_a_tool_and_one_way_only():
    solid, tool = block(0, 100, 50, 22), pocket(20, 93, 6, 11)
    neck = prepare_neck(solid, TOP)
    rod_end = least_wall(neck, tool_mesh(tool), toward=(1.0, 0.0, 0.0))
    assert rod_end.lo - ROUNDING <= 7.0 <= rod_end.hi + ROUNDING
    assert exact_wall(tool, solid, TOP, toward=(1.0, 0.0, 0.0)).value == pytest.approx(7.0, abs=1e-9)
    middle = least_wall(neck, tool_mesh(tool), between=(30.0, 60.0))
    assert middle.lo - ROUNDING <= 11.0 <= middle.hi + ROUNDING
    assert exact_wall(tool, solid, TOP, between=(30.0, 60.0)).value == pytest.approx(11.0, abs=1e-9)
    # the faces made by cutting the range out are not the tool's
    spread = np.ptp(in_wood(neck, tool_mesh(tool), (30.0, 60.0)).surface[:, :, 0], axis=1)
    assert spread.min() > 1.0
    assert middle.range_x == pytest.approx((30.0, 60.0), abs=math.sqrt((11 + SAME) ** 2 - 11**2))
    assert least_wall(neck, tool_mesh(tool), between=(-30.0, 10.0)) is None
    assert least_wall(neck, tool_mesh(tool), toward=(0.6, 0.8, 0.0)) is None
