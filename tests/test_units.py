"""Lengths: exact against the definition of the inch, and round trips over the whole range of a neck."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.units import from_mm, to_mm

# 1 in = 25.4 mm exactly (international yard and pound agreement, 1959; NIST SP 811, appendix B.8, from memory)
EXACT = {
    "7/32 in": 5.55625,
    "25.5 in": 647.7,
    "25.2 in": 640.08,
    "1 1/2 in": 38.1,
    "1-1/2 in": 38.1,
    '25.5"': 647.7,
    "-1/8 in": -3.175,
    ".5in": 12.7,
    "5. mm": 5.0,
    " 6 mm ": 6.0,
    "+6mm": 6.0,
    "2.54 cm": 25.4,
    "1 inch": 25.4,
    "1/64 in": 0.396875,
    "0 mm": 0.0,
    "25.2 inches": 640.08,
    "25.2inches": 640.08,
    "7/32\u2033": 5.55625,
}


@pytest.mark.parametrize(("text", "millimetres"), EXACT.items())
def test_texts_are_exact(text: str, millimetres: float) -> None:
    assert to_mm(text) == millimetres
    assert to_mm(text, "in") == millimetres, "a text carries its own unit, whatever the file's"


def test_bare_numbers_are_in_the_files_unit() -> None:
    assert to_mm(640, "mm") == 640.0
    assert to_mm(640.25, "mm") == 640.25
    assert to_mm(25.5, "in") == 647.7, "in binary floating point 25.5 * 25.4 is 647.6999999999999"
    assert to_mm(1, "in") == 25.4


@pytest.mark.parametrize(
    "value",
    [
        *("5", "5,5 mm", "1/0 in", "5 ft", "", "mm", "1/2/3 in", "5 mm 3", "1e3 mm", "\u0665 mm", "9" * 41 + " mm"),
        *(True, None, [], {}, math.nan, math.inf, -math.inf, 10**400),
    ],
)
def test_what_is_no_length_is_refused_with_an_example(value: object) -> None:
    with pytest.raises(ValueError, match=r'5\.5 \(mm, the unit of the file\), "5\.5 mm" or "7/32 in"'):
        to_mm(value)


@pytest.mark.parametrize(
    ("text", "inches"), [("1/4", "1/4"), ("1 1/2", "3/2"), ("3-1/8", "25/8"), (" -7/16 ", "-7/16"), ("+5/32", "5/32")]
)
def test_a_fraction_without_a_unit_is_of_an_inch_and_asked_about_in_a_file_in_mm(text: str, inches: str) -> None:
    assert to_mm(text, "in") == float(Fraction(inches) * Fraction(254, 10))
    with pytest.raises(ValueError, match="the unit of the file"):
        to_mm(text, "mm")


@given(st.integers(0, 40), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch_match_rational_arithmetic(whole: int, numerator: int, denominator: int) -> None:
    expected = float((whole + Fraction(numerator, denominator)) * Fraction(254, 10))
    assert to_mm(f"{whole} {numerator}/{denominator} in") == expected


@given(st.decimals(0, 1000, places=4))
def test_decimals_round_trip_through_inches(size: object) -> None:
    inches = float(str(size))
    assert from_mm(to_mm(inches, "in"), "in") == pytest.approx(inches, rel=1e-15, abs=0)


@given(st.floats(-1000, 1000))
def test_millimetres_pass_unchanged(size: float) -> None:
    assert to_mm(size, "mm") == size
    assert from_mm(size, "mm") == size


@given(st.floats(0.01, 1000), st.floats(0.01, 1000))
def test_order_is_kept(a: float, b: float) -> None:
    assert (a < b) == (to_mm(a, "mm") < to_mm(b, "mm"))
    if a <= b:
        assert to_mm(a, "in") <= to_mm(b, "in")
