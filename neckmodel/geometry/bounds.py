"""The least value of a range that is enough, found by halving."""

from __future__ import annotations

from collections.abc import Callable

HALVINGS = 40  # of any length here: far finer than any printed number


def least_enough(enough: Callable[[float], bool], low: float, high: float, halvings: int = HALVINGS) -> float | None:
    """The least value from low to high for which `enough` is true; None where it is false even for high. `enough` must
    stay true for every larger value."""
    if not enough(high):
        return None
    for _ in range(halvings):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
