"""Reading and completing the raw tables of a file by dotted key, before anything is validated."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from neckmodel.design.values.kinds import Mm
from neckmodel.units import FILE_UNITS, to_mm

Path = tuple[str | int, ...]


def split(key: str) -> Path:
    """`heel.screws.0.y` (or `heel.screws[0].y`) as a path."""
    parts = key.replace("[", ".").replace("]", "").split(".")
    return tuple(int(part) if part.isascii() and part.isdigit() and len(part) < 7 else part for part in parts)


def dotted(path: Path) -> str:
    """The path as a maker reads it: `heel.screws[0].y`."""
    key = ""
    for part in path:
        key += f"[{part}]" if isinstance(part, int) else f".{part}" if key else part
    return key


def step(value: object, part: str | int) -> object | None:
    """The value one level down, or None."""
    if isinstance(value, dict):
        return value.get(str(part))
    if isinstance(value, list | tuple) and isinstance(part, int) and part < len(value):
        found: object = value[part]
        return found
    return None


def look_up(raw: object, path: Path) -> object | None:
    for part in path:
        raw = step(raw, part)
        if raw is None:
            return None
    return raw


class Facts:
    """What the file states so far, in mm; whatever cannot be read yet counts as not stated. unit: of its bare numbers,
    where `raw` is only a part of the file and does not say so itself."""

    def __init__(self, raw: Mapping[str, object], unit: str = "mm") -> None:
        self.raw = raw
        stated = look_up(raw, ("design", "units"))
        self.unit = stated if isinstance(stated, str) and stated in FILE_UNITS else unit

    def _find(self, key: str) -> object | None:
        value: object = self.raw
        for part in split(key):
            if value is not self.raw and not isinstance(value, dict | list):
                return value  # a short form: one length stands for the whole table
            found = step(value, part)
            if found is None:
                return None
            value = found
        return value

    def has(self, key: str) -> bool:
        return look_up(self.raw, split(key)) is not None

    def number(self, key: str, otherwise: float = 0.0) -> float:
        """The length in mm, or the plain number, at `key`."""
        value = self._find(key)
        if isinstance(value, Mm):
            return float(value)
        if key.endswith((".courses", ".frets", ".count", ".square_fret", ".angle")):
            return float(value) if isinstance(value, int | float) and abs(value) < 1000 else otherwise
        try:
            return to_mm(value, self.unit)
        except ValueError:
            return otherwise

    def truth(self, key: str) -> bool:
        return self._find(key) is True

    def text(self, key: str) -> str | None:
        value = self._find(key)
        return value if isinstance(value, str) else None


@dataclass(frozen=True)
class OfItem:
    """A default of every item of a list that follows from what the item itself states."""

    rule: Callable[[Facts], object]

    def __call__(self, item: Facts) -> object:
        return self.rule(item)


@dataclass(frozen=True)
class ByInstrument:
    """A default that follows from the kind of instrument, where that is stated."""

    rule: Callable[[Facts], object]

    def __call__(self, facts: Facts) -> object:
        return self.rule(facts)


def fill(
    raw: Mapping[str, object],
    defaults: Mapping[str, object],
    optional: tuple[str, ...],
    instead: Mapping[str, tuple[str, ...]],
) -> dict[str, object]:
    """A copy of the raw tables with every missing default put in; lengths in it are `Mm`."""
    full = copied(raw)
    facts = Facts(full)
    for key, default in defaults.items():
        if any(facts.has(other) for other in instead.get(key, ())):
            continue
        for table, last in _tables(full, key.split("."), optional):
            if last not in table:
                of = Facts(table, facts.unit) if isinstance(default, OfItem) else facts
                value = default(of) if callable(default) else default
                if value is not None:
                    table[last] = _in_mm(value)
    return full


def _tables(
    full: dict[str, object], parts: list[str], optional: tuple[str, ...]
) -> Iterator[tuple[dict[str, object], str]]:
    """The tables that should hold the last part of a key: one, none, or one for each item of a list."""
    here: list[dict[str, object]] = [full]
    for depth, part in enumerate(parts[:-1]):
        below: list[object] = []
        for table in here:
            found = table.get(part)
            if part == "*":
                continue
            if found is None and ".".join(parts[: depth + 1]) not in optional and "*" not in parts:
                found = table[part] = {}
            below.append(found)
        if depth + 1 < len(parts) - 1 and parts[depth + 1] == "*":
            below = [item for listed in below if isinstance(listed, list) for item in listed]
        if part != "*":
            here = [table for table in below if isinstance(table, dict)]
    for table in here:
        yield table, parts[-1]


def _in_mm(value: object) -> object:
    if isinstance(value, list):
        return [_in_mm(item) for item in value]
    if isinstance(value, dict):
        return {key: _in_mm(item) for key, item in value.items()}
    return Mm(value) if isinstance(value, float) else value


def copied(value: Mapping[str, object]) -> dict[str, object]:
    return {key: _copy(item) for key, item in value.items()}


def _copy(value: object) -> object:
    if isinstance(value, dict):
        return copied(value)
    return [_copy(item) for item in value] if isinstance(value, list) else value
