"""Openings of every kind a neck has: where a tool leaves through them, no wall is lost and none is invented."""

from __future__ import annotations

import math

import cadquery as cq
import pytest
from measure_samples import TOP, block, dimple, pocket

from neckmodel.checks.measure.cutter import tool_mesh
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.neck import prepare_neck
from neckmodel.checks.measure.wall import least_wall
from neckmodel.solids.parts import Opening

ROUNDING = 1e-6
SLOPE = math.radians(12)


def held(wall, true):
    return wall is not None and not wall.through and wall.lo - ROUNDING <= true <= wall.hi + ROUNDING


def both_routes(solid, tool, openings):
    return least_wall(prepare_neck(solid, openings), tool_mesh(tool)), exact_wall(tool, solid, openings)


def profile(points, width):
    return cq.Workplane("XZ").polyline(points).close().extrude(width / 2, both=True).val()


@pytest.fixture(scope="module")
def grooved():
    """A block with a nut groove 5 x 2 across it."""
    groove = cq.Solid.makeBox(5, 80, 4, cq.Vector(-5, -40, -2))
    return block(-20, 100, 50, 22).cut(groove).Solids()[0]


GROOVE = (
    *TOP,
    Opening("groove floor", (-5.0, 0.0, -2.0), (0.0, 0.0, 1.0), -5.0, 0.0),
    Opening("groove wall", (-5.0, 0.0, -1.0), (1.0, 0.0, 0.0), -5.0, -5.0),
    Opening("groove wall", (0.0, 0.0, -1.0), (-1.0, 0.0, 0.0), 0.0, 0.0),
)


def test_slot_crossing_a_nut_groove(grooved):
    wall, exact = both_routes(grooved, pocket(-8, 50, 6, 11), GROOVE)
    assert held(wall, 11.0)
    assert exact.value == pytest.approx(11.0, abs=1e-9)


def test_a_groove_not_named_as_an_opening_counts_as_skin(grooved):
    wall, exact = both_routes(grooved, pocket(-8, 50, 6, 11), TOP)
    assert wall.hi < 0.1
    assert exact.value == pytest.approx(0.0, abs=1e-9)


def test_slot_running_out_of_an_angled_heads_face():
    solid = profile([(100, 0), (0, 0), (-80, -80 * math.tan(SLOPE)), (-80, -30), (100, -30)], 60)
    openings = (
        Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.0, 100.0),
        Opening("head face", (0.0, 0.0, 0.0), (-math.sin(SLOPE), 0.0, math.cos(SLOPE)), -80.0, 0.0),
    )
    wall, exact = both_routes(solid, pocket(-60, 50, 6, 8), openings)
    assert held(wall, 30 - 8)
    assert exact.value == pytest.approx(30 - 8, abs=1e-9)
    # where the floor meets the face the slot ends: no wall is measured from the air beyond
    assert wall.range_x[0] == pytest.approx(-8 / math.tan(SLOPE), abs=1.0)


def test_a_floor_level_with_an_opening_elsewhere_is_still_the_tools():
    """Over a round hollow's crest the floor's middle is nearest, which no other face of the tool would show."""
    solid = block(0, 100, 60, 40).cut(dimple(50.0, 0.0, 24.0, 16.0)).Solids()[0]
    level = [Opening("face", (x0, 0.0, -10.0), (0.0, 0.0, 1.0), x0, x0 + 20) for x0 in (-50.0, 110.0)]
    for opening in level:
        wall, exact = both_routes(solid, pocket(20, 80, 6, 10), (*TOP, opening))
        assert held(wall, 6.0)
        assert exact.value == pytest.approx(6.0, abs=1e-9)


@pytest.mark.parametrize("drop", [9.0, 14.0])
def test_slot_leaving_a_step_in_the_air_or_sunk_into_the_head(drop):
    """The floor lies 11 down: it ends at the step of a deep head, and goes on as a trough into a shallow one."""
    solid = profile([(100, 0), (-6, 0), (-6, -drop), (-80, -drop), (-80, -30), (100, -30)], 60)
    openings = (
        Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -6.0, 100.0),
        Opening("head face", (-6.0, 0.0, -drop), (0.0, 0.0, 1.0), -80.0, -6.0),
        Opening("step", (-6.0, 0.0, -1.0), (-1.0, 0.0, 0.0), -6.0, -6.0),
    )
    wall, exact = both_routes(solid, pocket(-60, 50, 6, 11), openings)
    assert held(wall, 30 - 11)
    assert exact.value == pytest.approx(30 - 11, abs=1e-9)
    assert wall.range_x[0] == pytest.approx(-60 if drop < 11 else -6, abs=1.0)


def test_a_step_met_only_within_the_kernels_tolerance_is_still_closed():
    """The upright wall stands 5e-7 off the head face's end: the hair between the two fillings is no way out."""
    solid = profile([(100, 0), (-6, 0), (-6 + 5e-7, -14), (-80, -14), (-80, -30), (100, -30)], 60)
    openings = (
        Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -6.0, 100.0),
        Opening("head face", (-6.0, 0.0, -14.0), (0.0, 0.0, 1.0), -80.0, -6.0),
        Opening("step", (-6.0, 0.0, -1.0), (-1.0, 0.0, 0.0), -6.0, -6.0),
    )
    neck = prepare_neck(solid, openings)
    assert held(least_wall(neck, tool_mesh(pocket(-60, 50, 6, 11))), 19.0)
    air = cube_less(neck.opened)
    assert (neck.wood ^ box_of(pocket(-60, 50, 6, 11))).min_gap(air, 40.0) == pytest.approx(19.0, abs=1e-6)


def cube_less(solid):
    import manifold3d

    return manifold3d.Manifold.cube((600, 300, 300), True) - solid


def box_of(solid):
    from neckmodel.meshes import to_manifold

    return to_manifold(tool_mesh(solid))
