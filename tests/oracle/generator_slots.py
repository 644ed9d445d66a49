"""Slotted heads, for the generator: in a third of the heads that are angled back and whose outline is not drawn.

Drawn from numbers of their own, after everything else, so that what a number gave it still gives but for the head.
"""

from __future__ import annotations

import random
from typing import Any

Tables = dict[str, dict[str, Any]]


def any_slots(seed: int, made: Tables) -> None:
    pick, head = random.Random(f"slots {seed}"), made["head"]
    if head["kind"] == "stepped" or "file" in head["outline"] or pick.random() >= 0.35:
        return
    head.pop("tuners", None)
    head["thickness"] = max(head["thickness"], _size(pick, 16, 22))
    near = -_size(pick, 10, 40)
    far = -round(min(head["length"] - _size(pick, 5, 20), -near + _size(pick, 50, 130)), 2)
    slots: dict[str, Any] = {"from": near, "to": far, "width": _size(pick, 8, 15), "edge": _size(pick, 4, 11)}
    if pick.random() < 0.4:
        slots["ends"] = "squared"
    if pick.random() < 0.5:
        slots["ramp"] = {"length": _size(pick, 3, min(18.0, -near)), "angle": pick.choice([10.0, 20.0, 32.5])}
    head["slots"] = slots
    if pick.random() < 0.75:
        head["tuners"] = _tuners(pick, made, near, far)


def _tuners(pick: random.Random, made: Tables, near: float, far: float) -> list[dict[str, Any]]:
    strings, hole = made["strings"], pick.choice([6.0, 8.0, 10.0])
    later = any("starts_at_fret" in string for string in strings.get("each", []))  # it does not run on to the head
    first = 2 if later else 1
    count = strings["courses"] * (2 if strings.get("paired") else 1) + 1 - first
    below, into, rows = _size(pick, 6, 12), _size(pick, 1, 7), -(-count // 2)
    start, apart = near - hole, (near - far - 2 * hole) / rows
    numbers = [*range(first, first + count)]
    pick.shuffle(numbers)
    told = pick.random() < 0.2
    found = []
    for k in range(count):
        one = {"x": round(start - apart * (k // 2), 2), "side": ("bass", "treble")[k % 2], "below_face": below}
        found.append({**one, "hole": hole, "into_core": into} | ({"string": numbers[k]} if told else {}))
    return found


def _size(pick: random.Random, low: float, high: float) -> float:
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20
