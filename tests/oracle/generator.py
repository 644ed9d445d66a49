"""Designs by number over the whole range: every kind of head, heel, rod, key, scale and string crossed with the others.
The same number always gives the same design. Lengths mm until they are written.

Sizes lean on those drawn before them, so that most can be laid out; one in eight has a number from
anywhere in its range.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

from generator_ends import any_head, any_heel
from generator_kinds import any_kinds
from generator_rods import any_bars, any_key, any_rod
from generator_soundhole import any_soundhole

from neckmodel.design import Design, read

Tables = dict[str, dict[str, Any]]
Pick = random.Random

# keys of numbers that are no lengths, and so carry no unit
BARE = {
    "string",
    "courses",
    "frets",
    "joint_fret",
    "square_fret",
    "angle",
    "fullness",
    "flare",
    "taper",
    "count",
    "holes",
    "key_swing",
    "grain_slope",
    "tension",
    "starts_at_fret",
    "step_at_fret",
}
FAMILIES = ("C", "D", "U", "V", "soft-V")
RACKS = ((), (6.0,), (3.0, 6.0), (4.0, 5.5, 6.35), (4.0, 5.0, 8.0))


def size(pick: Pick, low: float, high: float) -> float:
    """A length in steps of 0.05 mm, ends included."""
    return pick.randint(round(low * 20), round(max(low, high) * 20)) / 20


def share(fret: float) -> float:
    return float(1 - 2 ** (-fret / 12))


def tables(seed: int) -> Tables:
    """A design's tables, and under "files" the drawings that it names."""
    pick = Pick(seed)
    made: Tables = {"design": {"name": f"sample-{seed}", "hand": pick.choice(["right", "right", "left"])}}
    made["design"]["units"] = pick.choice(["mm", "mm", "in"])
    strings = _strings(pick, made)
    board = _fretboard(pick, made)
    _neck(pick, made)
    any_heel(pick, made)
    any_head(pick, made)
    made["board"] = {
        "length": 2000.0,
        "width": 260.0,
        "thickness": pick.choice(
            [24.0, 22.0] if made["head"]["kind"] == "scarfed" else [120.0, 120.0, 45.0, 30.0, 24.0]
        ),
        "allowance": {"sides": size(pick, 0.5, 5), "ends": size(pick, 0, 40), "back": size(pick, 0.5, 5)},
        "grain_slope": pick.choice([0.0, 0.03, 0.06]),
    }
    if rack := pick.choice(RACKS):
        cutters = [{"diameter": d, "flute_length": 20.0, "stick_out": 40.0} for d in rack]
        made["workshop"] = {"cutters": cutters}
    parts = pick.choice(["rod", "rod", "rod", "bars", "both"])
    if parts != "bars":
        any_rod(pick, made)
        any_key(pick, made)
    if parts != "rod":
        any_bars(pick, made, beside=parts == "both")
    if pick.random() < 0.2:
        after = made["heel"]["wood_ends_at"] if "wood_ends_at" in made["heel"] else board["x_last"] + 30
        made["body"] = {"cutouts": [{"from": round(after + size(pick, -5, 10), 2), "to": round(after + 60, 2)}]}
    any_soundhole(Pick(f"soundhole {seed}"), made)
    if pick.random() < 0.3:
        made["strings"]["each"] = [{"diameter": size(pick, 0.2, 1.3)} for _ in range(strings)]
    if pick.randrange(8) == 0:
        section, key, low, high = pick.choice(SLIPS)
        made.setdefault(section, {})[key] = size(pick, low, high)
    made.pop("drawn", None)
    any_kinds(seed, made)
    return made


# one number from its whole range, wherever the rest lies: the sort of slip a maker makes
SLIPS = (
    ("strings", "spacing_at_bridge", 8, 160),
    ("fretboard", "thickness", 2, 15),
    ("heel", "wood_ends_at", 100, 1500),
    ("heel", "depth", 5, 150),
    ("heel", "swell_from", 5, 150),
    ("heel", "width", 10, 200),
    ("head", "starts_at", -100, -0.5),
    ("head", "length", 40, 400),
    ("head", "thickness", 6, 30),
    ("head", "swell_length", 5, 120),
    ("nut", "thickness", 1.5, 15),
)


def _strings(pick: Pick, made: Tables) -> int:
    """Gives the number of strings. Keeps what later draws lean on under "drawn"."""
    courses, paired = pick.randint(3, 12), pick.random() < 0.25
    bass = size(pick, 300, 900)
    two = pick.random() < 0.35
    treble = max(300.0, round(bass - size(pick, 0.02 * bass, 0.07 * bass), 2)) if two else bass
    gap = size(pick, 5.0, 8.5) if courses < 9 else size(pick, 4.5, 6.5)
    s0 = round(max(20.0, gap * (courses - 1)), 2)
    s1 = round(s0 + min(size(pick, 0, 18), 84 - s0), 2)
    made["strings"] = {
        "courses": courses,
        "scale": {"bass": bass, "treble": treble, "square_fret": pick.randint(0, 12)} if two else bass,
        "spacing_at_nut": s0,
        "spacing_at_bridge": s1,
        "divided_by": pick.choice(["gaps", "centres"]),
    }
    if paired:
        made["strings"] |= {"paired": True, "pair_gap": size(pick, 1.5, gap / 3)}
    made["drawn"] = {"scale": (bass + treble) / 2, "over": abs(bass - treble), "s0": s0, "s1": s1}
    return courses * (2 if paired else 1)


def _fretboard(pick: Pick, made: Tables) -> dict[str, float]:
    drawn = made["drawn"]
    joint = pick.randint(10, 20)
    frets = joint + pick.randint(3, 8)
    last, past = drawn["scale"] * share(frets), size(pick, 3, 10)
    m0, m1 = size(pick, 2.5, 4.5), size(pick, 2.5, 5)
    made["fretboard"] = {
        "frets": frets,
        "thickness": size(pick, 4, 8),
        "edge_margin": {"nut": m0, "last_fret": m1},
        "radius": pick.choice(["flat", 240.0, 305.0, {"nut": 240.0, "end": 400.0}]),
        "zero_fret": pick.random() < 0.25,
        "fret_slot": {"width": 0.6, "depth": 2.0, "floor": pick.choice(["curved", "flat"])},
    }
    if pick.random() < 0.3:
        made["fretboard"]["ends_at"] = round(last + past + drawn["over"] / 2, 2)
    else:
        made["fretboard"]["past_last_fret"] = past
    made["neck"] = {"joint_fret": joint}
    if pick.random() < 0.25:
        made["nut"] = {"seat": "groove", "seat_depth": size(pick, 0.5, 2)}
    drawn |= {
        "x_joint": drawn["scale"] * share(joint),
        "x_last": last + past + drawn["over"],
        "nut": drawn["s0"] + 2 * m0,
    }
    return drawn


def _neck(pick: Pick, made: Tables) -> None:
    t_1 = max(made["fretboard"]["thickness"] + size(pick, 9, 18), 14.0)
    t_12 = max(14.0, t_1 + size(pick, -1, 3))

    def one() -> Any:
        if pick.random() < 0.5:
            return pick.choice(FAMILIES)
        return {"family": "C", "fullness": size(pick, 1.3, 4.0), "lean": size(pick, -3, 3)}

    back = one() if pick.random() < 0.6 else {"fret_1": one(), "fret_12": one()}
    made["neck"] |= {"thickness": {"fret_1": round(t_1, 2), "fret_12": round(t_12, 2)}, "back": back}


def toml(value: object, write: Callable[[float], str], key: str = "") -> str:
    """One value as TOML writes it, tables inline."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k} = {toml(v, write, k)}" for k, v in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(toml(v, write, key) for v in value) + "]"
    assert isinstance(value, int | float)
    return repr(value) if key in BARE else write(float(value))


def text(made: Tables) -> str:
    """The design file, in its own unit."""
    inch = made["design"]["units"] == "in"

    def write(length: float) -> str:
        return repr(length / 25.4) if inch else repr(length)

    sections = (
        f"[{name}]\n" + "".join(f"{key} = {toml(value, write, key)}\n" for key, value in table.items())
        for name, table in made.items()
        if name != "files"
    )
    return "\n".join(sections)


def design_of(made: Tables, folder: Path) -> Design:
    """Reads the design from a file in this folder, its drawings beside it. Raises DesignError where it is refused."""
    for name, drawing in made.get("files", {}).items():
        (folder / name).write_text(drawing)
    path = folder / f"{made['design']['name']}.toml"
    path.write_text(text(made))
    return read(path)
