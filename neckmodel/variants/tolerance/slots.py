"""The checks of a slotted head over many necks: cheeks, core, bores and the strings' way down, by the layout alone.
Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.variants.tolerance.linear import LinearCheck

if TYPE_CHECKING:
    from neckmodel.design import Tolerances
    from neckmodel.layout import Layout


def slot_checks(
    layout: Layout, tolerances: Tolerances, necks: int, generator: np.random.Generator
) -> Iterator[LinearCheck]:
    """Every wall of a slot and every bore may lie off sideways by itself; none for a head without slots."""
    pair, limits = layout.slots, layout.design.limits
    if pair is None:
        return
    takes = {"sideways": tolerances.sideways, "measuring": tolerances.measuring}
    rows = [("head/cheek", [pair.edge, pair.edge], limits.head_cheek), ("head/core", [pair.core], limits.head_core)]
    if pair.rollers:
        rows.append(("head/bores", [wall.wood for wall in pair.bore_walls()], limits.head_bores))
    if layout.descents:
        rows.append(("head/ramp", [descent.least.room for descent in layout.descents], limits.head_ramp))
    for check, values, limit in rows:
        off = generator.normal(0.0, 1.0, (len(values), necks)) * (tolerances.sideways / 2)
        drawn = np.min(np.array(values)[:, None] + off, axis=0)
        drawn = drawn + generator.normal(0.0, 1.0, necks) * (tolerances.measuring / 2)
        yield LinearCheck(check, min(values), limit, drawn, takes)
