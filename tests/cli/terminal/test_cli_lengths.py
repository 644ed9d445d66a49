"""Numbers as text. Inches by the definition of 1959: 25.4 mm exactly."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.cli.terminal.lengths import as_stated
from neckmodel.lengths import decimal, inches, length, mm, sixty_fourths, with_unit
from neckmodel.report.words import written_apart


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
    ("value", "limit", "shown"),
    [
        (2.44, 3.0, "2.44"),
        (2.9996, 3.0, "2.9996"),  # a failure must not look like its limit
        (2.996, 3.0, "2.996"),
        (3.0, 3.0, "3.00"),
        (2.999996, 3.0, "3.00000"),
    ],
)
def test_a_number_is_told_apart_from_its_limit(value: float, limit: float, shown: str) -> None:
    assert written_apart(value, limit) == shown


@pytest.mark.parametrize(
    ("limit", "shown"), [(3.0, "3.00"), (0.0001, "0.0001"), (1 / 12, "0.0833"), (0.125, "0.125"), (None, "-")]
)
def test_a_limit_is_shown_as_it_is(limit: float | None, shown: str) -> None:
    assert as_stated(limit) == shown
