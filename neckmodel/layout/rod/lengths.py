"""The lengths of rod that fit between given bounds, and by how much another one misses. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable

from neckmodel.layout.rod.bounds import Bound
from neckmodel.lengths import mm

TIE = 1e-6  # mm of slack: a rod that just fits has a place


def lengths_that_fit(length: float, lower: Iterable[Bound], upper: Iterable[Bound]) -> tuple[float, float]:
    """(from, to) of the over-all lengths that fit between bounds computed for a rod of this `length`.

    A bound on the far end moves toward the nut as the rod grows. Where no length fits, `from` is larger than `to` by at
    least what is missing. inf: no bound on that side.
    """
    low, high = tuple(lower), tuple(upper)
    first = max((b.x for b in low if not b.shifts), default=-math.inf)  # of the nut-side end
    last = min((b.x for b in high if not b.shifts), default=math.inf)
    far_first = max((b.x + length for b in low if b.shifts), default=-math.inf)  # of the far end
    far_last = min((b.x + length for b in high if b.shifts), default=math.inf)
    least, most = far_first - last, far_last - first
    lacking = max(first - last, far_first - far_last)
    return least, most if lacking <= TIE else min(most, least - lacking)


def too_long_or_short(low: Bound, high: Bound) -> str:
    """`8.76 mm too long`, `41.74 mm too short`: by how much the rod or bar misses the bounds that leave it no place;
    empty where no length would fit."""
    by = f"{mm(low.x - high.x)} mm"
    if high.shifts and not low.shifts:
        return f"{by} too long"
    return f"{by} too short" if low.shifts and not high.shifts else ""
