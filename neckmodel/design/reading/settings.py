"""Values set over a design file (`--set neck.thickness.fret_1=21`)."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace

from neckmodel.design.defaults.fill import copied
from neckmodel.design.design import Design
from neckmodel.design.file.renamed import RENAMED, present
from neckmodel.design.file.source import Source
from neckmodel.design.file.toml import quoted
from neckmodel.design.rules.pairs import OF_A_ROD
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path, dotted, split
from neckmodel.errors import DesignError, Problem

_MOST_PARTS = 8  # of a key; the deepest of a design has 5
_LONGEST = 100  # signs of a key

Overrides = Mapping[str, object] | Sequence[str]

# pairs of keys that say the same in two ways: setting one takes the other out
EITHER = (
    ("fretboard.past_last_fret", "fretboard.ends_at"),
    ("fretboard.edge_margin", "fretboard.width"),
    ("fretboard.fretless", "fretboard.fret_height"),
)
STRIPS: Path = ("board", "strips")  # its width follows from them, and is not kept beside them
# what a neck without reinforcement leaves out, and what a rod or bar set into it puts an end to
NONE, REINFORCED = "neck.reinforcement", ("rod", "bars")


def apply(source: Source, overrides: Overrides) -> Source:
    """The source with its raw tables changed. Raises DesignError for a text that is no KEY=VALUE, or a wrong index."""
    source = source.planned
    raw = copied(source.raw)
    problems: list[Problem] = []
    paths: list[Path] = []
    old_names = list(source.old_names)
    for key, value in _pairs(overrides, problems):
        path = split(key)
        if "" in path or len(path) > _MOST_PARTS or len(key) > _LONGEST:
            problems.append(_problem(quoted(key[:60]), "is not a dotted key", "write section.key=value"))
            continue
        if path in RENAMED:
            old_names += [path] if path not in old_names else []
            path = present(path)
        if path[0] == "measured":  # [measured] holds tables only: an item's number is a key there
            path = tuple(str(part) for part in path)
        says = put(raw, path, value)
        if says:
            problems.append(_problem(dotted(path), says))
        paths.append(path)
        take_out_other(raw, path)
    if problems:
        raise DesignError(problems, source.file)
    return replace(source, raw=raw, overrides=tuple(paths), old_names=tuple(old_names))


def _pairs(overrides: Overrides, problems: list[Problem]) -> list[tuple[str, object]]:
    if isinstance(overrides, Mapping):
        return [(str(key).strip(), value) for key, value in overrides.items()]
    pairs: list[tuple[str, object]] = []
    for text in [overrides] if isinstance(overrides, str) else overrides:
        key, equals, value = text.partition("=")
        if equals:
            pairs.append((key.strip(), parsed(value.strip())))
        else:
            problems.append(_problem(quoted(text[:60]), "is not KEY=VALUE", "write, for example, rod.length=420"))
    return pairs


def parsed(text: str) -> object:
    """A value as TOML if it can be read so, else the text itself: `21`, `"25.5 in"` and `25.5 in` all work."""
    try:
        found = tomllib.loads(f"v = {text}")
    except (ValueError, RecursionError):
        return text
    return found["v"] if len(found) == 1 else text


def _problem(key: str, says: str, attempt: str = "") -> Problem:
    return Problem(key, says, attempt=attempt, place="--set")


def put(raw: dict[str, object], path: Path, value: object) -> str | None:
    """Puts the value into the tables. Returns the fault if it cannot be put there, else None."""
    here: object = raw
    for depth, part in enumerate(path[:-1]):
        if isinstance(here, list):
            if not isinstance(part, int) or part >= len(here):
                return _outside(path[:depth], here)
            inside = here[part]
            target: dict[str, object] | list[object] = here
        elif isinstance(here, dict):
            part = str(part)
            inside = here.get(part, [] if isinstance(path[depth + 1], int) else {})
            target = here
        else:
            return _alone(path[:depth])
        if not isinstance(inside, list) and inside != {}:
            inside = _spread(path[: depth + 1], inside, path[depth + 1])
        target[part] = inside  # type: ignore[index]
        here = inside
    last = path[-1]
    if isinstance(here, dict):
        here[str(last)] = value
        return None
    if isinstance(here, list) and isinstance(last, int) and last <= len(here):
        here[last : last + 1] = [value]
        return None
    return _outside(path[:-1], here) if isinstance(here, list) else _alone(path[:-1])


def _outside(path: Path, items: list[object]) -> str:
    return f"{dotted(path)} has {len(items)} items, counted from 0"


def _alone(path: Path) -> str:
    return f"cannot be set: {dotted(path)} is a single value and has no keys"


def _spread(path: Path, value: object, wanted: str | int) -> object:
    """A short form written out as a table, so that one value inside it (`wanted`) can be set."""
    if isinstance(value, dict) and wanted in value:
        return value
    tables = fields.tables_at(Design, path)
    inner = tuple(table for name in fields.fields(tables) for table in fields.below(tables, name))
    for table in tables if isinstance(value, dict) else (*tables, *inner):
        full = table.spread(value)
        if isinstance(full, dict) and wanted in full:
            return copied(full)  # one value may stand in two places
    return value


def take_out_other(raw: dict[str, object], path: Path) -> None:
    """Takes out the other key that says the same as the one set at this path."""
    for one, other in (*EITHER, *(pair[::-1] for pair in EITHER)):
        if dotted(path[:2]) == one:
            section, key = other.split(".")
            table = raw.get(section)
            if isinstance(table, dict):
                table.pop(key, None)
    neck, board = raw.get("neck"), raw.get("board")
    if dotted(path) == NONE:
        for name in OF_A_ROD:
            raw.pop(name, None)
    elif path[0] in REINFORCED and isinstance(neck, dict):
        neck.pop("reinforcement", None)
    elif path[:2] == STRIPS and isinstance(board, dict):
        board.pop("width", None)
