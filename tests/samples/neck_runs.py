"""Presets laid out, built and checked once for all tests that look at the same one."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache, lru_cache

from measured_runs import Measured, found_on, measured_parts

from neckmodel.checks import check, prove
from neckmodel.checks.bench import Bench
from neckmodel.checks.registry import functions
from neckmodel.design import Design, read
from neckmodel.findings import Finding, Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.presets import path_of
from neckmodel.solids import build
from neckmodel.solids.parts import Parts

KEPT = 40  # solids of so many designs are kept by a test process; all of them would take gigabytes
PRESETS = ("dunnock", "garganey", "redpoll")


@cache
def design(preset: str, *overrides: str) -> Design:
    """A preset's design with `KEY=VALUE` texts set over it."""
    return read(path_of(preset), overrides)


@cache
def laid_out(preset: str, *overrides: str) -> Layout:
    return lay_out(design(preset, *overrides))


SHAPELESS = ("limits.", "board.grain_slope", "workshop.tolerances")  # nothing that is built depends on these


@lru_cache(maxsize=KEPT)
def built(preset: str, *overrides: str) -> Parts:
    shaping = tuple(text for text in overrides if not text.startswith(SHAPELESS))
    if shaping != overrides:
        return replace(built(preset, *shaping), layout=laid_out(preset, *overrides))
    return build(laid_out(preset, *overrides))


@lru_cache(maxsize=KEPT)
def checked(preset: str, *overrides: str) -> Findings:
    """The whole of `check`, with facts about every part: only for tests that look at those, or write them."""
    return check(built(preset, *overrides))


@cache
def _own(preset: str) -> Measured:
    return measured_parts(laid_out(preset))


@lru_cache(maxsize=KEPT)
def uncut(preset: str, *overrides: str) -> Measured:
    """What the checks measure, and what `prove` starts from: a shape that no override changes is the preset's own."""
    return measured_parts(laid_out(preset, *overrides), _own(preset)) if overrides else _own(preset)


@lru_cache(maxsize=KEPT)
def bench(preset: str, *overrides: str) -> Bench:
    return Bench(uncut(preset, *overrides))


@lru_cache(maxsize=KEPT)
def found_all(preset: str, *overrides: str) -> Findings:
    """What all checks find, without facts about the parts: see `measured_runs`."""
    return found_on(bench(preset, *overrides))


@cache
def proved(preset: str, *overrides: str) -> Findings:
    """The same, with those remedies that work when tried."""
    return prove(uncut(preset, *overrides), found_all(preset, *overrides))


@cache
def findings_of(function: str, preset: str, *overrides: str) -> tuple[Finding, ...]:
    """What one check's function says (`check_walls`), without running the others."""
    run = next(each for each in functions() if each.__name__ == function)
    return tuple(run(bench(preset, *overrides)))


RUNS = {
    "wall/screw": "check_hole_walls",
    "wall/tuner": "check_hole_walls",
    "wall/rod-end": "check_rod_end",
    "wall": "check_walls",
    "section": "check_section",
    "cover": "check_cover",
    "glue": "check_glue",
    "fret-slots": "check_slots",
    "place/bar-1": "check_bars",
    "place/bar-2": "check_bars",
    "place": "check_place",
    "fit": "check_fit",
    "access": "check_access",
    "overlap": "check_overlaps",
    "cutter": "check_cutters",
    "stock": "check_stock",
    "head": "check_head",
    "heel/end": "check_heel_end",
    "heel": "check_screws",
}


def found(name: str, preset: str, *overrides: str) -> Finding:
    """One finding by its name; KeyError where there is none."""
    function = RUNS.get(name) or RUNS[name.partition("/")[0]]
    for finding in findings_of(function, preset, *overrides):
        if finding.check == name:
            return finding
    raise KeyError(name)


def as_overrides(settings: dict[str, float | str]) -> tuple[str, ...]:
    """A remedy's settings as `--set` takes them."""
    return tuple(f"{key}={json.dumps(value)}" for key, value in settings.items())
