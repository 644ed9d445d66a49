"""A first string that starts later than the nut, for the oracle: how much narrower the bass side is before its step,
where the string lies, and where its peg's hole lies.

Plain formulas from a design's own tables; nothing of the package is used. mm.
"""

from __future__ import annotations

from typing import Any

import numpy as np

Tables = dict[str, dict[str, Any]]


def first_fret(tables: Tables) -> int:
    """The fret at which the first string starts; 0, the nut."""
    each = tables["strings"].get("each") or [{}]
    return int(each[0].get("starts_at_fret", 0))


def between_first_two(tables: Tables, spacing: float) -> float:
    """From the first string's centre to the second's, the outer strings so far apart."""
    strings = tables["strings"]
    count = strings["courses"]
    if strings.get("divided_by", "gaps") == "centres":
        return float(spacing / (count - 1))
    d = [string["diameter"] for string in strings["each"]]
    clear = (spacing - sum(d) + (d[0] + d[-1]) / 2) / (count - 1)
    return float(clear + (d[0] + d[1]) / 2)


class LaterEdge:
    """The bass edge, in from where it would lie beside the first string all the way."""

    def __init__(self, tables: Tables) -> None:
        strings, board = tables["strings"], tables["fretboard"]
        fret = first_fret(tables)
        self.there = fret > 0
        self.ends: tuple[float, ...] = ()
        if not self.there:
            return
        scale = strings["scale"]
        self.to = scale - scale / 2 ** (board.get("step_at_fret", fret) / 12)
        self.start = self.to - board.get("step_length", 12.0)
        self.ends = (self.start, self.to)
        ends = [between_first_two(tables, strings[f"spacing_at_{end}"]) for end in ("nut", "bridge")]
        self.at_nut, self.by = ends[0], (ends[1] - ends[0]) / scale

    def inward(self, x: float) -> float:
        if not self.there or x >= self.to:
            return 0.0
        narrow = self.at_nut + self.by * x
        if x <= self.start:
            return narrow
        left = (self.to - x) / (self.to - self.start)  # 1 where the step starts, 0 where it ends
        return narrow * (3 * left**2 - 2 * left**3)


def mouth(tables: Tables, neck: Any) -> tuple[float, float] | None:
    """(y, depth below z = 0) of the middle of the peg's mouth, by the chain of points along the back; None without."""
    each = tables["strings"].get("each") or [{}]
    peg = each[0].get("peg")
    if peg is None:
        return None
    y, deep = neck.curve(peg["x"])
    lowest = int(deep.argmax())
    if peg["from"] == "side":  # down the bass side, from the edge to the deepest line
        return float(np.interp(peg["below"], deep[: lowest + 1], y[: lowest + 1])), peg["below"]
    return peg["y"], float(np.interp(peg["y"], y, deep))
