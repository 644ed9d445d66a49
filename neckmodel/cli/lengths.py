"""Measured numbers beside their limits, as text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.lengths import NONE, mm, sixty_fourths
from neckmodel.report.words import DECIMALS, told_apart
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.findings import Finding


def as_stated(value: float | None, decimals: int = 2) -> str:
    """A limit with the decimals asked for, or as many, up to 2 more, as it takes not to change it: 3.00, 0.0833."""
    if value is None:
        return NONE
    enough = (n for n in (decimals, decimals + 1) if abs(value - round(value, n)) < 1e-9)
    return mm(value, next(enough, decimals + 2))


def measured(value: float | None, limit: float | None, unit: str) -> str:
    """A measured length in mm beside its limit, in the unit of a design file; inches with the nearest 1/64."""
    if value is None or not math.isfinite(value):
        return NONE
    if unit == "mm":
        return mm(value) if limit is None else told_apart(value, limit)
    exact = from_mm(value, "in")
    shown = mm(exact, 3) if limit is None else told_apart(exact, from_mm(limit, "in"), 3)
    return shown + _near(exact)


def limit(value: float | None, unit: str) -> str:
    """A limit in mm, in the unit of a design file."""
    if value is None or unit == "mm":
        return as_stated(value)
    exact = from_mm(value, "in")
    return mm(exact, 3 if round(exact, 3) or not exact else 6) + _near(exact)


def held(found: Finding, unit: str) -> str:
    """What a finding is held against: its limit, or its range: `0.00 to 0.20`, `at most 0.30`."""
    if found.held is None:
        return limit(found.limit, unit)
    least, most = found.held
    if least is None:
        return f"at most {limit(most, unit)}"
    return limit(least, unit) if most is None else f"{limit(least, unit)} to {limit(most, unit)}"


def error(value: float, unit: str) -> str:
    """The bound of an error in mm, rounded up, never down to nothing."""
    decimals = DECIMALS[unit]
    return f"{math.ceil(from_mm(value, unit) * 10**decimals - 1e-6) / 10**decimals:.{decimals}f}"


def _near(exact: float) -> str:
    near = sixty_fourths(exact)
    return "" if near == "0" else f" ({near})"
