"""Reads values from the raw tables of a file by dotted key, before anything is checked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
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
    """The value one level down; None where there is none."""
    if isinstance(value, dict):
        return value.get(str(part))
    if isinstance(value, list | tuple) and isinstance(part, int) and part < len(value):
        found: object = value[part]
        return found
    return None


def look_up(raw: object, path: Path) -> object | None:
    """The value at a path in raw tables; None where there is none."""
    for part in path:
        raw = step(raw, part)
        if raw is None:
            return None
    return raw


class Facts:
    """What the file states so far, lengths in mm. A value that cannot be read counts as not stated. unit: of bare
    numbers, where `raw` is only a part of the file and does not name its unit."""

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
        """Whether a value that can be read stands at `key`."""
        return look_up(self.raw, split(key)) is not None

    def number(self, key: str, otherwise: float = 0.0) -> float:
        """The length in mm, or the plain number, at `key`."""
        value = self._find(key)
        if isinstance(value, Mm):
            return float(value)
        if key.endswith((".courses", ".frets", ".count", ".square_fret", ".angle", ".flare", ".taper")):
            return float(value) if isinstance(value, int | float) and abs(value) < 1000 else otherwise
        try:
            return to_mm(value, self.unit)
        except ValueError:
            return otherwise

    def truth(self, key: str) -> bool:
        """Whether `true` stands at `key`."""
        return self._find(key) is True

    def text(self, key: str) -> str | None:
        """The text at `key`; None where there is none."""
        value = self._find(key)
        return value if isinstance(value, str) else None


@dataclass(frozen=True)
class OfItem:
    """A default for every item of a list, from the values that the item itself states."""

    rule: Callable[[Facts], object]

    def __call__(self, item: Facts) -> object:
        return self.rule(item)


@dataclass(frozen=True)
class ByInstrument:
    """A default that depends on the kind of instrument, where the file states it."""

    rule: Callable[[Facts], object]

    def __call__(self, facts: Facts) -> object:
        return self.rule(facts)
