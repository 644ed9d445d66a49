"""Sizes that can be bought or cut: on the safe side of what is asked for, in the file's own system."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.design.defaults.trade import KNOWN, WASHERS, size_words, sizes_of

KEYS = [
    "rod_place.from_nut",
    "heel.screws.0.length",
    "rod.washer.diameter",
    "rod.anchor.width",
    "workshop.cutters.1.diameter",
    "adjusting_key.length",
    "rod.length",
    "board.thickness",
    "fretboard.fret_slot.depth",
    "neck.thickness.fret_1",
    "channel.wider_by",
]


@given(st.sampled_from(KEYS), st.sampled_from(("mm", "in")), st.floats(0.01, 450.0), st.booleans())
def test_a_size_keeps_to_its_side(key: str, unit: str, value: float, fine: bool) -> None:
    """And lies no farther off than the widest gap: from nothing to the shortest key that is sold, 4 in."""
    sizes = sizes_of(key, unit)
    value = min(value, sizes.sold[-1]) if sizes.sold and not fine else value
    above, below = sizes.up(value, fine=fine), sizes.down(value, fine=fine)
    assert below <= value + 1e-6
    assert above >= value - 1e-6
    assert above - below <= 4 * 25.4 + 1e-6


# ISO 7089:2000, plain washers, outside diameters for M3 to M16, from a published copy of its table
ISO_7089 = (7.0, 9.0, 10.0, 12.0, 16.0, 20.0, 24.0, 28.0, 30.0)


def test_metric_washers_are_those_of_the_standard() -> None:
    assert set(ISO_7089) <= set(WASHERS)
    assert sizes_of("rod.washer.diameter", "mm").up(9.43) == 10.0


@pytest.mark.parametrize(
    ("key", "value", "up"),
    [
        ("heel.screws.3.length", 39.01, 40.0),
        ("heel.screws.3.length", 45.0, 45.0),
        ("rod.length", 387.1, 390.0),
        ("rod_place.from_nut", 31.02, 31.5),
        ("neck.thickness.fret_1", 19.341, 19.4),
        ("board.thickness", 24.2, 25.0),
        ("workshop.cutters.0.diameter", 5.01, 6.0),
    ],
)
def test_metric_sizes(key: str, value: float, up: float) -> None:
    assert sizes_of(key, "mm").up(value) == up


def test_a_rough_board_comes_in_sawn_thicknesses() -> None:
    assert sizes_of("board.thickness", "mm", rough=True).up(24.2) == 26.0
    assert sizes_of("board.thickness", "in", rough=True).up(26.0) == pytest.approx(1.25 * 25.4)


def test_inch_sizes_are_whole_fractions_of_an_inch() -> None:
    """A file in inches is told 1 3/4, 7/16 and 1/32 steps, never a metric size turned round."""
    screw = sizes_of("heel.screws.0.length", "in").up(39.0) / 25.4
    washer = sizes_of("rod.washer.diameter", "in").up(10.2) / 25.4
    place = sizes_of("rod_place.from_nut", "in").up(31.02) / 25.4
    assert screw == pytest.approx(1.75)
    assert washer == pytest.approx(7 / 16)
    assert place * 32 == pytest.approx(round(place * 32), abs=1e-4)
    assert Fraction(round(place * 32), 32) - Fraction(31.02) / Fraction(25.4) < Fraction(1, 32)


def test_what_is_sold_is_listed_in_order() -> None:
    for metric, imperial in KNOWN.values():
        for sizes in (metric, imperial):
            assert list(sizes.sold) == sorted(set(sizes.sold))
            assert 0 < sizes.fine <= sizes.step


def test_a_size_has_no_more_decimals_than_it_needs() -> None:
    assert [size_words(value) for value in (450.0, 19.4, 44.45, 0.001, -0.001)] == ["450", "19.4", "44.45", "0", "0"]
