"""Places labels along a line, each as near to its place as the others allow, without overlap."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def spread(places: Sequence[float], widths: Sequence[float], gap: float = 0.0) -> list[float]:
    """Centres of labels, mm, in the order of their places, so that none overlap and the sum of their squared
    displacements is least.

    places: where each label should be centred, rising; widths: of the labels; gap: kept free between two. Less the
    offset of each label, this is the problem of the rising sequence nearest to a given one; pooling neighbours that
    break the order solves it exactly.
    """
    offsets = [0.0] * min(len(places), 1)
    for one, other in pairwise(widths):
        offsets.append(offsets[-1] + (one + other) / 2 + gap)
    pools: list[tuple[float, int]] = []  # (mean of place less offset, how many labels)
    for place, offset in zip(places, offsets, strict=True):
        mean, count = place - offset, 1
        while pools and pools[-1][0] > mean:
            before, many = pools.pop()
            mean = (before * many + mean * count) / (many + count)
            count += many
        pools.append((mean, count))
    means = [mean for mean, count in pools for _ in range(count)]
    return [mean + offset for mean, offset in zip(means, offsets, strict=True)]


def spread_within(
    places: Sequence[float], widths: Sequence[float], low: float, high: float, gap: float = 0.0
) -> list[float]:
    """Centres of labels as by `spread`, mm, all between `low` and `high`; where they have no room there, evenly spaced
    beyond `high`."""
    centres = spread(places, widths, gap)
    if not centres:
        return centres
    # clipping a rising sequence to bounds that rise with it keeps it nearest
    offsets = [0.0]
    for one, other in pairwise(widths):
        offsets.append(offsets[-1] + (one + other) / 2 + gap)
    least = low + widths[0] / 2
    most = max(high - widths[-1] / 2 - offsets[-1], least)
    return [min(max(centre - offset, least), most) + offset for centre, offset in zip(centres, offsets, strict=True)]
