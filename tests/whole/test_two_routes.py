"""Every critical number by two routes that share no code: walls, volumes, the skin, symmetry, and which faces are what.

Outside source: area of a superellipse by the gamma function (closed form, any table of integrals), by `Section.area`
which the layout's tests hold against it; the volumes here are Gauss integrals of sections, by numpy alone.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from neck_runs import PRESETS, bench, built, laid_out

from neckmodel.checks.bench import Bench
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.wall import least_wall
from neckmodel.layout import Layout
from neckmodel.layout.channel.step import Step
from neckmodel.meshes import mesh_of, solid_mesh
from neckmodel.meshes.exact import point_to_faces
from neckmodel.solids.kernel.gate import volume
from neckmodel.solids.neck.neck import back_law
from neckmodel.solids.neck.superellipse import curve

STEPS = [
    (preset, step)
    for preset, steps in {
        "dunnock": ("run", "adjuster", "access-slot"),
        "garganey": ("run", "adjuster", "access-slot", "bar-1", "bar-2"),
        "redpoll": ("run", "adjuster", "access-slot"),
    }.items()
    for step in steps
]
BY_SECTION = 0.0015  # mm, a wall by the section's law against the solid's: see the taper in the main job's tests
each_preset = pytest.mark.parametrize("preset", PRESETS)


def gauss(stops: list[float], count: int = 24) -> tuple[np.ndarray, np.ndarray]:
    """Gauss points and weights on every stretch between the stops."""
    points, weights = np.polynomial.legendre.leggauss(count)
    a, b = np.array(stops[:-1]), np.array(stops[1:])
    return ((a + b)[:, None] / 2 + (b - a)[:, None] / 2 * points).ravel(), ((b - a)[:, None] / 2 * weights).ravel()


def polygon_area(points: np.ndarray) -> float:
    x, y = np.asarray(points).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


# --- walls -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("preset", "step"), STEPS)
def test_the_exact_wall_lies_in_the_meshs_interval(preset, step):
    ready = bench(preset)
    wall = least_wall(ready.neck, ready.tool_mesh(step))
    exact = exact_wall(ready.tool(step).solid, ready.parts.carved, ready.parts.openings)
    assert wall.lo <= exact.value <= wall.hi
    assert wall.hi - wall.lo < 0.05
    # The law holds from the blend, or from the head line if that comes later, to the heel's swell. Beyond either there
    # is more wood: the section's wall is a lower bound there. The least wall of all is at most the least by law. Where
    # it lies is not asked: along the access slot the wall is least so flatly that the last digit decides.
    layout, cut = ready.layout, ready.layout.step(step)
    outside = layout.outside
    first, last = max(cut.x_start, outside.x_blend, layout.head.x_line), min(cut.x_end, layout.heel.x_swell)
    by_law = min(layout.wall_at(cut, float(x)) for x in np.linspace(first, last, 201))
    assert exact.value <= by_law + BY_SECTION
    x = exact.at_tool[0]
    assert exact.value >= layout.wall_at(cut, x) - BY_SECTION
    if first <= x <= last:
        assert exact.value == pytest.approx(by_law, abs=BY_SECTION)
    if x >= 0:
        assert next(w.wall for w in layout.walls if w.step == step) == pytest.approx(exact.value, abs=BY_SECTION)


def test_every_step_of_every_preset_is_measured():
    assert [(preset, step.name) for preset in PRESETS for step in laid_out(preset).steps] == STEPS


# --- volumes ---------------------------------------------------------------------------------------------------------
def step_volume(layout: Layout, step: Step) -> float:
    """Wood below the glue plane, or below the head's face beyond the head line, over a step with square ends."""
    head = layout.head
    stops = sorted({step.x_start, step.x_end, min(max(head.x_line, step.x_start), step.x_end)})
    x, weights = gauss([float(v) for v in stops], 8)
    top = np.where(x < head.x_line, [head.face(float(v)) for v in x], 0.0)
    deep = np.array([step.depth_at(float(v)) for v in x]) + top
    return step.width * float(np.maximum(deep, 0.0) @ weights)


def taken(layout: Layout) -> float:
    """What channel and holes take out of blank and neck: none of them meet."""
    assert all(step.corner_start == step.corner_end == 0 for step in layout.steps)
    screws = sum(math.pi / 4 * s.hole**2 * (s.z_point + layout.heel.depth) for s in layout.screws)
    tuners = sum(math.pi / 4 * t.hole**2 * layout.head.thickness for t in layout.tuners)
    return sum(step_volume(layout, step) for step in layout.steps) + screws + tuners


def carved_volume(layout: Layout) -> float:
    """Sections of the back's law between the flat backs, and the plan of head and heel times their height."""
    outside, head, heel = layout.outside, layout.head, layout.heel
    law = back_law(outside)
    marks = sorted({*law.breaks, outside.x_head_run_out, outside.x_heel_run_out})
    pieces = [float(a + (b - a) * k / 8) for a, b in itertools.pairwise(marks) for k in range(8)]
    x, weights = gauss([*pieces, marks[-1]], 12)
    t = np.linspace(0, 1, 801)
    halves = np.einsum("tj,nsjk->nstk", curve(np.eye(law.sections(x[:1]).shape[2]), t), law.sections(x))
    flat = (x <= outside.x_head_run_out) | (x >= outside.x_heel_run_out)
    low = np.where(flat, [-outside.flat_depth(float(v)) for v in x], -1e3)[:, None]
    high = np.where(x < head.x_line, [head.face(float(v)) for v in x], 0.0)[:, None]
    z = [np.clip(halves[:, side, :, 1], low, high) for side in (0, 1)]
    area = np.trapezoid(halves[:, 0, :, 0], z[0], axis=1) - np.trapezoid(halves[:, 1, :, 0], z[1], axis=1)
    ends = polygon_area(law.head.path.polyline(per_arc=200)) * head.thickness / math.cos(math.radians(head.angle))
    return float(area @ weights) + ends + polygon_area(law.heel.path.polyline(per_arc=200)) * heel.depth


def fretboard_volume(layout: Layout) -> float:
    board = layout.fretboard

    def section(x: float) -> float:
        y, weights = gauss([-board.half_width(x), board.half_width(x)])
        return float(np.array([board.top(x, float(v)) for v in y]) @ weights)

    x, weights = gauss(np.linspace(board.x_start, board.x_end, 9).tolist())
    slots = sum(2 * board.half_width(s.x) * board.slot_width * board.slot_depth for s in board.slots)
    return float(np.array([section(float(v)) for v in x]) @ weights) - slots


def volumes(preset: str) -> dict[str, float]:
    layout = laid_out(preset)
    blank = polygon_area(np.array(layout.blank_profile)) * 2 * layout.blank_half_width
    return {
        "blank": blank - taken(layout),
        "neck": carved_volume(layout) - taken(layout),
        "fretboard": fretboard_volume(layout),
    }


FINE = {"blank": 0.05, "neck": 0.05, "fretboard": 0.005}  # deflection of the meshes, mm


@each_preset
def test_volumes_by_integral_by_solid_and_by_mesh(preset):
    parts, wanted = built(preset), volumes(preset)
    for name, value in wanted.items():
        # the integrals are exact to 1e-5 (trapezoid of 801 points; the slots' slight taper): 0.1 % is what is asked for
        assert volume(parts[name].solid) == pytest.approx(value, rel=2e-5), name
        mesh = mesh_of(parts[name].solid, FINE[name])
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(value, rel=1e-3), name
    assert volume(parts.carved) == pytest.approx(carved_volume(parts.layout), rel=2e-5)


@each_preset
def test_the_checks_neck_is_the_exact_one_less_its_chords(preset):
    """The checks' neck is a coarse carved mesh less the tools': inside the exact one by at most 0.2 mm of its skin."""
    ready = Bench(built(preset))
    mesh, exact = ready.mesh("neck"), ready.parts["neck"].solid
    skin = ready.neck.mesh.mesh.area_faces[ready.neck.skin].sum()
    assert 0 <= volume(exact) - mesh.volume <= 0.2 * skin
    box = exact.BoundingBox()
    wanted = [(box.xmin, box.ymin, box.zmin), (box.xmax, box.ymax, box.zmax)]
    np.testing.assert_allclose(mesh.bounds, wanted, atol=0.02)


# --- skin ------------------------------------------------------------------------------------------------------------
@each_preset
def test_the_finished_skin_follows_the_superellipse_within_a_hundredth(preset):
    """Points of the final neck's own spline faces along the shaft against the closed form, in their own section."""
    layout, neck = laid_out(preset), built(preset)["neck"].solid
    # on the head side of the head line the sides are wider than the shaft's law by design
    points = skin_points(neck, max(layout.outside.x_blend, layout.head.x_line), layout.heel.x_swell)
    assert len(points) > 1000
    assert np.ptp(points[:, 0]) > 0.9 * layout.heel.x_swell
    off = []
    for x, y, z in points:
        section = layout.back.section(float(x))
        round_it = section.points(1801)
        k = int(np.hypot(round_it[:, 0] - y, round_it[:, 1] - z).argmin())
        turn = np.linspace(0, math.pi, 1801)
        near = section.at(np.linspace(turn[max(k - 1, 0)], turn[min(k + 1, 1800)], 201))
        off.append(np.hypot(near[:, 0] - y, near[:, 1] - z).min())
    assert max(off) <= 0.01


def skin_points(solid, x_from: float, x_to: float) -> np.ndarray:
    """(n, 3) vertices, on the exact surface, of the spline faces between two x."""
    mesh = solid_mesh(solid, 0.05)
    splines = np.array([face is not None for face in mesh.surfaces])
    curved = np.array([kind == "BSPLINE" for kind in face_kinds(mesh)])
    own = mesh.triangles[(splines & curved)[mesh.face_of_triangle]].reshape(-1, 3)
    unique = np.unique(np.round(own, 6), axis=0)
    inside = unique[(unique[:, 0] >= x_from) & (unique[:, 0] <= x_to)]
    return inside[:: max(1, len(inside) // 3000)]


def face_kinds(mesh) -> list[str]:
    import cadquery as cq

    return [cq.Face(face).geomType() for face in mesh.faces]


# --- symmetry, names, kinds of faces ---------------------------------------------------------------------------------
@each_preset
@pytest.mark.parametrize("part", ["neck", "fretboard"])
def test_mirrored_points_lie_on_the_part_again(preset, part):
    """Garganey's tuners are not the same on both sides: its carved neck is looked at instead."""
    parts = built(preset)
    solid = parts.carved if (preset, part) == ("garganey", "neck") else parts[part].solid
    mesh = solid_mesh(solid, 0.2)
    corners = np.unique(np.round(mesh.triangles.reshape(-1, 3), 6), axis=0)
    chosen = corners[:: max(1, len(corners) // 60)] * np.array([1.0, -1.0, 1.0])
    assert len(chosen) >= 50
    assert np.abs(chosen[:, 1]).max() > 20
    assert max(point_to_faces(point, mesh.faces)[0] for point in chosen) <= 1e-4
    assert solid.Center().y == pytest.approx(0.0, abs=1e-4)


@each_preset
def test_names_and_order_of_the_parts(preset):
    layout = laid_out(preset)
    bars = [bar.name for bar in layout.bars]
    screws = [f"screw-{k + 1}" for k in range(len(layout.screws))]
    tuners = [f"tuner-{k + 1}" for k in range(len(layout.design.head.tuners))]
    expected = ["board", "blank", "neck", "fretboard", "nut", "rod", "adjusting-key", *bars, *screws, *tuners]
    assert [part.name for part in built(preset).parts] == expected
    assert bars == (["bar-1", "bar-2"] if preset == "garganey" else [])


@each_preset
def test_what_a_router_cuts_is_planes_and_cylinders(preset):
    parts = built(preset)
    assert {face.geomType() for face in parts["blank"].solid.Faces()} == {"PLANE", "CYLINDER"}
    assert {face.geomType() for face in parts["board"].solid.Faces()} == {"PLANE"}
    neck = parts["neck"].solid.Faces()
    assert {face.geomType() for face in neck} == {"PLANE", "CYLINDER", "BSPLINE"}
    head, heel = parts.layout.head, parts.layout.heel
    for face in neck:
        if face.geomType() == "BSPLINE":  # the carved skin and nothing else
            box = face.BoundingBox()
            assert head.x_swell - 1e-3 <= box.xmin
            assert box.xmax <= heel.x_joint + 1e-3
    floors = [face for face in neck if face.geomType() == "PLANE" and face.normalAt().z > 0.9999]
    for step in parts.layout.steps:
        at_depth = [f for f in floors if abs(f.Center().z + step.depth) < 1e-6 and abs(f.Center().y - step.y) < 1e-6]
        area = sum(face.Area() for face in at_depth)
        assert area > 0.9 * step.width * (min(step.x_end, heel.x_end) - max(step.x_start, head.x_line)), step.name
    assert {face.geomType() for face in parts["fretboard"].solid.Faces()} == {"PLANE", "BEZIER"}
