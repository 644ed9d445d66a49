"""Measured numbers beside their limits, as text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.lengths import NONE, fraction_beside, mm, to_thousandths
from neckmodel.report.words import DECIMALS, bound_in, decimals_of, written_apart
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.findings import Finding


def as_stated(value: float | None, decimals: int = 2) -> str:
    """A limit with the decimals asked for, or up to 2 more so as not to change it: 3.00, 0.0833."""
    if value is None:
        return NONE
    enough = (n for n in (decimals, decimals + 1) if abs(value - round(value, n)) < 1e-9)
    return mm(value, next(enough, decimals + 2))


def measured(value: float | None, against: float | None, unit: str) -> str:
    """A measured length in mm beside its limit, in the unit of a design file (inches with the nearest 1/64), or a
    count of "tuners"."""
    if value is None or not math.isfinite(value):
        return NONE
    shown_limit, _, _ = limit(against, unit).partition(" ")
    decimals, exact = decimals_of(shown_limit, DECIMALS[unit]), from_mm(value, unit) if unit == "in" else value
    if against is None:
        shown = to_thousandths(exact) if unit == "in" else mm(value, decimals)
    else:
        shown = written_apart(exact, from_mm(against, "in") if unit == "in" else against, decimals)
    return shown + (fraction_beside(exact) if unit == "in" else "")


def limit(value: float | None, unit: str) -> str:
    """A limit in mm, in the unit of a design file."""
    if value is None or unit != "in":
        return as_stated(value, DECIMALS[unit])
    exact = from_mm(value, "in")
    return mm(exact, 3 if round(exact, 3) or not exact else 6) + fraction_beside(exact)


def range_or_limit(found: Finding, unit: str, fancy: bool = True) -> str:
    """What a finding is compared with: its limit, or its range, short enough for a column: `0-0.2`, `≤0.3`. fancy:
    whether the stream can show such a sign."""
    if found.held is None:
        return limit(found.limit, unit)
    shown = [None if end is None else _short(limit(end, unit)) for end in found.held]
    if shown[0] == shown[1]:
        return limit(found.held[0], unit)
    if shown[0] is None:
        return f"{'≤' if fancy else '<='}{shown[1]}"
    return limit(found.held[0], unit) if shown[1] is None else f"{shown[0]}-{shown[1]}"


def _short(text: str) -> str:
    """A number without zeros at its end; inches unchanged."""
    return text.rstrip("0").rstrip(".") if "." in text and "(" not in text else text


def error(value: float, unit: str, beside: str = "") -> str:
    """The bound of an error in mm, with the decimals of the measured number that stands beside it, rounded up."""
    return bound_in(from_mm(value, unit), decimals_of(beside.partition(" ")[0], DECIMALS[unit]))
