"""Numbers as text. Inches by the definition of 1959: 25.4 mm exactly."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.cli.terminal import lengths
from neckmodel.cli.terminal.lengths import as_stated
from neckmodel.findings import Finding
from neckmodel.lengths import decimal, in_unit, inches, length, mm, sixty_fourths, tool_size, with_unit
from neckmodel.report import words
from neckmodel.report.words import written_apart

AS_MANY = Finding("head/tuner-count", "neck", "pass", "6 tuners", 6.0, 0.0, 6.0, "tuners", held=(6.0, 6.0))
SHARED = Finding("overlap/none", "assembly", "pass", "none", 0.0, 1e-4, 1e-4, held=(None, 1e-4))


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (7.0649999999999995, "7.07"),  # 4.3 + 2.265 + 0.5 in binary: a half is rounded up, as a person does
        (-7.065, "-7.07"),
        (2.004, "2.00"),
        (-0.001, "0.00"),
        (0.0, "0.00"),
        (1234.5, "1234.50"),
        (None, "-"),
        (math.inf, "-"),
        (math.nan, "-"),
    ],
)
def test_millimetres_to_a_hundredth(value: float | None, shown: str) -> None:
    assert mm(value) == shown


@pytest.mark.parametrize(
    ("value", "shown"),
    [(0.0, "0"), (0.5, "1/2"), (-0.75, "-3/4"), (2.5, "2 1/2"), (1.48622, "1 31/64"), (0.9999, "1"), (-0.001, "0")],
)
def test_nearest_sixty_fourth(value: float, shown: str) -> None:
    assert sixty_fourths(value) == shown


@given(st.integers(-(10**5), 10**5))
def test_every_sixty_fourth_is_written_exactly(count: int) -> None:
    written = sixty_fourths(count / 64)
    sign = -1 if written.startswith("-") else 1
    assert sign * sum(Fraction(piece) for piece in written.lstrip("-").split()) == Fraction(count, 64)


def test_inches_show_the_decimal_and_the_fraction() -> None:
    assert inches(37.75) == "1.486 (1 31/64)"  # 37.75 / 25.4 = 1.48622; 31/64 = 0.484375
    assert inches(647.7) == "25.500 (25 1/2)"
    assert length(647.7, "in") == "25.500 (25 1/2)"
    assert length(647.7, "mm") == "647.70"
    assert with_unit(6.0, "mm") == "6.00 mm"
    assert with_unit(6.0, "in") == "0.236 in (15/64)"  # 6/25.4 = 0.23622; 15/64 = 0.234375
    assert decimal(6.0, "in") == "0.236 in"
    assert decimal(6.0, "mm") == "6.00 mm"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (3.0, "0.118 in (1/8)"),
        (0.2, "0.008 in"),  # 1/64 is twice as much
        (1.0, "0.039 in"),  # 3/64 is a fifth more
        (0.01, "0.0004 in"),
        (0.0, "0.000 in"),
        (-0.01, "-0.0004 in"),
    ],
)
def test_small_sizes_are_no_noughts_and_have_no_false_fractions(value: float, shown: str) -> None:
    assert with_unit(value, "in") == shown
    if value > 0:
        assert in_unit(f"{value:.2f} mm", "in") == shown


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (1.5875, "1/16 in"),
        (6.35, "1/4 in"),
        (5.5, "0.217 in"),
        (4.4, "0.173 in"),
        (31.75, "1 1/4 in"),
        (10.0, "0.394 in"),
    ],
)
def test_tools_are_named_as_they_are_sold(value: float, shown: str) -> None:
    """Common practice, no source: bits and drills by the 1/64, others by their decimals: 4.4 mm is
    0.1732 in and no 11/64 in, which is 0.1719 in."""
    assert tool_size(value, "in") == shown
    assert tool_size(value, "mm") == with_unit(value, "mm")


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [
        (2.44, 3.0, "2.44"),
        (2.9996, 3.0, "2.9996"),  # a failure must not look like its limit
        (2.996, 3.0, "2.996"),
        (3.0, 3.0, "3.00"),
        (2.999996, 3.0, "3.00000"),
    ],
)
def test_a_number_is_written_apart_from_its_limit(value: float, limit: float, shown: str) -> None:
    assert written_apart(value, limit) == shown


@pytest.mark.parametrize(
    ("limit", "shown"), [(3.0, "3.00"), (0.0001, "0.0001"), (1 / 12, "0.0833"), (0.125, "0.125"), (None, "-")]
)
def test_a_limit_is_shown_as_it_is(limit: float | None, shown: str) -> None:
    assert as_stated(limit) == shown


def test_value_error_and_limit_have_the_same_decimals() -> None:
    """What shares nothing is held against 0.0001 mm, which is also its error."""
    for unit, value, bound, held_to in (
        ("mm", "0.0000", "0.0001", "<=0.0001"),
        ("in", "0.000000", "0.000004", "<=0.000004"),
    ):
        shown = lengths.measured(0.0, 1e-4, unit)
        assert (shown, lengths.error(1e-4, unit, shown), lengths.range_or_limit(SHARED, unit, False)) == (
            value,
            bound,
            held_to,
        )
        assert words.measured(SHARED, unit) == f"{value} {unit}"
        assert words.error(SHARED, unit) == f"± {bound} {unit}"
        assert words.limit(SHARED, unit) == f"at most {bound} {unit}"


def test_a_range_of_one_number_is_shown_as_that_number() -> None:
    """As many tuners as strings, neither fewer nor more."""
    assert (lengths.range_or_limit(AS_MANY, "tuners"), words.limit(AS_MANY, "mm")) == ("6", "6 tuners")
