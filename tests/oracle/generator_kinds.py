"""Kinds of neck beyond a rod and frets, for the generator: no rod and no bar, no frets, a rod that lies one way.

They are drawn from numbers of their own, after everything else: what a number gave before it still gives, but for the
kind.
"""

from __future__ import annotations

import random
from typing import Any

from generator_headless import any_headless
from generator_later import any_later
from generator_slots import any_slots

Tables = dict[str, dict[str, Any]]

# numbers that tests name for what is in their designs
AS_THEY_ARE = frozenset((1, 4, 6, 9, 11, 14, 17, 20, 54, 70, 121, 178, 184, 199, 311, 317, 425, 509, 1358, 1989))
OF_A_ROD = ("rod", "bars", "rod_place", "channel", "adjusting_key")
STRIP_WOODS = ("maple", "walnut", "mahogany", "wenge", "ash")
TENSION = (45.0, 110.0)  # N a string, drawn for necks with neither rod nor bar


def any_kinds(seed: int, made: Tables) -> None:
    if seed in AS_THEY_ARE:
        return
    pick = random.Random(f"kinds {seed}")
    bare, fretless, way = pick.random() < 0.2, pick.random() < 0.2, pick.random() < 0.5
    if bare:
        _no_rod(pick, made)
    if fretless and not made["fretboard"]["zero_fret"]:
        made["fretboard"]["fretless"] = pick.choice(["plain", "lined"])
    rod = made.get("rod")
    if way and rod is not None and rod["kind"] == "two-way":
        rod["bar"] = pick.choice(["up", "down"])
    _any_strips(random.Random(f"strips {seed}"), made)
    any_later(seed, made)
    _any_pair(random.Random(f"pair {seed}"), made)
    any_slots(seed, made)
    any_headless(random.Random(f"headless {seed}"), made)


def _any_pair(pick: random.Random, made: Tables) -> None:
    """Two rods in one of four, but for those turned through a soundhole: mostly clear of each other, by so much that
    some leave too little wood between them."""
    rod = made.get("rod")
    if pick.random() >= 0.25 or rod is None or made.get("adjusting_key", {}).get("enters") == "soundhole":
        return
    widths = [rod.get("width", 0.0), rod.get("diameter", 0.0), rod["adjuster"]["diameter"]]
    widths += [rod.get(part, {}).get("width", 0.0) for part in ("block", "anchor")]
    widths += [segment["width"] for segment in rod.get("segments", [])]
    rod["count"], rod["offset"] = 2, round(max(widths) / 2 + pick.randint(15, 100) / 20, 2)
    if "bars" in made:  # one between them, or one outside of each
        made["bars"]["offset"] = 0.0 if made["bars"]["count"] == 1 else round(rod["offset"] + max(widths), 2)


def _any_strips(pick: random.Random, made: Tables) -> None:
    """A board glued up from strips in one of four: alike on both sides or not, as wide as it was."""
    board = made["board"]
    if pick.random() >= 0.25:
        return
    inner = [pick.choice([0.5, 1.5, 3.0, 6.0, 6.2, 7.9, 11.0, 20.0]) for _ in range(pick.randint(0, 4))]
    inner = inner if pick.random() < 0.5 else [*inner, *inner[::-1]]
    rest = board.pop("width") - sum(inner)
    first = round(rest / 2 + pick.choice([0.0, 0.0, pick.randint(-100, 100) / 20]), 2)
    woods = [pick.choice(STRIP_WOODS) for _ in range(len(inner) + 2)]
    widths = [first, *inner, round(rest - first, 2)]
    board["strips"] = [{"width": width, "wood": wood} for width, wood in zip(widths, woods, strict=True)]


def _no_rod(pick: random.Random, made: Tables) -> None:
    for name in OF_A_ROD:
        made.pop(name, None)
    made["neck"]["reinforcement"] = "none"
    strings = made["strings"]
    count = strings["courses"] * (2 if strings.get("paired") else 1)
    each = strings.get("each") or [{"diameter": 0.6} for _ in range(count)]
    strings["each"] = [{**string, "tension": round(pick.uniform(*TENSION), 1)} for string in each]
    made["neck"]["wood"], made["fretboard"]["wood"] = "Spanish-cedar", "rosewood"
