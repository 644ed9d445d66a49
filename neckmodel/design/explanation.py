"""What `neckmodel explain` prints about a key of the design file: its meaning, and its default."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from neckmodel.design.defaults.defaults import DEFAULTS, INSTEAD, OPTIONAL
from neckmodel.design.defaults.fill import fill
from neckmodel.design.defaults.instruments import INSTRUMENTS, PRACTICE
from neckmodel.design.design import Design
from neckmodel.design.reading.messages import choices
from neckmodel.design.values import fields
from neckmodel.design.values.keys import ByInstrument, look_up, split
from neckmodel.design.values.kinds import Number, plain
from neckmodel.lengths import listed

# what the sample file states besides, where a default follows from it
TYPICAL: dict[str, dict[str, object]] = {
    "electric": {"courses": 6, "scale": "640 mm"},
    "bass": {"courses": 4, "scale": "864 mm"},
    "steel-string": {"courses": 6, "scale": "645 mm"},
    "nylon-string": {"courses": 6, "scale": "650 mm"},
    "mandolin": {"courses": 4, "paired": True, "scale": "350 mm"},
}


@dataclass(frozen=True)
class KeyEntry:
    """What is printed about one key. key: dotted. says: its meaning. default: in words. source: of the default,
    empty where it has none."""

    key: str
    says: str
    default: str
    source: str


def keys() -> Iterator[str]:
    """Every key that has a default, except those of list items."""
    return (key for key in DEFAULTS if "*" not in key)


def about_key(key: str) -> KeyEntry | None:
    """What is printed about a key; None where the design file has no such key."""
    path = split(key)
    field = fields.field_at(Design, path)
    if field is None or len(path) < 2:
        return None
    default, source = _default(key), PRACTICE
    if not default:
        empty = DEFAULTS.get(key, None) in ("", [])
        nothing = "nothing" if "none" in choices(field) else "none"  # where "none" is a value, it is not that
        default, source = "none: it must be stated" if field.is_required() and not empty else nothing, ""
    return KeyEntry(key, field.description or "", default, source)


def _default(key: str) -> str:
    if key == "design.instrument":
        follow = listed([name for name in DEFAULTS if _by_instrument(name)])
        return f"none: what is usual is guessed from courses, scale length and heel. What follows from it: {follow}"
    if key not in DEFAULTS:
        return ""
    plainly = _worded(key, _taken(key, None))
    if _by_instrument(key):
        each = [(name, _worded(key, _taken(key, name))) for name in INSTRUMENTS]
        said = "; ".join(f"{name} {value}" for name, value in each if value)
        bare = _worded(key, _taken(key, None, fretless=True))
        said += f"; with fretboard.fretless {bare}" if bare != plainly else ""
        return f"{plainly or 'none'}; where design.instrument is stated: {said}"
    return f"{plainly}, or what follows from other keys" if callable(DEFAULTS[key]) and plainly else plainly


def _by_instrument(key: str) -> bool:
    return isinstance(DEFAULTS[key], ByInstrument) or key in ("strings.spacing_at_nut", "strings.spacing_at_bridge")


def _taken(key: str, instrument: str | None, *, fretless: bool = False) -> object:
    """The default in a file that states next to nothing else."""
    raw: dict[str, object] = {name: {} for name in OPTIONAL if "." not in name}
    raw["fretboard"] = {"fretless": "plain"} if fretless else {}
    raw["rod"] = {"adjuster": {}}
    raw["design"] = {} if instrument is None else {"instrument": instrument}
    raw["strings"] = TYPICAL[instrument or "electric"]
    return look_up(fill(raw, DEFAULTS, OPTIONAL, INSTEAD), split(key))


def _worded(key: str, value: object) -> str:
    if value is None or value in ("", []):
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f"{name} = {_worded(f'{key}.{name}', item)}" for name, item in value.items()) + "}"
    if isinstance(value, int | float):
        return f"{plain(round(value, 4))} {_unit(key)}".rstrip()
    return f'"{value}"' if isinstance(value, str) else str(value)


def _unit(key: str) -> str:
    path = split(key)
    if fields.length_at(Design, path) is not None:
        return "mm"
    field = fields.field_at(Design, path)
    kinds = () if field is None else field.metadata
    return next((kind.unit for kind in kinds if isinstance(kind, Number)), "")
