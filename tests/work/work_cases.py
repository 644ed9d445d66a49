"""What several tests do with the order of work: its lines, and where each stands."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import generator

from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.workshop.router import router_settings
from neckmodel.work.order import order_of_work
from neckmodel.work.settings import setting_rows

Tables = dict[str, dict[str, Any]]

WINGS = (
    "board.width=50.0",
    'head.wings=[{side="bass", width=12.0}, {side="treble", width=12.0}]',
    "head.outline={near=46.0, far=70.0}",
)
BODY_WINGS = 'heel.wings=[{side="bass", width=130, length=380}, {side="treble", width=130, length=380}]'


def laid_out(folder: Path, seeds: Iterable[int]) -> list[tuple[int, Tables, Layout]]:
    """Of the generator's designs those that can be laid out, each with its number and its tables as drawn."""
    found = []
    for seed in seeds:
        made = generator.tables(seed)
        try:
            found.append((seed, made, lay_out(generator.design_of(made, folder))))
        except DesignError:
            continue
    return found


def lines_of(layout: Layout, cautions: bool = True) -> list[str]:
    """Every line of the routing sheet in its order: title, what is done, each cut's settings, checks, cautions."""
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    lines: list[str] = []
    for work in order_of_work(layout):
        lines += [work.title, *work.says]
        for name in work.cuts:
            lines.append(f"cut {name}")
            if name in settings:
                lines += [f"{what}: {says}" for what, says in setting_rows(layout, settings[name], "mm")]
        lines += work.checks
        lines += work.cautions if cautions else ()
    return lines


def place_of(lines: list[str], pattern: str) -> int | None:
    """The first line that has it."""
    return next((k for k, line in enumerate(lines) if re.search(pattern, line)), None)


def out_of_order(lines: list[str], patterns: tuple[str, ...]) -> list[tuple[str, str]]:
    """Neighbours of the patterns, of those that are there, that do not follow each other."""
    there = [(pattern, k) for pattern in patterns if (k := place_of(lines, pattern)) is not None]
    return [(a, b) for (a, i), (b, j) in itertools.pairwise(there) if i >= j]


# the trade's order: faces and reference edge true, centre line, stations, channel while the sides are parallel, trial
# fit, access slot and key trial before the rod is pressed home, taper, glue, carve; what lies between is common
# practice, no source
ORDER = (
    r"^Lay the wood on thin sticks",
    r"^Saw the scarf",
    r"^Plane the upper face flat",
    r"^Saw and plane the treble side parallel",
    r"^Draw the centre line.*mark every station",
    r"^cut (?!access-slot|key-swing)",
    r"Try the rod|^Try bar",
    r"^cut (access-slot|key-swing)",
    r"^heel block 1",
    r"^Saw the head's back",
    r"[Bb]ring the key in|into a hole of the wheel",
    r"^Mark the shoulders",
    r"^wing 1",
    r"^(screw|insert|dowel|tuner) 1",
    r"^Let the blank rest again",
    r"press bar .* down to the floor",
    r"^Once the glue has set, scrape and sand",
    r"^Cover strip",
    r"plane the strip level",
    r"^Saw the shaft's sides",
    r"^Plane the fretboard",
    r"^Saw and pare the groove",
    r"^Lay thin tape over the rod|^The rod lies under its strip",
    r"^Lay the fretboard",
    r"^Let the neck rest",
    r"once the glue has set for its full time: the adjuster turns",
    r"^body wing 1",
    r"^Plane the sides flush",
    r"^Carve the back",
    r"^In the body, with its (mortise|neck pocket) cut",
    r"^Pare cheeks",
    r"^For the (adjuster|key):",
    r"^Once the instrument is fretted",
)
