"""The router's sled for floors that are not level: its closed forms, and the cutter moved along the real pieces."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from neck_runs import laid_out

from neckmodel.findings import Finding
from neckmodel.jigs.kinds.routing.rails import SledPlan, Track, is_made, rail_track, sleds, tip_track
from neckmodel.jigs.kinds.routing.ride import ride_of, stand
from neckmodel.jigs.kinds.routing.sled import SledPieces, draft_sled
from neckmodel.jigs.kinds.routing.sweep import sled_checks, too_steep
from neckmodel.layout.workshop.router import router_settings
from neckmodel.layout.workshop.sled import floor_circle
from neckmodel.meshes import mesh_of
from neckmodel.solids.kernel.gate import volume

HILL = "rod.axis_depth={adjuster = 9.5, middle = 6.5, anchor = 9.5}"
ASLANT = "rod.axis_depth={adjuster = 5.5, middle = 9.0, anchor = 7.5}"
STRAIGHT_KEY = 'adjusting_key.kind="straight"'
CASES = [
    ("run",),
    ("access-slot", STRAIGHT_KEY),
    pytest.param(("run", HILL), marks=pytest.mark.sweep),
    pytest.param(("run", ASLANT), marks=pytest.mark.sweep),
]


def plan_of(step: str, *overrides: str) -> SledPlan:
    return next(plan for plan in sleds(laid_out("wheatear", *overrides)) if plan.name == step)


@cache
def drawn(step: str, *overrides: str) -> SledPieces:
    return draft_sled(laid_out("wheatear", *overrides), plan_of(step, *overrides))


@cache
def found(step: str, *overrides: str) -> dict[str, Finding]:
    checks = sled_checks(laid_out("wheatear", *overrides), plan_of(step, *overrides), drawn(step, *overrides))
    return {finding.check: finding for check in checks for finding in check()}


# --- closed forms -----------------------------------------------------------------------------------------------------
curved = st.floats(1 / 20000, 1 / 1500).flatmap(lambda k: st.sampled_from((k, -k)))
tracks = st.builds(
    Track, st.floats(0, 300), st.floats(-15, -5), st.floats(-0.03, 0.03), st.one_of(curved, st.just(0.0))
)


@given(tracks, st.floats(12, 40), st.floats(40, 90), st.floats(-250, 250))
def test_both_feet_stand_on_the_rails_wherever_the_tip_is_on_its_line(
    tip: Track, down: float, stands: float, along: float
) -> None:
    """The middle between two places on a circle follows a circle with the same centre: exact, not nearly."""
    rail, pose = rail_track(tip, down, stands), tip.at(along)
    for u in (-stands, stands):
        x, z = pose.point(u, down)
        assert rail.height(x) == pytest.approx(z, abs=1e-8)


def test_the_rails_radius_by_pythagoras() -> None:
    """Valley: `sqrt((R - d)**2 + s**2)`; hill: `sqrt((R + d)**2 + s**2)`; R 4000, d 20, s 75."""
    for sign, radius in ((1, math.hypot(3980, 75)), (-1, math.hypot(4020, 75))):
        rail = rail_track(Track(0.0, -10.0, 0.0, sign / 4000), 20.0, 75.0)
        assert 1 / rail.curvature == pytest.approx(sign * radius, rel=1e-12)
    straight = rail_track(Track(0.0, -10.0, 0.1, 0.0), 20.0, 75.0)
    assert (straight.curvature, straight.slope) == (0.0, 0.1)
    assert straight.height(0.0) == pytest.approx(-10.0 + 20.0 / math.cos(0.1))


@pytest.mark.parametrize("overrides", [(), (HILL,), (ASLANT,)])
def test_the_flat_end_of_the_cutter_leaves_the_arc_through_the_floor(overrides: tuple[str, ...]) -> None:
    """Second route: at some x of the floor, the lowest that a leaning flat end comes, sought by minimising over where
    the tip is, against the circle through the floor's start, middle and end."""
    plan = plan_of("run", *overrides)
    circle = floor_circle(plan.setting.step.floor)
    assert circle is not None
    x0, z0, radius = circle
    for x in (60.0, 190.5, 301.0):

        def over(along: float, x: float = x) -> float:
            pose = plan.tip.at(along)
            away = (x - pose.x) / math.cos(pose.slope)
            return pose.point(away, 0.0)[1] if abs(away) <= plan.radius else math.inf

        tries = np.linspace(x - plan.tip.x - 4, x - plan.tip.x + 4, 4001)
        lowest = min(over(float(along)) for along in tries)
        arc = z0 - math.copysign(math.sqrt(radius**2 - (x - x0) ** 2), radius)
        assert lowest == pytest.approx(arc, abs=2e-5)  # the tries stand 0.002 apart, on a slope of r/R


@pytest.mark.parametrize("overrides", [(), (HILL,), (ASLANT,)])
def test_the_leaning_cutter_stays_short_of_the_step_s_ends(overrides: tuple[str, ...]) -> None:
    """Points all over the cutter below the glue plane, at both stops: the farthest lies at the end, none beyond."""
    plan = plan_of("run", *overrides)
    for pose, end, way in ((plan.first, plan.x_from, -1), (plan.last, plan.x_to, 1)):
        points = [pose.point(u, v) for u in (-plan.radius, plan.radius) for v in np.linspace(0, 20, 20001)]
        farthest = max(way * x for x, z in points if z <= 1e-9)
        assert way * farthest == pytest.approx(end, abs=1e-4)


def test_settings_of_wheatear_s_sled() -> None:
    """Axis 6 / 9.5 / 6 over a rod of 360: between x 16 and 365 the floor's arc has the radius c**2/(8 s) + s/2 with the
    chord 349 and the sagitta 3.289, 4630; cutter 5, play (5.2 - 5)/2 to each side."""
    plan = plan_of("run")
    assert plan.sled.radius == pytest.approx(349**2 / (8 * 3.2894) + 3.2894 / 2, rel=1e-4)
    assert 1 / plan.tip.curvature == pytest.approx(math.sqrt(plan.sled.radius**2 - 2.5**2), rel=1e-12)
    assert plan.play == pytest.approx(0.1)
    assert plan.rail_height == pytest.approx(6.0, abs=1e-9)
    assert plan.need <= 38.0
    assert tip_track(plan.setting) == plan.tip


# --- the real pieces --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("case", CASES)
def test_the_cutter_on_the_sled_leaves_the_planned_channel(case: tuple[str, ...]) -> None:
    findings = found(*case)
    assert [f"{f.check}: {f.says}" for f in findings.values() if f.verdict == "fail"] == []
    cut, floor = findings["jig/sled"], findings["jig/sled-floor"]
    assert cut.measured is not None
    assert cut.measured < 0.5  # mm3
    assert cut.more["depth"] < 0.02
    plan = plan_of(*case)
    assert floor.measured is not None
    assert floor.measured <= plan.sled.off + 0.0008  # the flat end's edge, r**2/(2 R), and the places' spacing


def test_what_is_left_beside_the_middle_of_a_valley_by_its_closed_form() -> None:
    """`r**3/(6 R (r + g))` over the floor's area is nearly all that is missing."""
    cut = found("run")["jig/sled"]
    area = 5.2 * (362.5 - 16.0)
    crown = 2.5**3 / (6 * 4630.0 * 2.6) * area
    assert cut.more["crown"] == pytest.approx(crown, rel=2e-3)
    assert cut.measured == pytest.approx(crown, abs=0.06)
    assert cut.more["excess"] < 0.01


def test_the_rails_as_built_are_arcs_that_give_the_floor_s_radius() -> None:
    """Second route: a circle fitted to the facets of each rail's top, then Pythagoras by hand."""
    plan = plan_of("run")
    for side in ("bass", "treble"):
        points = []
        for piece in drawn("run").rails:
            if side not in piece.name:
                continue
            mesh = mesh_of(piece.solid, 1e-4)
            corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
            normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
            leaning = normal[:, 2] > 0.99 * np.linalg.norm(normal, axis=1)
            low = corners[leaning & (np.ptp(corners[:, :, 2], axis=1) > 1e-9)]
            points.append(low[:, :, ::2].reshape(-1, 2))
        x, z = np.vstack(points).T - np.array([[190.5], [6.0]])
        # x**2 + z**2 = 2 a x + 2 b z + k, a and b the centre, k = R**2 - a**2 - b**2
        (a, b, k), *_ = np.linalg.lstsq(np.column_stack([2 * x, 2 * z, np.ones_like(x)]), x**2 + z**2, rcond=None)
        rail = math.sqrt(k + a**2 + b**2)
        assert np.abs(np.hypot(x - a, z - b) - rail).max() < 1e-6
        floor = math.hypot(math.sqrt(rail**2 - plan.half_length**2) + plan.down, plan.radius)
        assert floor == pytest.approx(plan.sled.radius, rel=1e-6)
        depth = plan.setting.step.depth_at(190.5)
        assert 6.0 + b - math.sqrt(floor**2 - a**2) == pytest.approx(-depth, abs=1e-4)


def test_a_carriage_let_down_on_any_rail_touches_with_both_ends() -> None:
    """On a straight slope it lies flat; on two levels with a step between its feet it leans by the step."""
    feet = np.array([(-70.0, 20.0), (-62.0, 20.0), (62.0, 20.0), (70.0, 20.0)])
    x = np.linspace(-300, 300, 601)
    slope = stand(x, 10.0 + 0.03 * x, feet, 20.0)
    assert slope.slope == pytest.approx(math.atan(0.03), abs=1e-12)
    assert slope.point(0.0, 20.0)[1] == pytest.approx(10.0 + 0.03 * slope.point(0.0, 20.0)[0], abs=1e-9)
    step = stand(x, np.where(x > 0, 12.0, 10.0), feet, 0.0)
    left, right = step.point(-62.0, 20.0), step.point(62.0, 20.0)
    assert min(left[1] - 10.0, step.point(-70.0, 20.0)[1] - 10.0) == pytest.approx(0.0, abs=1e-9)
    assert right[1] == pytest.approx(12.0, abs=1e-9)


CUT, FLOOR, STOPS, FIT = range(4)


@pytest.mark.parametrize(
    ("wrong", "carriage_too", "check"),
    [
        pytest.param(lambda p: replace(p, rail=replace(p.rail, z=p.rail.z - 0.05)), False, CUT, id="rails too low"),
        pytest.param(lambda p: replace(p, play=p.play + 0.05), True, CUT, id="too much play"),
        pytest.param(
            lambda p: replace(p, rail=replace(p.rail, curvature=p.rail.curvature * 1.05)), False, FLOOR, id="too curved"
        ),
        pytest.param(lambda p: replace(p, half_length=p.half_length - 0.5), False, STOPS, id="stops too near"),
        pytest.param(lambda p: replace(p, side=p.side - 0.1), True, FIT, id="rails bite"),
        pytest.param(lambda p: replace(p, outer=p.outer + 0.3), False, FIT, id="carriage binds"),
    ],
)
def test_a_sled_built_wrong_is_found_out(wrong: Callable[[SledPlan], SledPlan], carriage_too: bool, check: int) -> None:
    """The pieces of a plan that is a little off, measured for the right one; the check says so and passes else."""
    layout, plan = laid_out("wheatear"), plan_of("run")
    off = draft_sled(layout, wrong(plan))
    pieces = off if carriage_too else replace(off, carriage=drawn("run").carriage)
    (told,) = sled_checks(layout, plan, pieces)[check]()
    assert told.verdict == "fail"
    assert found("run")[told.check].verdict == "pass"


# --- what is not made, and how it is laid -----------------------------------------------------------------------------
def test_a_steep_ramp_is_told_not_made() -> None:
    """wheatear's access slot rises at 15 degrees: half the carriage's rise, 60 x tan 15 = 16, is too much to reach."""
    plan = plan_of("access-slot")
    assert not is_made(plan)
    (told,) = too_steep(plan)
    assert (told.verdict, told.check) == ("warn", "jig/reach")
    assert told.measured is not None
    assert told.measured > 9.05 + 8 + 6 + 6 + 60 * math.tan(math.radians(15))
    assert "15.0 degrees" in told.says


@settings(deadline=None, max_examples=20)
@given(st.sampled_from([120.0, 180.0, 220.0, 256.0]), st.sampled_from([60.0, 75.0, 90.0]))
def test_the_carriage_fits_the_bed(bed: float, base: float) -> None:
    layout = laid_out("wheatear", f"workshop.printer.bed=[{bed}, {bed}, 200]", f"workshop.router_base={base}")
    (plan,) = (plan for plan in sleds(layout) if plan.name == "run")
    assert plan.half_length == pytest.approx(min(0.8 * base, bed / 2 - 5.0))
    assert plan.setting in router_settings(layout)


@pytest.mark.parametrize("bed", [180, 256])
def test_rails_split_for_a_bed_make_up_the_whole(bed: int) -> None:
    overrides = (f"workshop.printer.bed=[{bed}, {bed}, 200]",)
    pieces = drawn("run", *overrides)
    assert len(pieces.wholes) == 2
    sizes = {piece.name: np.ptp(mesh_of(piece.solid, 0.05).bounds, axis=0) for piece in pieces.rails}
    assert all(size[0] <= bed - 10 + 1e-3 for size in sizes.values())
    for whole in pieces.wholes:
        total = sum(volume(piece.solid) for piece in pieces.rails if piece.name in whole.pieces)
        assert total + whole.clearance == pytest.approx(volume(whole.solid), rel=1e-6)
        # a key's edge is a line round the trapezium, 2 (8 / 2 + 7 / cos 15) + 11.75 less its open root, times the fit
        joints = len(whole.pieces) - 1
        round_key = 2 * 7.0 / math.cos(math.radians(15)) + 8.0 + 14.0 * math.tan(math.radians(15))
        through = whole.clearance / joints / (0.2 * round_key)
        assert 8.0 <= through <= 8.0 + 16.0  # mm of rail that a key goes through: the fence's, and part of the ledge's


def test_the_ride_is_measured_not_taken_from_the_plan() -> None:
    """Carriage and rails as built: play, axis and stops."""
    plan, ride = plan_of("run"), ride_of(plan_of("run"), drawn("run"))
    assert ride.play == pytest.approx(0.1, abs=1e-9)
    assert ride.axis == pytest.approx(0.0, abs=2e-5)
    assert ride.first.x == pytest.approx(plan.first.x, abs=1e-3)
    assert ride.last.z == pytest.approx(plan.last.z, abs=1e-4)
