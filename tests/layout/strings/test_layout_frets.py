"""Frets, strings and fretboard against equal temperament, closed forms and published tables."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import plain

from neckmodel.layout import lay_out
from neckmodel.layout.fretboard.crown import crown_drop
from neckmodel.layout.fretboard.slots import slot_numbers
from neckmodel.layout.neck.outside import one_piece_height
from neckmodel.layout.strings.action import height_at_bridge, neck_angle
from neckmodel.layout.strings.frets import fret_distance
from neckmodel.layout.strings.strings import string_positions

# Frets 1 to 24 for a scale of 25.5 in = 647.7 mm, to 0.001 mm: equal temperament as tabulated for this round inch
# length; the semitone ratio is 1.059463094359295
TABLE_647_7 = (
    (1, 36.353),
    (2, 70.665),
    (3, 103.051),
    (5, 162.473),
    (7, 215.412),
    (12, 323.850),
    (17, 405.087),
    (19, 431.556),
    (22, 465.945),
    (24, 485.775),
)


@pytest.mark.parametrize(("number", "x"), TABLE_647_7)
def test_fret_table_of_a_25_5_inch_scale(number, x):
    assert float(fret_distance(25.5 * 25.4, number)) == pytest.approx(x, abs=5e-4)


@given(st.floats(300, 900), st.integers(0, 36))
def test_each_fret_raises_the_open_string_by_its_semitones(scale, number):
    """Mersenne's law: the pitch is inverse to the length left, and twelve equal semitones make an octave."""
    left = scale - float(fret_distance(scale, number))
    assert 1200 * math.log2(scale / left) == pytest.approx(100 * number, abs=1e-9)


def test_octaves_lie_at_a_half_and_three_quarters():
    assert fret_distance(640.0, [12, 24]) == pytest.approx([320.0, 480.0], abs=1e-12)


def by_the_workshop_rule(scale, divisor, frets):
    """Each fret takes 1/divisor of what remains of the scale length."""
    left, placed = scale, [0.0]
    for _ in range(frets):
        left -= left / divisor
        placed.append(scale - left)
    return placed


def test_the_old_workshop_rule_comes_to_the_same():
    """By steps from fret to fret: with the exact divisor to rounding, with the workshop's 17.817 to 0.01 mm."""
    frets = fret_distance(640.0, np.arange(37))
    assert by_the_workshop_rule(640.0, 1 / (1 - 2 ** (-1 / 12)), 36) == pytest.approx(frets, abs=1e-10)
    assert by_the_workshop_rule(640.0, 17.817, 36) == pytest.approx(frets, abs=0.01)


def test_outline_with_even_margins():
    board = lay_out(plain()).fretboard
    assert 2 * board.half_width(0.0) == pytest.approx(43.0, abs=1e-12)
    assert board.x_end == pytest.approx(468.406, abs=5e-4)
    assert 2 * board.half_width(board.x_end) == pytest.approx(54.710, abs=5e-4)


def test_outline_with_a_wider_margin_at_the_last_fret():
    board = lay_out(plain("fretboard.edge_margin={nut = 3.5, last_fret = 4.0}")).fretboard
    x_last = board.x_end - 8.0
    assert 2 * board.half_width(x_last) == pytest.approx(55.510, abs=5e-4)
    strung_12 = (36.0 + 52.0) / 4  # half the outer strings' distance half way to the bridge
    assert board.half_width(320.0) - strung_12 == pytest.approx(3.848, abs=5e-4)


def test_stated_widths_give_the_margins():
    board = lay_out(plain("fretboard.width={nut = 43.0, end = 56.0}")).fretboard
    assert (2 * board.half_width(0.0), 2 * board.half_width(board.x_end)) == pytest.approx((43.0, 56.0))
    x_last = board.x_end - 8.0
    assert board.margin_last == pytest.approx(board.half_width(x_last) - 18.0 - 8.0 * x_last / 640.0, abs=1e-12)


SET = (1.17, 0.91, 0.66, 0.46, 0.33, 0.25)


def test_even_gaps():
    y = string_positions(36.0, SET, "gaps")
    assert y == pytest.approx((-18.0, -10.374, -3.003, 4.143, 11.124, 18.0), abs=5e-4)
    d = np.array(SET)
    assert np.diff(y) - (d[:-1] + d[1:]) / 2 == pytest.approx([6.586] * 5, abs=5e-4)


def test_even_centres():
    assert np.diff(string_positions(36.0, SET, "centres")) == pytest.approx([7.2] * 5, abs=1e-12)


def test_crown_and_slots():
    """Sagitta of a circle in closed form: R - sqrt(R**2 - (w/2)**2)."""
    sag = crown_drop(305.0, 28.0)
    assert sag == pytest.approx(1.288, abs=5e-4)
    assert slot_numbers(6.0, 2.3, sag, "curved") == pytest.approx((2.412, 2.3), abs=5e-4)
    assert slot_numbers(6.0, 2.3, sag, "flat") == pytest.approx((3.700, 1.012), abs=5e-4)
    tight = crown_drop(180.0, 28.0)
    assert slot_numbers(6.0, 2.3, tight, "curved")[0] == pytest.approx(1.509, abs=5e-4)
    assert slot_numbers(6.0, 2.3, tight, "flat") == pytest.approx((3.700, 0.109), abs=5e-4)
    assert crown_drop(math.inf, 28.0) == 0.0


def test_slots_of_a_laid_out_fretboard():
    board = lay_out(plain("fretboard.radius=305.0")).fretboard
    last = board.slots[-1]
    drop = 305.0 - math.sqrt(305.0**2 - board.half_width(last.x) ** 2)
    assert (last.fret, last.wood_below) == (22, pytest.approx(6.0 - 2.3 - drop, abs=1e-12))


def test_crown_radius_beyond_the_ends_stays_as_at_the_end():
    """A fretboard that ends before fret 12 still says how high its strings lie there."""
    changes = ("fretboard.frets=10", "neck.joint_fret=10", "fretboard.radius={nut = 900.0, end = 150.0}")
    layout = lay_out(plain(*changes, "rod.length=300", "heel.wood_ends_at=295"))
    board = layout.fretboard
    assert board.x_end < 320.0
    assert (board.radius(320.0), board.radius(board.x_end), board.radius(-9.0)) == (150.0, 150.0, 900.0)
    outer = layout.frets.strings[0]
    assert outer.z_12 == pytest.approx(6.0 - (150.0 - math.sqrt(150.0**2 - 22.0**2)) + 1.1 + 1.8, abs=1e-9)


def test_strings_over_the_frets():
    layout = lay_out(plain("action.at_nut=0.4", "action.at_12=2.0", 'fretboard.radius="flat"'))
    string = layout.frets.strings[2]
    assert string.z(0.0) == pytest.approx(6.0 + 1.1 + 0.4)
    assert string.z(320.0) == pytest.approx(6.0 + 1.1 + 2.0)
    over_frets = string.z(640.0) - 6.0 - 1.1
    assert over_frets == pytest.approx(height_at_bridge(2.0, 0.4), abs=1e-12)


def test_neck_angle():
    strings = height_at_bridge(2.0, 0.4)
    x_joint = float(fret_distance(642.0, 14))
    assert strings == pytest.approx(3.6)
    assert neck_angle(642.0, x_joint, 16.0, strings, 7.2) == pytest.approx(1.0417, abs=5e-5)


def test_stock_of_a_one_piece_head():
    assert one_piece_height(190.0, 14.5, 13.0) == pytest.approx(56.87, abs=5e-3)
