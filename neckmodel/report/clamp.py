"""The clamp of a neck without a head, in the order list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def clamp_rows(layout: Layout, write: Callable[[float | None], str]) -> list[tuple[str, str, str, str]]:
    """(what, how many, size, remark) of the clamp and its screws, written by `write`; [] without one."""
    clamp = layout.clamp
    if clamp is None:
        return []
    size = " x ".join(write(length) for length in (clamp.x_end - clamp.x_start, 2 * clamp.half_width, clamp.height))
    rows = [("clamp for the strings", "1", size, "along the neck x across x over the glue plane")]
    for (diameter, depth), count in Counter((s.diameter, s.depth) for s in clamp.screws).items():
        hole = f"hole {write(diameter)} in diameter, {write(depth)} deep"
        rows.append(("screw for the clamp", str(count), hole, "in the nut end, from the glue plane"))
    return rows
