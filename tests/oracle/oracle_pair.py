"""Two rods, for the oracle: where they lie, and the wood between their steps and the bars'."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from oracle_rod import Tables, rods_of

from neckmodel.layout.channel.between import least_between

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

SAME = 1e-6  # mm, of closed forms
ON_SOLIDS = 0.002  # mm: round ends are meshes there, and straight walls are exact


def pair_differs(tables: Tables, layout: Layout) -> list[str]:
    """Two rods at one x, and the wood between their steps and the bars', by the corners of their outlines."""
    found, rods = [], rods_of(tables)
    alike = [rod.suffix for rod in layout.rods] == [end for end, _ in rods]
    alike = alike and all(abs(rod.y - y) < SAME for rod, (_, y) in zip(layout.rods, rods, strict=True))
    if not alike or len({rod.x_start for rod in layout.rods}) > 1:
        found.append(f"rods at {[(rod.suffix, rod.y, rod.x_start) for rod in layout.rods]}, the oracle has {rods}")
    least, told = wood_between(layout), least_between(layout.steps)
    if (told is None) != math.isinf(least) or (told is not None and abs(told.wood - least) > SAME):
        found.append(f"{told} of wood between the rods, the oracle has {least:.6f}")
    return found


def wood_between(layout: Layout) -> float:
    """The least distance in plan of two steps on lines of their own, of which one at least is a rod's; inf for one."""
    least = math.inf
    for one in layout.steps if len(layout.rods) > 1 else ():
        for other in layout.steps:
            if one.y < other.y and not (one.name.startswith("bar-") and other.name.startswith("bar-")):
                across = (other.y - other.width / 2) - (one.y + one.width / 2)
                along = max(one.x_start, other.x_start) - min(one.x_end, other.x_end)
                least = min(least, math.hypot(across, max(along, 0.0)))
    return least


def pair_found(layout: Layout, told: dict[str, Finding]) -> list[str]:
    """What is measured between the solids: no less than the rectangles have, and where two run beside each other, just
    that."""
    found, least = told.get("wall/between"), wood_between(layout)
    if (found is None) != math.isinf(least):
        return [f"wall/between is {found}, the oracle has {least}"]
    if found is None or found.measured is None:
        return []
    if found.measured < least - ON_SOLIDS or (found.verdict == "fail") != (
        found.measured < (found.limit or 0.0) - SAME
    ):
        return [f"wall/between measured {found.measured}, {found.verdict}, the oracle has {least:.4f}"]
    return []
