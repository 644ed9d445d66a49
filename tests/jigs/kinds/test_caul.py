"""The clamping caul: its volume by quadrature of the crown's formula, its grooves, its pieces."""

from __future__ import annotations

import numpy as np
import pytest
from jig_runs import drafted, inspected, key_area
from neck_runs import laid_out

from neckmodel.solids.kernel.gate import volume

POINTS, WEIGHTS = np.polynomial.legendre.leggauss(40)


def over_crown(preset: str, x0: float, x1: float, top: float) -> float:
    """Room between the crown and the level `top`, 2 mm beyond the edges, by Gauss quadrature in x and y."""
    board, total = laid_out(preset).fretboard, 0.0
    for x, wx in zip((x0 + x1) / 2 + (x1 - x0) / 2 * POINTS, WEIGHTS * (x1 - x0) / 2, strict=True):
        half = board.half_width(float(x)) + 2.0
        radius = board.radius_nut + (board.radius_end - board.radius_nut) * x / board.x_end
        drop = radius - np.sqrt(radius**2 - (half * POINTS) ** 2)
        total += wx * half * float((WEIGHTS * (top - board.thickness + drop)).sum())
    return total


def test_redpoll_s_caul_is_what_lies_over_the_crown_less_its_grooves() -> None:
    """Grooves 3.6 wide, 1.6 high over the crown's middle; each takes less than its box by the crown's share."""
    layout, draft = laid_out("redpoll"), drafted("redpoll", "caul")
    board = layout.fretboard
    (whole,) = draft.wholes
    solid = over_crown("redpoll", 2.0, board.x_end - 2.0, board.thickness + 18.0)
    grooves = sum(over_crown("redpoll", f.x - 1.8, f.x + 1.8, board.thickness + 1.6) for f in layout.frets.frets)
    assert volume(whole.solid) == pytest.approx(solid - grooves, rel=2e-5)


def test_the_grooves_clear_the_frets_and_the_face_is_the_crown() -> None:
    found = inspected("redpoll", "caul")["jig/crown"]
    assert found.measured is not None
    assert found.measured < 0.02
    assert found.more["grooves"] == 22
    assert found.more["over_frets"] == pytest.approx(0.5, abs=1e-6)


def test_the_joints_clearance_by_closed_form() -> None:
    """Two joints of two keys; the caul is 18 high in the middle, higher beside it by the crown's drop."""
    (whole,) = drafted("redpoll", "caul").wholes
    flat = 4 * (key_area(0.2) - key_area()) * 18.0
    assert flat < whole.clearance < 1.06 * flat


def test_a_narrow_caul_has_one_key() -> None:
    (whole,) = drafted("pipit", "caul", "fretboard.radius=flat").wholes
    assert whole.clearance == pytest.approx((key_area(0.2) - key_area()) * 18.0, rel=1e-9)
