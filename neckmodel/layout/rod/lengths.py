"""Which lengths of rod have a place between given bounds, and what is wrong with one that has none. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterable

from neckmodel.layout.rod.bounds import Bound
from neckmodel.lengths import mm

TIE = 1e-6  # mm of slack: ties are places


def lengths_that_fit(length: float, lower: Iterable[Bound], upper: Iterable[Bound]) -> tuple[float, float]:
    """(from, to) of the lengths over all that have a place between bounds that were worked out for this one.

    A bound on the far end shifts toward the nut as the rod grows. Where no length has a place, `from` is the larger, by
    at least what is lacking. inf: nothing bounds that side.
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
    """`8.76 mm too long`, `41.74 mm too short`: a rod or bar that two bounds leave no place; "" where no length has
    one."""
    by = f"{mm(low.x - high.x)} mm"
    if high.shifts and not low.shifts:
        return f"{by} too long"
    return f"{by} too short" if low.shifts and not high.shifts else ""
