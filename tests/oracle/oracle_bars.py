"""Where glued bars may lie, and what is cut for them, for the oracle."""

from __future__ import annotations

from typing import Any

from oracle_neck import Cut
from oracle_rod import Shop

GLUE = 0.10  # round a bar, in all


def bar_intervals(shop: Shop) -> list[tuple[float, float]]:
    bars, neck = shop.t["bars"], shop.neck
    half, found = (bars["width"] + GLUE) / 2, []
    for y in bar_places(bars):
        reach = [max(s * (y - half), s * (y + half)) for s in (neck.slope(0), neck.slope(shop.t["neck"]["joint_fret"]))]
        low = max(shop.gap + reach[0], neck.x_joint + reach[1] + shop.past - bars["length"])
        cover = neck.x_board - abs(neck.board_slope) * (abs(y) + half)
        found.append((low, min(shop.behind() - shop.beyond, cover) - shop.clear - bars["length"]))
    return found


def bar_places(bars: dict[str, Any]) -> list[float]:
    return [bars["offset"]] if bars["count"] == 1 else [-bars["offset"], bars["offset"]]


def bar_cuts(shop: Shop) -> list[Cut]:
    made: list[Cut] = []
    if "bars" in shop.t:
        bars = shop.t["bars"]
        deep = bars["height"] + GLUE
        for k, y in enumerate(bar_places(bars)):
            x0 = bars["from_nut"]
            made.append(
                Cut(f"bar-{k + 1}", x0, x0 + bars["length"] + shop.clear, y, bars["width"] + GLUE, (deep, deep, deep))
            )
    return made
