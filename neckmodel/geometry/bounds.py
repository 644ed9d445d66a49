"""The least of a range that is enough, by halving it."""

from __future__ import annotations

from collections.abc import Callable

HALVINGS = 40  # of any length here: far below what a number is told to


def least_enough(enough: Callable[[float], bool], low: float, high: float, halvings: int = HALVINGS) -> float | None:
    """The least value from low to high that is enough, if more always is; None where high is not."""
    if not enough(high):
        return None
    for _ in range(halvings):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
