"""Bending: closed forms, published examples, and relief against a finite-element frame."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from strength_samples import PRESETS, frame_relief, laid_out, worked, worked_wood

from neckmodel.design.rules.calibration import blank_modulus
from neckmodel.geometry.types import Floats
from neckmodel.strength.bending.beam import deflection, off_chord, relief
from neckmodel.strength.estimate import estimate
from neckmodel.strength.sections.cells import cell_edges, middles
from neckmodel.strength.sections.neck import fretboard_moments, neck_sections
from neckmodel.strength.sections.section import Moments, rectangle, stiffness
from neckmodel.strength.strings.pull import pull_of

Law = Callable[[Floats], Floats]


def tip(stiff: Law, load: float, length: float, cells: int = 4000, breaks: tuple[float, ...] = ()) -> float:
    """Deflection of a cantilever's tip under a load there; x runs from the wall."""
    edges = cell_edges([0.0, *breaks, length], cells)
    x = middles(edges)
    return float(deflection(edges, load * (length - x) / stiff(x))[-1])


def test_cantilever_whose_width_tapers_to_nothing() -> None:
    """Harris, Introduction to Stress Analysis, page 114 (as quoted in a frame program's verification manual): 10 lbf,
    30e6 psi, 3 in wide and 0.5 in deep at the wall, 20 in long: 0.04267 in, 1600 psi everywhere."""
    inertia = 3 * 0.5**3 / 12
    found = tip(lambda x: 30e6 * inertia * (1 - x / 20), 10.0, 20.0)
    assert found == pytest.approx(0.04267, abs=5e-6)
    assert 10 * 20 / (inertia / 0.25) == pytest.approx(1600)


@pytest.mark.parametrize(
    ("grow", "answer"),
    [
        (lambda u: 1 + u, math.log(2) - 0.5),  # Megson, example 13.14 prints 0.19
        (lambda u: (1 + u) ** 3, math.log(2) - 0.625),
        (lambda u: (1 + u) ** 4, 1 / 24),  # also an example of Gere's (from memory)
    ],
)
def test_cantilevers_that_grow_toward_the_wall(grow: Law, answer: float) -> None:
    assert tip(lambda x: grow(1 - x), 1.0, 1.0) == pytest.approx(answer, rel=1e-6)


def test_stepped_cantilever() -> None:
    """Outer half I, inner half 2 I: 3 P L3/(16 E I); exact where a cell's edge lies on the step."""
    found = tip(lambda x: np.where(x < 50, 2.0, 1.0), 1.0, 100.0, breaks=(50.0,))
    assert found == pytest.approx(3 / 16 * 100**3, rel=1e-6)


@pytest.mark.parametrize(
    ("stiff", "answer"),
    [
        (lambda u: np.ones_like(u), 0.125),
        (lambda u: np.where(u < 0.5, 1.0, 2.0), 3 / 32),
        (lambda u: 1 + u, 0.084950),
        (lambda u: (1 + 0.25 * u) ** 3, 0.088889),
    ],
)
def test_pinned_beams_under_an_even_moment(stiff: Law, answer: float) -> None:
    """Deflection in the middle, by integration: M L2/(EI) x 1/8, 3/32, 0.084950, 0.088889."""
    edges = cell_edges([0.0, 0.5, 1.0], 2000)
    below = off_chord(edges, 1 / stiff(middles(edges)), 0.0, 1.0)
    assert float(np.interp(0.5, edges, below)) == pytest.approx(answer, abs=5e-7)


@pytest.mark.parametrize(
    ("moment", "answer"),
    [
        (lambda u: u, 1 / 16),  # M at one end: M L2/(16 EI)
        (lambda u: np.minimum(u, 1 - u) / 2, 1 / 48),  # P in the middle: P L3/(48 EI)
        (lambda u: u * (1 - u) / 2, 5 / 384),  # w evenly: 5 w L4/(384 EI)
    ],
)
def test_pinned_beams_of_the_formula_lists(moment: Law, answer: float) -> None:
    edges = cell_edges([0.0, 0.5, 1.0], 2000)
    below = off_chord(edges, moment(middles(edges)), 0.0, 1.0)
    assert float(np.interp(0.5, edges, below)) == pytest.approx(answer, rel=2e-6)


def test_cantilevers_of_the_formula_lists() -> None:
    """P at the tip: P L3/(3 EI), slope P L2/(2 EI); M at the tip: M L2/(2 EI)."""
    edges = cell_edges([0.0, 1.0], 2000)
    bent = deflection(edges, 1 - middles(edges))
    assert float(bent[-1]) == pytest.approx(1 / 3, rel=1e-6)
    assert float((bent[-1] - bent[-2]) / (edges[-1] - edges[-2])) == pytest.approx(1 / 2, rel=1e-6)
    assert float(deflection(edges, np.ones(len(edges) - 1))[-1]) == pytest.approx(1 / 2, rel=1e-12)


def test_even_curvature_is_exact_at_any_number_of_cells() -> None:
    edges = cell_edges([0.0, 450.0], 3)
    found, x = relief(edges, np.full(len(edges) - 1, 12_000 / (13_860 * 50 * 20**3 / 12)), 0.0, 450.0)
    assert x == pytest.approx(225.0)
    assert found == pytest.approx(12_000 * 450**2 / (8 * 13_860 * 50 * 20**3 / 12), rel=1e-12)


def test_rod_force_off_the_centroid() -> None:
    """2000 N, 6 mm off the centroid of 50 x 20, 13,860 MPa, 450 mm: 0.657468 mm in the middle (closed form)."""
    edges = cell_edges([0.0, 225.0, 450.0])
    found, _ = relief(edges, np.full(len(edges) - 1, 12_000 / (13_860 * 33_333.3333)), 0.0, 450.0)
    assert found == pytest.approx(0.657468, abs=5e-7)
    radius = 13_860 * 33_333.3333 / 12_000
    assert radius == pytest.approx(38_500, abs=0.5)
    assert radius * (1 - math.cos(225 / radius)) == pytest.approx(0.657466, abs=5e-7)  # an arc 450 mm long


def test_hollow_is_relief_and_the_sign_follows_the_moment() -> None:
    edges = cell_edges([0.0, 100.0])
    up, _ = relief(edges, np.full(len(edges) - 1, 1e-5), 0.0, 100.0)
    down, _ = relief(edges, np.full(len(edges) - 1, -1e-5), 0.0, 100.0)
    assert up > 0
    assert down == pytest.approx(-up)


def test_dead_weight_on_the_blank() -> None:
    """60 x 20 on 500 mm, 50 N: 0.258 mm at 12.6 GPa (P L3/(48 EI)); backwards the modulus."""
    sag = 50 * 500**3 / (48 * 12_600 * 60 * 20**3 / 12)
    assert sag == pytest.approx(0.258, abs=5e-4)
    assert blank_modulus(50.0, 500.0, 60.0, 20.0, sag) == pytest.approx(12_600)


def test_stiffness_from_strung_and_unstrung_relief() -> None:
    """An even neck gives its own EI back."""
    edges = cell_edges([0.0, 200.0, 400.0])
    change, _ = relief(edges, np.full(len(edges) - 1, 8000 / 3.9e8), 0.0, 400.0)
    assert 8000.0 * 400.0**2 / (8 * change) == pytest.approx(3.9e8, rel=1e-9)  # EI = M c**2/(8 f), a circular arc


def test_cells_end_at_every_break() -> None:
    edges = cell_edges([0.0, 33.3, 33.4, 400.0], 400)
    assert len(edges) > 400
    assert {0.0, 33.3, 33.4, 400.0} <= set(edges.tolist())
    assert (np.diff(edges) > 0).all()


def worked_relief(scale: float = 1.0, cells: int = 400, flat: float | None = None) -> tuple[float, float]:
    """(relief, the fret where it lies) of the worked neck: 700 N at 7.4 rising to 10.6 over the scale; 12,600 and
    14,000 MPa. flat: a fretboard of this even thickness instead of the crowned one."""
    layout = worked()
    edges, x, wood = worked_wood(layout, cells)
    board: Moments = fretboard_moments(layout.fretboard, x)[0]
    if flat is not None:
        board = rectangle(2 * (layout.fretboard.half_nut + layout.fretboard.slope * x), 0.0, flat)
    whole = stiffness([(12_600 * scale, wood), (14_000 * scale, board)])
    moment = 700 * (7.4 + 3.2 * x / 640 - whole.neutral)
    found, at = relief(edges, moment / whole.bending, layout.frets.x(1), layout.heel.x_joint)
    return found, -12 * math.log2(1 - at / 640)


def test_relief_worked_by_hand() -> None:
    """0.334 mm at fret 6.8; 0.274 to 0.428 with moduli 22 % up and down; 0.525 with a flat fretboard 3.5 thick."""
    found, fret = worked_relief()
    assert found == pytest.approx(0.334, abs=5e-4)
    assert fret == pytest.approx(6.8, abs=0.05)
    assert worked_relief(1.22)[0] == pytest.approx(0.274, abs=5e-4)
    assert worked_relief(0.78)[0] == pytest.approx(0.428, abs=5e-4)
    assert worked_relief(flat=3.5)[0] == pytest.approx(0.525, abs=5e-4)


def test_four_hundred_cells_are_enough() -> None:
    assert worked_relief(cells=400)[0] == pytest.approx(worked_relief(cells=6400)[0], rel=1e-5)


def _frame_relief(name: str) -> tuple[float, float]:
    """(relief by a finite-element frame, by the double integral) of a preset without its rod. At the nut the strings'
    pull acts along their own line, at their own height."""
    layout = laid_out(name)
    x_1, x_joint = layout.frets.x(1), layout.heel.x_joint
    sections = neck_sections(layout, 0.0, x_joint, 100)
    whole = sections.stiffness((13_860,), 13_530, [125_000.0] * len(sections.bars))
    load = estimate(layout).load
    own, _ = relief(sections.edges, load.moment(sections.x, whole.neutral) / whole.bending, x_1, x_joint)
    slope = math.atan((load.z_bridge - load.z_nut) / load.scale)
    along, up = load.pull * math.cos(slope), load.pull * math.sin(slope)
    return frame_relief(sections.edges, whole, [(0, along, up, load.z_nut)], x_1, x_joint), own


@pytest.mark.parametrize("name", [*PRESETS, "wheatear", "whimbrel"])
def test_relief_against_a_finite_element_frame(name: str) -> None:
    frame, own = _frame_relief(name)
    assert frame == pytest.approx(own, rel=0.005)  # 0.0034 at most, where the neutral axis itself slopes most


def test_pull_on_a_preset_is_the_sum_of_its_strings() -> None:
    layout = laid_out("dunnock")
    assert estimate(layout).load.pull == pytest.approx(pull_of(layout.design.strings).total, rel=1e-12)
