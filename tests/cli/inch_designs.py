"""Presets with every length written in inches, for tests of what a maker who works in inches reads."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator

from neckmodel import presets
from neckmodel.design import Design
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path
from neckmodel.units import from_mm, to_mm


def in_inches(preset: str, **more: object) -> str:
    """The text of a design file. more: sections that are put over those of the preset."""
    path = presets.path_of(preset)
    assert path is not None
    raw = tomllib.loads(path.read_text(encoding="utf-8")) | more
    raw["design"] = {**raw["design"], "units": "in"}
    return "\n".join(_lines(raw)) + "\n"


def _lines(raw: dict[str, object]) -> Iterator[str]:
    for name, section in raw.items():
        yield f"{json.dumps(name)} = {_written((name,), section)}"


def _written(path: Path, value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {_written((*path, key), of)}" for key, of in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_written((*path, at), of) for at, of in enumerate(value)) + "]"
    field = None if isinstance(value, bool | str) else fields.field_at(Design, path)
    if field is None or not (fields.is_length(field) or fields.tables_at(Design, path)):
        return json.dumps(value)
    return repr(from_mm(to_mm(value), "in"))  # a number in the place of a table is a length, its short form
