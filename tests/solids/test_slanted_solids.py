"""Slanted fretboards and nuts as solids: against plane areas, circles and places worked here, not by the layout."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from scale_samples import fretted, laid_out, plain, two

from neckmodel.checks.bench import Bench
from neckmodel.checks.wood.cover import check_cover
from neckmodel.checks.wood.glue import check_glue
from neckmodel.checks.wood.slots import check_slots
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.solids import build
from neckmodel.solids.fretboard import fretboard_solid, volume_of
from neckmodel.solids.hardware.hardware import nut_solid
from neckmodel.solids.kernel.gate import is_sound, volume

SLANTED = (*two(680, 648, 9), "fretboard.frets=22")


def shoelace(points: list[tuple[float, float]]) -> float:
    x, y = np.array(points).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def height(board: Fretboard, x: float, y: float) -> float:
    """z of the crown by the circle of the radius at x, linear in x through both ends' radii."""
    if math.isinf(board.radius_nut):
        return board.thickness
    radius = board.radius_nut + (board.radius_end - board.radius_nut) * x / board.x_end
    return board.thickness - radius + math.sqrt(radius**2 - y**2)


def tops(solid: object, points: np.ndarray) -> np.ndarray:
    """z at which an upright line through each point (x, y) leaves the solid."""
    finder = IntCurvesFace_ShapeIntersector()
    finder.Load(solid.wrapped, 1e-9)  # type: ignore[attr-defined]
    found = []
    for x, y in points:
        finder.Perform(gp_Lin(gp_Pnt(float(x), float(y), -5.0), gp_Dir(0.0, 0.0, 1.0)), 0.0, 60.0)
        found.append(max(finder.Pnt(k + 1).Z() for k in range(finder.NbPnt())))
    return np.array(found)


def on_slot(board: Fretboard, number: int, shares: np.ndarray, off: float) -> np.ndarray:
    """(n, 2) points along a fret slot at shares of its length, `off` mm square to its middle line."""
    slot = next(slot for slot in board.slots if slot.fret == number)
    (x0, y0), (x1, y1) = board.line(slot.x, slot.slope)
    along = np.array([x1 - x0, y1 - y0])
    square = np.array([along[1], -along[0]]) / np.linalg.norm(along)
    return np.array([x0, y0]) + shares[:, None] * along + off * square


@pytest.mark.parametrize("end", ["fretboard.ends_at=490", "fretboard.past_last_fret=8"])
def test_volume_of_a_flat_one_by_plane_areas(end: str) -> None:
    """Outline by the shoelace formula, each slot a strip of its width between the edges."""
    board = laid_out(*SLANTED, 'fretboard.radius="flat"', end).fretboard
    whole = shoelace([*board.start, *board.end[::-1]]) * 6.0
    taken = sum(shoelace([*one, *other[::-1]]) * 2.3 for one, other in (board.slot_lines(s) for s in board.slots))
    assert volume(fretboard_solid(board)) == pytest.approx(whole - taken, rel=1e-9)
    one, other = board.slot_lines(board.slots[0])
    (ax, ay), (bx, by) = one
    cx, cy = other[0]
    width = abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / math.dist(*one)
    assert width == pytest.approx(0.6, abs=1e-9)  # square to the slot


@pytest.mark.parametrize("radius", ["250.0", "{nut = 240.0, end = 400.0}"])
@pytest.mark.parametrize("zero", ["true", "false"])
def test_crown_and_slots_by_circles(radius: str, zero: str) -> None:
    board = laid_out(*SLANTED, f"fretboard.radius={radius}", f"fretboard.zero_fret={zero}").fretboard
    solid = fretboard_solid(board)
    shares = np.linspace(0.01, 0.99, 9)
    for number in (1, 9, 16, 22, *((0,) if zero == "true" else ())):
        floor = on_slot(board, number, shares, 0.28)
        assert tops(solid, floor) == pytest.approx([height(board, x, y) - 2.3 for x, y in floor], abs=1e-6)
        beside = on_slot(board, number, shares, -0.32)
        assert tops(solid, beside) == pytest.approx([height(board, x, y) for x, y in beside], abs=1e-6)


def test_a_constant_radius_still_gives_real_cylinders() -> None:
    solid = fretboard_solid(laid_out(*SLANTED, "fretboard.radius=250").fretboard)
    kinds = [face.geomType() for face in solid.Faces()]
    assert kinds.count("CYLINDER") == 23 + 22
    assert set(kinds) == {"CYLINDER", "PLANE"}


def test_the_nut_as_a_slanted_block() -> None:
    layout = laid_out(*SLANTED, "nut.thickness=5", "nut.height=8.5")
    solid = nut_solid(layout.nut)
    (x0, y0), (x1, y1) = layout.fretboard.start
    assert volume(solid) == pytest.approx(math.hypot(x1 - x0, y1 - y0) * 5.0 * 8.5, rel=1e-2)  # ends not square to it
    corners = {(round(v.X, 6), round(v.Y, 6)) for v in solid.Vertices()}
    assert {(round(x0, 6), round(y0, 6)), (round(x1, 6), round(y1, 6))} < corners


# six: each has its crown, its slots and both slanted ends, so that a wrong law shows in nearly any of them
@settings(max_examples=6, deadline=None)
@given(fretted())
def test_any_fretboard_is_a_sound_solid_of_its_volume(overrides: tuple[str, ...]) -> None:
    hold(overrides)


@pytest.mark.sweep
@settings(max_examples=80, deadline=None)
@given(fretted())
def test_eighty_fretboards_are_sound_solids_of_their_volume(overrides: tuple[str, ...]) -> None:
    hold(overrides)


def hold(overrides: tuple[str, ...]) -> None:
    try:
        board = lay_out(plain(*overrides)).fretboard
    except DesignError:
        assume(False)
    solid = fretboard_solid(board)
    assert is_sound(solid)
    assert volume(solid) == pytest.approx(volume_of(board, board.slots), rel=1e-7)
    box = solid.BoundingBox()
    assert (box.xmin, box.xmax) == pytest.approx((board.x_first, board.x_last), abs=1e-4)


@pytest.mark.parametrize("floor", ["curved", "flat"])
def test_volume_by_counting(floor: str) -> None:
    """The same volume by a million points, one in each cell of a grid: heights summed over what lies in the plan."""
    board = laid_out(*SLANTED, "fretboard.radius=250", f"fretboard.fret_slot.floor={floor}").fretboard
    rng = np.random.default_rng(7)
    low, high = board.x_first, board.x_last
    half = board.half_width(high)
    cells = np.indices((2000, 500)) + rng.uniform(0, 1, (2, 2000, 500))
    x, y = low + (high - low) * cells[0] / 2000, half * (2 * cells[1] / 500 - 1)
    inside = (np.abs(y) < board.half_width(x)) & (x > board.x_start + board.slope_start * y)
    inside &= x < board.x_end + board.slope_end * y
    z = board.thickness - 250 + np.sqrt(250**2 - y**2)
    for slot in board.slots:
        cut = np.abs(x - slot.x - slot.slope * y) < 0.3 * math.hypot(1, slot.slope)
        z = np.where(cut, z - 2.3 if floor == "curved" else np.minimum(z, board.thickness - 2.3), z)
    counted = (high - low) * 2 * half * float((z * inside).mean())
    assert volume(fretboard_solid(board)) == pytest.approx(counted, rel=1e-4)


@pytest.fixture(scope="module")
def built() -> tuple[Layout, Bench]:
    layout = laid_out(
        *SLANTED, "fretboard.radius=250", "fretboard.ends_at=490", "heel.wood_ends_at=490", "bars.from_nut=7"
    )
    return layout, Bench(build(layout))


def test_slots_are_measured_along_their_slanted_lines(built: tuple[Layout, Bench]) -> None:
    layout, bench = built
    wood, edge = check_slots(bench)
    board = layout.fretboard
    edges = [(height(board, x, y) - 2.3, x) for s in board.slots for x, y in board.line(s.x, s.slope)]
    assert wood.measured == pytest.approx(min(edges)[0], abs=0.02)
    assert edge.measured == pytest.approx(2.3, abs=0.02)
    assert wood.at is not None
    assert wood.at.x == pytest.approx(min(edges)[1], abs=0.5)


def test_cover_and_glue_over_a_slanted_nut(built: tuple[Layout, Bench]) -> None:
    layout, bench = built
    (cover,), (glue,) = check_cover(bench), check_glue(bench)
    board, step = layout.fretboard, layout.steps[0]
    nut = step.x_start / board.slope_start  # where the nut's line crosses the channel's start, on the treble side
    assert 0 < nut < board.half_width(step.x_start)
    assert cover.measured == pytest.approx(nut - step.width / 2, abs=0.01)
    assert glue.measured == pytest.approx(min(abs(y) for _, y in board.start), abs=0.02)  # nothing is open at the nut
