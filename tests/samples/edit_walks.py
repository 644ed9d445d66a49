"""Walks of random edits over a preset, and what a design comes to: the bytes of its findings and of its STEP file."""

from __future__ import annotations

import hashlib
import random
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from neckmodel.checks import check
from neckmodel.design import Design, changed, read
from neckmodel.errors import DesignError, KernelError, MeshError
from neckmodel.layout import Layout, lay_out
from neckmodel.presets import path_of
from neckmodel.solids import build
from neckmodel.writers.jsons import dumps, findings_json
from neckmodel.writers.step import kernel
from neckmodel.writers.step.terms import SCHEMAS

FARTHEST = 0.03  # share by which a number is moved; most designs stay possible
TRIES = 40  # numbers tried for a step until one leaves a design that can be laid out


def numbers(preset: str) -> dict[str, float]:
    """Every number that a preset states, by its dotted key: a key that is new in a preset is walked over too."""
    path = path_of(preset)
    assert path is not None
    return dict(_numbers(tomllib.loads(path.read_text(encoding="utf-8")), ""))


def _numbers(value: object, key: str) -> Iterator[tuple[str, float]]:
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _numbers(inner, f"{key}.{name}" if key else name)
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from _numbers(inner, f"{key}.{place}")
    elif isinstance(value, float):
        yield key, value


def walk(preset: str, steps: int, seed: int) -> list[dict[str, float]]:
    """The settings after each step, the first being none: each step moves one number more, and leaves a design that can
    be laid out."""
    pick, start = random.Random(seed), read(path_of(preset))
    stated = numbers(preset)
    keys, walked = sorted(stated), [dict[str, float]()]
    for _ in range(steps):
        for _ in range(TRIES):
            key = pick.choice(keys)
            by = round(pick.uniform(-FARTHEST, FARTHEST), 3)
            settings = {**walked[-1], key: round(stated[key] * (1 + by), 3)}
            if settings != walked[-1] and can_be_laid_out(start, settings):
                walked.append(settings)
                break
    return walked


def can_be_laid_out(design: Design, settings: dict[str, float]) -> bool:
    try:
        lay_out(changed(design, settings))
    except DesignError:
        return False
    return True


@dataclass(frozen=True)
class Outcome:
    """findings: the text of findings.json, or the error instead. step: digest of the STEP file of all parts."""

    findings: str
    step: str


def outcome(layout: Layout, folder: Path) -> Outcome:
    """What this layout comes to, built and checked now."""
    try:
        parts = build(layout)
        findings = check(parts)
    except (KernelError, MeshError) as error:
        return Outcome(str(error), "")
    bodies = [kernel.Body(part.name, part.solid, part.colour) for part in parts.parts]
    path = folder / "all.step"
    kernel.write(path, bodies, kernel.Heading(layout.name, ("a walk",), "a test"), next(iter(SCHEMAS)), "mm")
    return Outcome(dumps(findings_json(findings)), hashlib.sha256(path.read_bytes()).hexdigest())
