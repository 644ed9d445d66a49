"""Bounds of a range: from where on something is enough, and where a function is zero.

What is asked is mostly a step, yes or no, of which a root finder has nothing to follow: the standard library's
bisection finds it and costs no import. Where a function tells how far it is from zero, a numerical library's root
finder needs a fifth of the tries. It is loaded when it is called: its import costs 0.3 s, as long as half a layout
takes, so nothing that every layout needs may call it.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable

CLOSE = 1e-11  # of any length here, mm: far below what a number is told to
ROUNDING = 1e-15  # of a root, of its own size: nearly as close as numbers lie in a computer


def nearest_enough(enough: Callable[[float], bool], start: float, end: float, within: float = CLOSE) -> float | None:
    """The value nearest to start, of those from start (which is not asked) to end, that is enough; found to `within`,
    on the side toward end. end may lie below start. None where end itself is not enough.

    enough: false from start to that value, and true from there to end.
    """
    if not enough(end):
        return None
    halvings = math.ceil(math.log2(abs(end - start) / within)) if abs(end - start) > within else 0
    parts = 1 << halvings
    found = bisect_left(range(parts), True, lo=1, key=lambda part: enough(start + (end - start) * part / parts))
    return start + (end - start) * found / parts


def zero_of(function: Callable[[float], float], start: float, end: float, within: float = CLOSE) -> float:
    """Where a continuous function is zero between start and end, to `within`: Brent's method.

    Raises ValueError where its sign is the same at both.
    """
    from scipy.optimize import brentq

    return float(brentq(function, start, end, xtol=within, rtol=ROUNDING))
