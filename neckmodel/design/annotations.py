"""Remarks for a new design file: above each key what it is, what it may be and what it is if left out."""

from __future__ import annotations

import re
import textwrap
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from neckmodel.design.defaults.by_instrument import SLOTTED_RANGE
from neckmodel.design.defaults.defaults import DEFAULTS, INSTEAD, RANGES
from neckmodel.design.defaults.fill import copied
from neckmodel.design.design import Design
from neckmodel.design.reading.messages import choices
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Facts, Path, dotted, look_up
from neckmodel.design.values.kinds import Count, Length, Number, plain
from neckmodel.lengths import rounded_down, rounded_up
from neckmodel.units import FILE_UNITS, MM_PER

WIDE = 110  # characters of a row of remarks
LENGTHS_ARE = {
    "mm": 'Lengths are in mm; write "7/32 in" or "1.5 in" where a size comes in inches.',
    "in": 'Lengths are in inches; write "1 1/2" for a fraction, "6 mm" where it comes in mm.',
}
_HEADER, _KEY = re.compile(r"\[([\w.]+)\]"), re.compile(r"(\w+) = ")
_SCALE = {"mm": (1.0, 2), "in": (float(MM_PER["in"]), 3)}


def annotated(text: str) -> str:
    """The text of a design file with a remark above each section and each key. Keys start their rows, as in presets."""
    raw = tomllib.loads(text)
    rows: list[str] = []
    section: Path = ()
    for row in text.splitlines():
        header, key = _HEADER.match(row), _KEY.match(row)
        if header:
            section = tuple(header[1].split("."))
            rows += _wrapped(_described(section))
        elif key and section:
            rows += _of(raw, (*section, key[1]))
        rows.append(row)
    return "\n".join(_with_rest(raw, rows)) + "\n"


def _of(raw: Mapping[str, object], path: Path) -> list[str]:
    """The remark on one key. Keys of a table in braces, or of a list of such tables, get their remarks below it."""
    rows = _wrapped(_said(raw, path))
    value = look_up(raw, path)
    inner = value[0] if isinstance(value, list) and value else value
    below = (*path, 0) if isinstance(value, list) else path
    if isinstance(inner, dict):
        for key, item in inner.items():
            rows += _wrapped(f"{key}: {_said(raw, (*below, key))}", 2)
            for name in item if isinstance(item, dict) else ():
                rows += _wrapped(f"{key}.{name}: {_said(raw, (*below, key, name))}", 2)
    return rows


def _said(raw: Mapping[str, object], path: Path) -> str:
    path = _spelt_out(path)
    more = "; ".join(part for part in (_range(raw, path), _default(raw, path)) if part)
    return f"{_described(path)} {more[:1].upper()}{more[1:]}{'.' if more else ''}".strip()


def _spelt_out(path: Path) -> Path:
    """The path of a key in the full form of its table: neck.back.family stands for neck.back.fret_1.family."""
    if fields.field_at(Design, path) is not None:
        return path
    between = fields.fields(fields.tables_at(Design, path[:-1]))
    longer = ((*path[:-1], name, path[-1]) for name in between)
    return next((one for one in longer if fields.field_at(Design, one) is not None), path)


def _described(path: Path) -> str:
    field = fields.field_at(Design, path)
    return (field.description or "") if field is not None else ""


def _range(raw: Mapping[str, object], path: Path) -> str:
    field, unit = fields.field_at(Design, path), Facts(raw).unit
    if field is None:
        return ""
    kind = fields.length_at(Design, path)
    if isinstance(kind, Length):
        word = f' or "{kind.word}"' if kind.word else ""
        found = f"{_span(kind.low, kind.high, unit)}{word}"
        usual = RANGES.get(dotted(path), RANGES.get(f"{dotted(path)}.nut"))  # one length for both ends too
        if path == ("head", "thickness") and Facts(raw).has("head.slots"):
            usual = SLOTTED_RANGE
        return f"{found}, usually {_span(usual.low, usual.high, unit)}" if usual is not None else found
    words = choices(field)
    if words:
        return " or ".join(filter(None, (", ".join(f'"{word}"' for word in words[:-1]), f'"{words[-1]}"')))
    for one in fields.kinds(field):
        if isinstance(one, Number | Count):
            named = f" {one.unit}" if isinstance(one, Number) and one.unit else ""
            usual = RANGES.get(dotted(path))
            range_ = f", usually {plain(usual.low)} to {plain(usual.high)}" if usual is not None else ""
            return f"{plain(one.low)} to {plain(one.high)}{named}{range_}"
    return "true or false" if field.annotation is bool else ""


def _span(low: float, high: float, unit: str) -> str:
    """Bounds in the file's unit, rounded inward."""
    scale, decimals = _SCALE[unit]
    step = 10.0**-decimals
    return f"{plain(rounded_up(low / scale, step))} to {plain(rounded_down(high / scale, step))} {unit}"


def _default(raw: Mapping[str, object], path: Path) -> str:
    key = ".".join("*" if isinstance(part, int) else part for part in path)
    field = fields.field_at(Design, path)
    must = "it must be stated" if field is not None and field.is_required() and key not in _FILLED else ""
    inner = [name.rpartition(".")[2] for name in DEFAULTS if name.rpartition(".")[0] == key]
    if key not in DEFAULTS and inner:
        if isinstance(look_up(raw, path), dict):
            return ""  # each of them gets its own remark
        bare = copied(raw)
        table = look_up(bare, path[:-1])
        if isinstance(table, dict):
            table[str(path[-1])] = {}
        return ", ".join(_default(bare, (*path, name)).replace("default", f"{name} by default") for name in inner)
    if key not in DEFAULTS:
        return must
    bare = copied(raw)
    table = look_up(bare, path[:-1])
    for other in (dotted(path), *INSTEAD.get(key, ())):
        if isinstance(table, dict):
            table.pop(other.rpartition(".")[2], None)
    default = DEFAULTS[key]
    value = default(Facts(bare)) if callable(default) else default
    if value is None:
        return must
    return "" if value in ([], "") else f"default {_shown(value, path, Facts(raw).unit)}"


_FILLED = (
    "neck.back.fret_1.fullness",
    "neck.back.fret_1.lean",
    "strings.scale.square_fret",
)  # a short form fills them in


def _shown(value: object, path: Path, unit: str) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float) and fields.length_at(Design, path) is not None:
        scale, decimals = _SCALE[unit]
        return f"{plain(round(value / scale, decimals))} {unit}"
    return plain(value) if isinstance(value, int | float) else f'"{value}"'


def _with_rest(raw: dict[str, Any], rows: list[str]) -> Iterator[str]:
    """The rows, with a line at the end of each section that names the keys it does not state; at the end of the
    file, a line that names the sections it does not have."""
    section = ""
    for at, row in enumerate(rows):
        header = _HEADER.match(row)
        section = header[1] if header else section
        yield row
        if section and "." not in section and (at + 1 == len(rows) or (row and not rows[at + 1])):
            known_keys = fields.fields(fields.tables_at(Design, (section,)))
            left = [_offered(raw, (section, key)) for key in known_keys if key not in raw[section]]
            if left:
                yield from _wrapped(f"May be stated too: {', '.join(left)}.")
            section = ""
    absent = [name for name in Design.model_fields if name not in raw]
    yield ""
    yield from _wrapped(f"Sections that may be added: {', '.join(absent)}. `neckmodel schema` lists every key.")


def _offered(raw: Mapping[str, object], path: Path) -> str:
    default = _default(raw, path)
    return f"{path[-1]} ({default})" if default.startswith("default") else str(path[-1])


def _wrapped(text: str, indent: int = 0) -> list[str]:
    start = "# " + " " * indent
    return textwrap.wrap(text, WIDE, initial_indent=start, subsequent_indent=start, break_on_hyphens=False)


assert set(LENGTHS_ARE) == set(FILE_UNITS)
