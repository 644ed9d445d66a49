"""Random necks part way through their work, by number: presets of which some sizes came out otherwise than planned."""

from __future__ import annotations

import random

from failing import PRESETS

from neckmodel.design import Design, changed, read
from neckmodel.design.values.keys import look_up, split
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.presets import path_of

# what a plan may already lack, and what may come out otherwise: key, from how much less to how much more, mm
PLANNED = (("neck.thickness", -3.0, -0.5), ("rod.height", 0.3, 2.5), ("channel.wider_by", -0.1, 0.3))
SAWN = (
    ("board.thickness", -4.0, 0.5),
    ("board.width", -9.0, 1.0),
    ("board.length", -50.0, 2.0),
    ("head.drop", -2.0, 2.5),
    ("head.thickness", -2.5, 1.0),
    ("heel.depth", -2.5, 1.0),
    ("heel.wood_ends_at", -12.0, 2.0),
    ("fretboard.thickness", -1.0, 0.6),
    ("rod.length", -30.0, 30.0),
    ("rod.height", -0.3, 1.5),
    ("heel.screws.0.y", -8.0, 10.0),
    ("heel.screws.1.from_end", -12.0, 20.0),
    ("head.tuners.0.y", -10.0, 10.0),
    ("head.tuners.1.x", -20.0, 20.0),
)
CUT = (("depth", -1.2, 3.5), ("width", -0.6, 1.5), ("x_start", -2.5, 2.5), ("x_end", -4.0, 6.0))
CARVED = (("neck.thickness.fret_1", -3.5, 0.5), ("neck.thickness.fret_12", -3.5, 0.5))


def part_way(number: int) -> Design | None:
    """The neck of this number: a preset, its plan changed in one thing or in none, with one to three measured sizes;
    None where it is refused."""
    chance = random.Random(number)
    design = read(path_of(chance.choice(PRESETS)))
    try:
        design = changed(design, _plan(chance, design))
        measured = _measured(chance, design)
        design = changed(design, measured)
        lay_out(design)
    except DesignError:
        return None
    return design if measured else None


def _plan(chance: random.Random, design: Design) -> dict[str, object]:
    if chance.random() < 0.5:
        return {}
    key, low, high = chance.choice(PLANNED)
    by = chance.uniform(low, high)
    keys = ("neck.thickness.fret_1", "neck.thickness.fret_12") if key == "neck.thickness" else (key,)
    return {key: round(value + by, 2) for key, value in _values(design, keys)}


def _values(design: Design, keys: tuple[str, ...]) -> list[tuple[str, float]]:
    stated = design.model_dump(by_alias=True)
    found = ((key, look_up(stated, split(key))) for key in keys)
    return [(key, value) for key, value in found if isinstance(value, float)]


def _measured(chance: random.Random, design: Design) -> dict[str, object]:
    steps = lay_out(design).steps
    of_steps = [(f"channel.{s.name}.{what}", low, high) for s in steps for what, low, high in CUT]
    cut: dict[str, object] = {}
    for kind in chance.choices((SAWN, of_steps, CARVED), (4, 5, 2), k=chance.choice((1, 1, 2, 3))):
        key, low, high = chance.choice(kind)
        if key.startswith("channel."):
            _, name, what = key.split(".")
            value = float(getattr(next(s for s in steps if s.name == name), what))
        else:
            values = _values(design, (key,))
            if not values:
                continue
            value = values[0][1]
        cut[f"measured.{key}"] = round(value + chance.uniform(low, high), 2)
    return cut
