"""Measured numbers beside their limits, as text."""

from __future__ import annotations

from neckmodel.lengths import NONE, mm


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
