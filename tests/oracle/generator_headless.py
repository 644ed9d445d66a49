"""Necks without a head, for the generator: any other kind, its head taken off."""

from __future__ import annotations

import math
import random
from typing import Any

Tables = dict[str, dict[str, Any]]
Pick = random.Random

SHARE = 0.12  # of all designs
BEHIND_ZERO, STRIP = 2.0, 2.5  # mm behind a zero fret; how many times its thickness a nut in a groove takes


def size(pick: Pick, low: float, high: float) -> float:
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20


def any_headless(pick: Pick, made: Tables, share: float = SHARE) -> None:
    """Drawn from numbers of its own, so that every other design stays what it was."""
    if pick.random() >= share:
        return
    strings, board, neck = made["strings"], made["fretboard"], made["neck"]
    wide = strings["spacing_at_nut"] + 2 * board["edge_margin"]["nut"]
    wood = max(neck["thickness"].values()) - board["thickness"]
    nut = _nut(made) + abs(_slant(strings)) * wide / 2
    end = {
        "length": round(min(nut + size(pick, 8, 60), 150.0), 2),
        "thickness": round(min(wood + size(pick, 0.6, 8), 40.0), 2),
        "width": round(max(wide + size(pick, 0, 14), 20.0), 2),
    }
    head: dict[str, Any] = {"kind": "none", "end": end}
    if pick.random() < 0.8:
        head["clamp"] = _clamp(pick, end, nut, wide)
    if pick.random() < 0.3:
        head["swell_length"] = size(pick, 5, min(end["length"] - 1, 60))
    made["head"] = head


def _clamp(pick: Pick, end: dict[str, float], nut: float, wide: float) -> dict[str, Any]:
    """A clamp from the nut on, some past the end, with no screws, two or four."""
    length = size(pick, 6, end["length"] - nut + 4)
    clamp: dict[str, Any] = {"length": length, "width": round(wide, 2), "height": size(pick, 6, 25)}
    reach, aside = min(length, end["length"] - nut), size(pick, 5, wide / 2 - 1)
    rows = pick.choice([(), (0.5,), (0.4, 0.8)])
    if rows and reach > 6:
        clamp["screws"] = [
            {
                "x": -round(nut + 2.5 + share * (reach - 3), 2),
                "y": sign * aside,
                "diameter": pick.choice([2.5, 3.0, 4.0]),
                "depth": size(pick, 4, min(14.0, end["thickness"] - 1)),
            }
            for share in rows
            for sign in (-1, 1)
        ]
    return clamp


def _nut(made: Tables) -> float:
    """How far the nut, with what is behind it, reaches, mm."""
    nut = made.get("nut", {})
    thick = nut.get("thickness", 5.0) * (STRIP if nut.get("seat") == "groove" else 1.0)
    return float((thick + (BEHIND_ZERO if made["fretboard"].get("zero_fret") else 0.0)) * _aslant(made["strings"]))


def _aslant(strings: dict[str, Any]) -> float:
    return math.hypot(1.0, _slant(strings))


def _slant(strings: dict[str, Any]) -> float:
    """dx/dy of the nut, roughly; a little more than it is."""
    scale = strings["scale"]
    if not isinstance(scale, dict):
        return 0.0
    return float(1.05 * abs(scale["bass"] - scale["treble"]) / strings["spacing_at_nut"])
