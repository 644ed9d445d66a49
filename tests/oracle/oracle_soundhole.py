"""The way of a key from the soundhole, for the oracle: from a design's own tables and the place of its rod alone."""

from __future__ import annotations

import math
from typing import Any

from oracle_rod import CORNERS, Shop

Tables = dict[str, dict[str, Any]]


def enters(tables: Tables) -> bool:
    return bool(tables.get("rod")) and tables.get("adjusting_key", {}).get("enters") == "soundhole"


def neck_angle(shop: Shop) -> float:
    """Radians by which the neck stands back: 0 where no bridge is stated."""
    t, neck = shop.t, shop.neck
    action = t.get("action", {})
    if "bridge_height" not in action:
        return 0.0
    at_nut, at_12 = (0.2, 2.0) if t["fretboard"].get("fretless") else (0.4, 1.8)  # over the wood, over the frets
    strings = 2 * at_12 - (0.0 if t["fretboard"].get("zero_fret") else at_nut)
    rise = action["bridge_height"] - strings - action["fretboard_above_body"]
    return math.atan(rise / (neck.scale - neck.x_joint))


def least_length(shop: Shop, x_adjuster: float) -> float:
    key, hole = shop.key, shop.t["body"]["soundhole"]
    assert key is not None
    past = CORNERS[key["size"]] + shop.round_key if key["kind"] == "L-key" else key.get("grip", 25.0)
    return float(max(hole["from"], x_adjuster) + past - x_adjuster + key["engaged_depth"])


def own_length(shop: Shop) -> float:
    key = shop.key
    assert key is not None
    if key["kind"] == "L-key":
        return float(key["long_arm"] if key.get("arm_in_socket", "long") == "long" else key["short_arm"])
    return float(key["length"] + key.get("handle", {}).get("length", 0.0))


def way_numbers(shop: Shop, x_start: float) -> dict[str, float]:
    """What the way comes to, by name; braces by their number from 1."""
    rod, key, body, neck = shop.rod, shop.key, shop.t["body"], shop.neck
    assert rod is not None
    assert key is not None
    x_adjuster = x_start + rod["length"]
    corners, adjuster = CORNERS[key["size"]], rod["adjuster"]
    slope, axis = 0.0, 0.0
    if rod["kind"] == "compression":
        deep = rod["axis_depth"]
        # the parabola through the three depths, u from the nut-side end
        n, m, a = deep["anchor"], deep["middle"], deep["adjuster"]

        def at(x: float) -> float:
            u = (x - x_start) / rod["length"]
            return n + (4 * m - 3 * n - a) * u + (2 * n + 2 * a - 4 * m) * u * u

        axis, block = at(x_adjuster), at(x_adjuster - adjuster["length"])
        slope = (block - axis) / adjuster["length"]
    else:
        axis = adjuster["axis_below_top"] + shop.deeper

        def at(x: float) -> float:  # noqa: ARG001 - a straight rod lies as deep everywhere
            return axis

    tan = math.tan(neck_angle(shop))
    thick, top, edge = body.get("top_thickness", 2.8), body["top"], body["soundhole"]["from"]

    def under(x: float) -> float:
        return float(top - thick - (x - neck.x_joint) * tan)

    pivot, rise = x_adjuster, slope
    if key["kind"] == "ball-end":
        pivot = x_adjuster - max(key["engaged_depth"] - key["size"] / 2, 0.0)
        degrees = 25
        while degrees > 0 and edge > pivot:
            turn = math.radians(degrees)
            over = (edge - pivot) * math.tan(turn) + corners / 2 / math.cos(turn) + shop.round_key
            if over - at(pivot) <= under(edge) + 1e-9:
                break
            degrees -= 1
        rise = math.tan(math.radians(degrees))
    wide = corners + 2 * shop.round_key
    free = min(x_adjuster + shop.clear, edge)
    stretches = []  # (from, to, radius square to x, axis at x)
    if free > neck.x_end:
        half = (adjuster["diameter"] + shop.play) / 2 * math.hypot(1.0, slope)
        stretches.append((neck.x_end, free, half, lambda x: axis - (x - x_adjuster) * slope))
    stretches.append(
        (max(neck.x_end, free), edge, wide / 2 * math.hypot(1.0, rise), lambda x: at(pivot) - (x - pivot) * rise)
    )
    found = {"diameter": wide, "tilt": math.degrees(math.atan(rise)), "least": least_length(shop, x_adjuster)}
    found["top"] = min(under(x) + line(x) - half for x0, x1, half, line in stretches for x in (x0, x1))
    for k, brace in enumerate(body["braces"], 1):
        for x0, x1, half, line in stretches:
            ends = (max(x0, brace["from"]), min(x1, brace["to"]))
            if ends[1] <= ends[0] + 1e-9:
                continue
            over = min(under(x) + line(x) - half for x in ends)
            left = min(brace["depth"] - under(x) - line(x) - half for x in ends)
            found[f"over {k}"] = min(over, found.get(f"over {k}", math.inf))
            found[f"under {k}"] = min(left, found.get(f"under {k}", math.inf))
    return found
