"""A first string that starts later than the nut, for the generator: where it starts, its step and its peg.

Drawn from numbers of its own, after everything else, for single strings of one scale length over frets.
"""

from __future__ import annotations

import random
from typing import Any

Tables = dict[str, dict[str, Any]]
SHARE = 0.3  # of the designs that may have such a string


def any_later(seed: int, made: Tables) -> None:
    pick = random.Random(f"later {seed}")
    strings, board = made["strings"], made["fretboard"]
    joint = made["neck"]["joint_fret"]
    if isinstance(strings["scale"], dict) or strings.get("paired") or "fretless" in board or pick.random() >= SHARE:
        return
    strings.setdefault("each", [{"diameter": 0.6} for _ in range(strings["courses"])])
    first = strings["each"][0]
    fret = first["starts_at_fret"] = pick.randint(2, joint - 2)
    x = strings["scale"] * (1 - 2 ** (-fret / 12))
    if pick.random() < 0.3:
        board["step_at_fret"] = pick.randint(2, fret)
        x = strings["scale"] * (1 - 2 ** (-board["step_at_fret"] / 12))
    if pick.random() < 0.5:
        board["step_length"] = min(float(pick.randint(6, 40)), float(int(x)))
    hole = pick.choice([6.0, 8.0, 9.5])
    peg: dict[str, Any] = {"x": round(max(x - pick.randint(1, 20), 5.0), 1), "hole": hole}
    if pick.random() < 0.6:
        peg |= {"from": "side", "below": round(hole / 2 + pick.choice([1.0, 3.0, 3.5, 4.0]), 2), "depth": 8.0}
    else:
        peg |= {"from": "back", "y": round(-strings["spacing_at_nut"] / 4, 2), "depth": 6.0}
    if pick.random() < 0.8:
        first["peg"] = peg
