"""Rods, keys and bars of every kind, for the generator."""

from __future__ import annotations

import random
from typing import Any

Tables = dict[str, dict[str, Any]]
Pick = random.Random


def size(pick: Pick, low: float, high: float) -> float:
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20


def or_nothing(length: float, least: float) -> float:
    """A length, or 0 where it is so small that a file in mm may only state it with its unit."""
    return length if length >= least else 0.0


def any_rod(pick: Pick, made: Tables) -> None:
    drawn, heel = made["drawn"], made["heel"]
    kind, at_heel = pick.choice(["two-way", "two-way", "one-way", "compression"]), pick.random() < 0.35
    wood = min(made["neck"]["thickness"].values()) - made["fretboard"]["thickness"]
    end = heel["wood_ends_at"] if "wood_ends_at" in heel else drawn["x_joint"] + heel["tenon"]["length"]
    past = or_nothing(size(pick, 0, 8), 0.8)
    made["rod_place"] = {
        "from_nut": pick.choice(["auto", "auto", size(pick, 4, 12)]),
        "past_joint": past,
        "past_joint_of": pick.choice(["outer", "outer", "inner"]),
        "wood_beyond_rod": 5.0,
    }
    made["channel"] = {
        "wider_by": pick.choice([0.0, 0.1, 0.2]),
        "deeper_by": pick.choice([0.0, 0.1, 0.15]),
        "adjuster_clearance": size(pick, 0.5, 1.5),
        "end_clearance": size(pick, 0.5, 1.5),
        "ends": pick.choice(["squared", "squared", "round", "run-long"]),
    }
    high = size(pick, 6, max(6.5, wood - 3.5))
    width, diameter = size(pick, 4, 8), size(pick, 6, min(9.0, max(6.5, high)))
    hexagon = pick.choice([3.0, 4.0, 4.7625]) if diameter > 5.8 else 3.0
    socket: dict[str, Any] = {"kind": "hex", "size": hexagon, "depth": 6.0}
    adjuster: dict[str, Any] = {"diameter": diameter, "length": size(pick, 7, 13)}
    adjuster["axis_below_top"] = round(diameter / 2 + size(pick, 0.3, 1.0), 2)
    if at_heel and pick.random() < 0.5:
        socket = {"kind": "spokes", "size": 4.0, "depth": 5.0, "holes": pick.choice([6, 8])}
        adjuster = {"diameter": size(pick, 12, 16), "length": 11.0, "wheel": 9.0, "axis_below_top": min(4.6, high - 1)}
    adjuster["socket"] = socket
    room = end - 12 - past
    over = size(pick, 0, 14) if at_heel else -size(pick, 0, max(1.0, end - 12 - drawn["x_joint"]))
    length = min(900.0, max(60.0, round((drawn["x_joint"] + past + 14 if at_heel else room) + over, 2)))
    rod: dict[str, Any] = {"kind": kind, "adjuster_at": "heel" if at_heel else "head", "length": length}
    if kind == "compression":
        d = size(pick, 4, 6)
        top = max(d / 2 + 1.5, adjuster["diameter"] / 2 + 0.5) if socket["kind"] == "hex" else d / 2 + 3
        deep = max(top + 0.5, min(wood - d / 2 - 3, top + size(pick, 0.5, 5)))
        rod |= {"diameter": d, "adjuster": adjuster}
        rod["axis_depth"] = {
            "adjuster": round(top, 2),
            "middle": round(deep, 2),
            "anchor": round(top + size(pick, 0, 1), 2),
        }
        if pick.random() < 0.6:
            rod["washer"] = {"diameter": d + 5, "thickness": 1.5}
        if pick.random() < 0.6:
            rod["cover_strip"] = {"thickness": 12.0, "wood": "maple"}
        rod["anchor"] = {"length": 10.0, "width": d + 2, "height": d + 2} if pick.random() < 0.6 else {"length": 0.0}
    else:
        rod |= {"width": width, "height": high, "adjuster": adjuster}
        if pick.random() < 0.12:
            rest = round(length - adjuster["length"] - 22, 3)
            shape = [(10.0, width + 1, high), (rest, width, high), (12.0, width, round(high - 1, 2))]
            rod["segments"] = [{"length": n, "width": w, "height": h, "top": 0.0} for n, w, h in shape]
        else:
            for part in ("block", "anchor"):
                if pick.random() < 0.6:
                    wider = pick.choice([0.0, 0.0, 1.0, 2.0])
                    rod[part] = {"length": size(pick, 6, 15), "width": width + wider, "height": high}
    made["rod"] = rod


def any_key(pick: Pick, made: Tables) -> None:
    socket = made["rod"]["adjuster"]["socket"]
    if pick.random() < 0.25:
        return
    if socket["kind"] == "spokes":
        made["adjusting_key"] = {"kind": "bar", "size": socket["size"], "length": 90.0}
        return
    kind = pick.choice(["straight", "straight", "L-key", "ball-end"])
    key: dict[str, Any] = {"kind": kind, "size": socket["size"], "engaged_depth": 3.0}
    if kind == "L-key":
        key |= {"arm_in_socket": pick.choice(["long", "short"]), "bend_radius": 3.0}
        key |= {"long_arm": size(pick, 60, 110), "short_arm": size(pick, 22, 40)}
    else:
        key["length"] = size(pick, 100, 250)
        if pick.random() < 0.2:
            key["handle"] = {"diameter": size(pick, 8, 24), "length": 80.0}
    made["adjusting_key"] = key


def any_bars(pick: Pick, made: Tables, beside: bool) -> None:
    drawn, heel = made["drawn"], made["heel"]
    end = heel["wood_ends_at"] if "wood_ends_at" in heel else drawn["x_joint"] + heel["tenon"]["length"]
    wood = min(made["neck"]["thickness"].values()) - made["fretboard"]["thickness"]
    count = pick.choice([1, 2])
    width, start = size(pick, 2.5, 5), size(pick, 4, 10)
    offset = size(pick, 11, 14) if beside else size(pick, 5, 9) if count == 2 else or_nothing(size(pick, 0, 3), 1.5)
    made["bars"] = {
        "count": count,
        "width": width,
        "height": size(pick, 4, max(4.5, 0.6 * wood)),
        "length": min(900.0, round(max(60.0, end - start - 8 - size(pick, 0, 12)), 2)),
        "from_nut": start,
        "offset": offset,
        "material": pick.choice(["carbon", "steel"]),
    }
    made.setdefault("rod_place", {"past_joint": 0.0, "wood_beyond_rod": 5.0})
    made.setdefault("channel", {"end_clearance": 1.0})
