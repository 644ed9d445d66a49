"""Rods turned through the soundhole, for the generator: drawn apart, so that all other designs stay as they are."""

from __future__ import annotations

import random
from typing import Any

Tables = dict[str, dict[str, Any]]
Pick = random.Random


def size(pick: Pick, low: float, high: float) -> float:
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20


def any_soundhole(pick: Pick, made: Tables) -> None:
    """Nine of ten rods that are turned at the heel with a hexagon key, and no through heel, become such ones."""
    rod, key, heel, drawn = made.get("rod"), made.get("adjusting_key"), made["heel"], made["drawn"]
    if rod is None or key is None or heel["kind"] == "through" or key["kind"] == "bar" or pick.random() < 0.1:
        return
    if rod["adjuster_at"] == "head":
        return
    end = heel["wood_ends_at"] if "wood_ends_at" in heel else drawn["x_joint"] + heel["tenon"]["length"]
    block = round(end + size(pick, 1, 12), 2)
    edge = round(block + size(pick, 18, 60), 2)
    far = round(min(edge + size(pick, 60, 110), drawn["scale"] - drawn["over"]), 2)
    if far < edge + 5:
        return
    braces, at = [], block
    for _ in range(pick.choice([0, 1, 1, 2])):
        start = round(at + size(pick, 0, 6), 2)
        stop = round(start + size(pick, 4, 9), 2)
        if stop > edge:
            break
        braces.append({"from": start, "to": stop, "depth": size(pick, 9, 22)})
        at = stop
    body = made.setdefault("body", {})
    body |= {
        "soundhole": {"from": edge, "to": far, "width": size(pick, 80, 120)},
        "top_thickness": size(pick, 1.5, 4),
        "thickness": size(pick, 60, 110),
        "top": -size(pick, 1, 3),
        "braces": braces,
    }
    if pick.random() < 0.8:
        body["head_block_ends_at"] = block
    if pick.random() < 0.3:  # the soundhole stated once more
        body["cutouts"] = [*body.get("cutouts", []), {"from": edge, "to": far}]
    if pick.random() < 0.6:
        made["action"] = {"bridge_height": size(pick, 9, 18), "fretboard_above_body": size(pick, 5, 9)}
    key["enters"] = "soundhole"
    needed = edge - end
    if key["kind"] == "L-key":
        key["long_arm"] = round(needed + size(pick, 20, 60), 2)
        key["short_arm"] = size(pick, 15, 40) if needed > 25 else size(pick, 10, 25)
    else:
        key["length"] = round(max(20.0, needed + size(pick, 20, 90)), 2)
        key["grip"] = size(pick, 10, 30)
        if pick.random() < 0.3:
            key["handle"] = {"diameter": size(pick, 7, 20), "length": size(pick, 15, 40)}
