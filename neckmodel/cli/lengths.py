"""Numbers as a maker reads them: mm to 0.01, or inches with the nearest 1/64."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from neckmodel.units import from_mm

NONE = "-"


def mm(value: float | None, decimals: int = 2) -> str:
    """Millimetres without their unit, rounded as a person rounds (7.065 is 7.07); "-" where there is no number."""
    if value is None or not math.isfinite(value):
        return NONE
    # through 8 decimals first: what binary fractions add lies far below, and would turn 7.065 into 7.06
    shown = Decimal(f"{value:.8f}").quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return f"{abs(shown) if shown == 0 else shown}"  # no "-0.00"


def inches(value: float | None) -> str:
    """A length in mm as inches to 0.001 with the nearest 1/64 in brackets: `1.486 (1 31/64)`."""
    if value is None or not math.isfinite(value):
        return NONE
    exact = from_mm(value, "in")
    return f"{mm(exact, 3)} ({sixty_fourths(exact)})"


def sixty_fourths(value: float) -> str:
    """The nearest 1/64 as a whole number and a fraction in lowest terms: -0.75 is `-3/4`, 2.5 is `2 1/2`."""
    nearest = Fraction(round(value * 64), 64)
    whole, part = divmod(abs(nearest), 1)
    said = " ".join(str(piece) for piece in (whole, part) if piece) or "0"
    return f"-{said}" if nearest < 0 else said


def length(value: float | None, unit: str) -> str:
    """A length in mm in the unit of a design file, "mm" or "in"."""
    return inches(value) if unit == "in" else mm(value)


def told_apart(value: float, limit: float) -> str:
    """`value` with as many decimals, 2 to 5, as it takes to see that it is not `limit`."""
    for decimals in (2, 3, 4):
        shown = mm(value, decimals)
        if shown != mm(limit, decimals):
            return shown
    return mm(value) if value == limit else mm(value, 5)


def as_stated(value: float | None) -> str:
    """A limit with 2 decimals, or with as many, up to 4, as it takes not to change it: 3.00, 0.0001, 0.0833."""
    if value is None:
        return NONE
    return next((mm(value, n) for n in (2, 3) if abs(value - round(value, n)) < 1e-9), mm(value, 4))
