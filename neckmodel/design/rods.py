"""A maker's own rods: a TOML file of `[[rod]]` tables, each like `[rod]` of a design file with a `name`.

A rod may bring the key that turns it, as `adjusting_key`. `units` at the top is the unit of bare numbers.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from neckmodel.design import Design
from neckmodel.design.file.lines import Lines
from neckmodel.design.file.text import check, text_of
from neckmodel.design.file.toml import printable, quoted
from neckmodel.design.reading.unit import NAMED
from neckmodel.design.tables.measured import leaves
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path, dotted
from neckmodel.errors import DesignError, Problem
from neckmodel.units import FILE_UNITS, bare_fraction

MOST_RODS, LONGEST_NAME = 200, 60
_SHOWN = 3  # lengths named in one message
SECTIONS = ("rod", "adjusting_key")


@dataclass(frozen=True)
class OwnRod:
    """One rod of the list. tables: its `rod` table, and `adjusting_key` where it has its own, each length with its
    unit. lines: of its keys in the list, counted from 1."""

    name: str
    number: int
    tables: Mapping[str, object]
    file: str
    lines: Lines

    def problem(self, problem: Problem) -> Problem | None:
        """A problem of the design, put as one of this rod's list; None where the problem is not about the rod."""
        section, dot, rest = problem.key.partition(".")
        if section not in self.tables:
            return None
        within = (("adjusting_key",) if section == "adjusting_key" else ()) + tuple(rest.split(".") if dot else ())
        key = ".".join((f"rod[{self.number}]", *within))
        line = self.lines.of(("rod", self.number, *within))
        return Problem(key, problem.says, problem.value, problem.allowed, problem.attempt, line)


def read_rods(path: str | FilePath) -> tuple[OwnRod, ...]:
    """The rods of a file. Raises DesignError where the file is no list of named rods. A fault inside a rod is
    reported when the rod is tried in a design."""
    text, file = text_of(FilePath(path)), printable(str(path))
    check(text, file)
    try:
        raw = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise DesignError([Problem("the file", f"is not TOML: {error}")], file) from None
    lines = Lines(text)
    problems = list(_problems(raw, lines))
    if problems:
        raise DesignError(problems, file)
    unit = raw.get("units", "mm")
    wrong = _in_other_unit(raw, unit, lines)
    if wrong is not None:
        raise DesignError([wrong], file)
    return tuple(OwnRod(rod["name"], k, _tables(rod, unit), file, lines) for k, rod in enumerate(raw["rod"]))


def _problems(raw: Mapping[str, object], lines: Lines) -> Iterator[Problem]:
    for key in raw:
        if key not in ("rod", "units"):
            says = "is an unknown key"
            yield Problem(printable(key), says, allowed="known are units and [[rod]]", line=lines.of((key,)))
    if raw.get("units", "mm") not in FILE_UNITS:
        yield Problem("units", "is no unit", allowed='allowed are "mm" and "in"', line=lines.of(("units",)))
    rods = raw.get("rod")
    if not isinstance(rods, list) or not all(isinstance(rod, dict) for rod in rods) or not rods:
        yield Problem("rod", "is no list of rods", attempt="write each rod as a table under [[rod]]")
        return
    if len(rods) > MOST_RODS:
        yield Problem("rod", f"lists {len(rods)} rods", allowed=f"allowed are {MOST_RODS}")
    seen: set[str] = set()
    for k, rod in enumerate(rods):
        name, line = rod.get("name"), lines.of(("rod", k, "name"))
        if not isinstance(name, str) or not name.isprintable() or not 0 < len(name) <= LONGEST_NAME:
            says = "is missing" if name is None else "is no name"
            yield Problem(f"rod[{k}].name", says, attempt="write a text of one line in quotes", line=line)
        elif name in seen:
            yield Problem(
                f"rod[{k}].name", f"stands twice: {quoted(name)}", attempt="every rod needs its own", line=line
            )
        else:
            seen.add(name)


def _in_other_unit(raw: Mapping[str, Any], unit: str, lines: Lines) -> Problem | None:
    """One problem for all lengths without a unit that make sense only in the unit that the list is not in."""
    other = "in" if unit == "mm" else "mm"
    odd, sound = [], 0
    for k, rod in enumerate(raw["rod"]):
        for path, value in leaves((), rod):
            kind = fields.length_at(Design, path if path[0] == "adjusting_key" else ("rod", *path))
            if kind is None or isinstance(value, bool) or not isinstance(value, int | float):
                continue
            here, there = kind.holds(value, unit), kind.holds(value, other)
            odd += [(dotted(("rod", k, *path)), value, lines.of(("rod", k, *path)))] if there and not here else []
            sound += here and not there
    if not odd or (len(odd) == 1 and sound):  # a single length has its own message
        return None
    named = ", ".join(f"{key} = {value} (line {line})" for key, value, line in odd[:_SHOWN])
    more = f" and {len(odd) - _SHOWN} more" if len(odd) > _SHOWN else ""
    says = f"does not go with sizes that make sense only in {NAMED[other]}: {named}{more}"
    attempt = f'give each its unit: "{odd[0][1]} {other}"'
    if len(odd) > sound:
        attempt = f'write units = "{other}" at the top of the file, or {attempt}'
    return Problem("units", says, f'"{unit}"', attempt=attempt, line=lines.of(("units",)))


def _tables(rod: Mapping[str, object], unit: str) -> dict[str, object]:
    own = {key: value for key, value in rod.items() if key not in ("name", "adjusting_key")}
    tables: dict[str, object] = {"rod": _with_units(("rod",), own, unit)}
    if "adjusting_key" in rod:
        tables["adjusting_key"] = _with_units(("adjusting_key",), rod["adjusting_key"], unit)
    return tables


def _with_units(path: Path, value: object, unit: str) -> object:
    """The value with every bare length as a text with its unit, so that it reads the same in any design file."""
    if isinstance(value, dict):
        return {key: _with_units((*path, key), item, unit) for key, item in value.items()}
    if isinstance(value, list):
        return [_with_units((*path, k), item, unit) for k, item in enumerate(value)]
    field = fields.field_at(Design, path)
    bare = (isinstance(value, int | float) and not isinstance(value, bool)) or (unit == "in" and bare_fraction(value))
    return f"{value} {unit}" if bare and field is not None and fields.is_length(field) else value
