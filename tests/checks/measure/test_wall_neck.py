"""Walls on spline-backed necks with a stepped head: the mesh route holds the exact one, in every step."""

from __future__ import annotations

import manifold3d
import numpy as np
import pytest
from measure_samples import NECK_OPENINGS, neck_tools, pocket

from neckmodel.checks.measure.cutter import in_wood, tool_mesh
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.neck import in_openings
from neckmodel.checks.measure.pairs import least_pair
from neckmodel.checks.measure.wall import least_wall
from neckmodel.meshes import to_manifold

TOOLS = neck_tools()


@pytest.mark.parametrize("step", TOOLS)
def test_exact_wall_lies_in_the_bracket(prepared, step):
    wall = least_wall(prepared, tool_mesh(TOOLS[step]))
    exact = exact_wall(TOOLS[step], prepared.solid, NECK_OPENINGS)
    assert wall.lo <= exact.value <= wall.hi
    assert wall.hi - wall.lo < 0.05
    assert exact.value > 1.0


@pytest.mark.parametrize("step", TOOLS)
def test_gap_and_pairs_agree_on_a_neck_with_three_openings(prepared, step):
    tool = tool_mesh(TOOLS[step])
    air = manifold3d.Manifold.cube((1400, 300, 300), True) - prepared.opened
    gap = (to_manifold(tool) ^ prepared.wood).min_gap(air, 20.0)
    pair = least_pair(in_wood(prepared, tool).surface, prepared.skin_triangles)
    assert pair.distance == pytest.approx(gap, abs=1e-5)


def test_openings_are_the_three_flat_faces_and_nothing_else(prepared):
    triangles = prepared.mesh.triangles
    areas = prepared.mesh.mesh.area_faces
    step, head = (areas[in_openings(triangles, [NECK_OPENINGS[i]])].sum() for i in (2, 1))
    assert head == pytest.approx(164 * 46, rel=1e-9)
    # at the step the section's half width is 21.496; its upper 10 mm are open
    assert 0.7 * 10 * 43.0 < step < 10 * 43.0
    rest = np.setdiff1d(np.arange(len(triangles)), prepared.skin)
    assert areas[rest].sum() - step - head == pytest.approx(470 * 50, rel=0.05)


def test_slot_leaving_through_the_step_does_not_count_the_air_before_it(prepared):
    """The slot's far end stands in the air over the head face: whole tool against whole neck would give 0."""
    surface = in_wood(prepared, tool_mesh(TOOLS["access-slot"])).surface
    assert surface[:, :, 0].min() == pytest.approx(-6.0, abs=1e-3)
    assert surface[:, :, 2].max() <= 1e-9


def test_too_deep_a_pocket_comes_out_where_the_neck_is_thinnest(prepared):
    wall = least_wall(prepared, tool_mesh(pocket(3, 24, 10, 15.3)))
    assert wall.through
    assert wall.hi < 0
    assert wall.at_tool[0] == pytest.approx(3.0, abs=1e-6)
    shallower = least_wall(prepared, tool_mesh(pocket(3, 24, 10, 15.2)))
    assert shallower.lo > wall.lo


def test_a_refined_bracket_does_not_depend_on_the_first_mesh(prepared):
    from neckmodel.checks.measure.neck import prepare_neck

    fine = prepare_neck(prepared.solid, NECK_OPENINGS, 0.1)
    tool = tool_mesh(TOOLS["adjuster"])
    one, two = least_wall(prepared, tool), least_wall(fine, tool)
    assert max(one.lo, two.lo) <= min(one.hi, two.hi)
    assert one.lo == pytest.approx(two.lo, abs=0.02)
