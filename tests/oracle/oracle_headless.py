"""The nut end of a neck without a head, for the oracle: the key's slot, its length, the swell, clamp and screws.

Plain formulas; nothing of the package is used. Lengths mm, x from the nut toward the body.
"""

from __future__ import annotations

import math
from typing import Any

from oracle_neck import step3
from oracle_rod import BEHIND_ZERO, CORNERS, Shop, Tables

GRIP = 25.0


def headless(tables: Tables) -> dict[str, Any] | None:
    """The head's table where there is no head, else None."""
    head = tables.get("head", {})
    return head if head.get("kind") == "none" else None


def nut_end_numbers(shop: Shop, x_start: float) -> dict[str, float]:
    """What the key's slot, its length, the clamp and the wood's plan come to. x_start: of the rod's nut-side end."""
    head = headless(shop.t)
    assert head is not None
    end, found = head["end"], {}
    swell = head.get("swell_length", min(30.0, max(end["length"] - 4.0, 5.0)))
    half = lambda x: shop.neck.half(x) + step3(-x / swell) * (end["width"] / 2 - shop.neck.half(x))  # noqa: E731
    for share in shares(shop.t):
        found[f"half width at {share:g} of the swell"] = half(-share * swell)
    found["neck's end"] = -end["length"]
    found |= _slot(shop, end, x_start)
    if "clamp" in head:
        clamp, edge = head["clamp"], _nut_edge(shop)
        found["clamp from"], found["clamp to"] = edge - clamp["length"], edge
        found["clamp past the end"] = max(-end["length"] - found["clamp from"], 0.0)
    return found


def shares(tables: Tables) -> tuple[float, ...]:
    """Shares of the swell at which the plan is looked at; only its end where a string that starts later narrows one
    side of the neck."""
    later = any("starts_at_fret" in string for string in tables["strings"].get("each", []))
    return (1.0,) if later else (0.25, 0.5, 0.75, 1.0)


def _slot(shop: Shop, end: dict[str, float], x_start: float) -> dict[str, float]:
    rod, key = shop.rod, shop.key
    if rod is None or key is None or shop.at_heel or key["kind"] == "bar" or rod["kind"] == "compression":
        return {}
    corners, axis = CORNERS[key["size"]], rod["adjuster"]["axis_below_top"] + shop.deeper
    start = x_start - shop.clear
    slot = {
        "slot from": -end["length"],
        "slot to": start,
        "slot width": max(corners + 2 * shop.round_key, min(shop.rack, default=0.0)),
        "slot depth": axis + corners / 2 + shop.round_key,
    }
    edge = -end["length"]
    head = shop.t["head"]
    if "clamp" in head:
        edge = min(edge, _nut_edge(shop) - head["clamp"]["length"])
    past = corners + shop.round_key if key["kind"] == "L-key" else key.get("grip", GRIP)
    return {**slot, "key's length": x_start - edge + past + key["engaged_depth"]}


def _nut_edge(shop: Shop) -> float:
    """The farthest corner behind the nut. A nut's ends are square to the centre line, where its front meets the
    fretboard's sides; wood behind a nut in a groove follows the sides."""
    slope, neck = shop.neck.slope(0), shop.neck
    zero = BEHIND_ZERO * math.hypot(1.0, slope) if shop.t["fretboard"].get("zero_fret") else 0.0
    meets = -shop.nut if shop.t.get("nut", {}).get("seat") == "groove" else -zero
    corners = []
    for side in (-1.0, 1.0):
        at = meets
        for _ in range(80):
            at = meets + slope * side * neck.half(at)
        corners.append(-shop.nut + slope * side * neck.half(at))
    return min(corners)
