"""Writes a design file in the other unit: each length without a unit is converted, everything else (remarks, order,
spacing) stays.

The new number is the shortest decimal within 0.00005 in (0.0013 mm) of the old one. A length stated to 0.01 mm or to
0.0001 in therefore converts back to itself: no other number with so few decimals lies as near.
"""

from __future__ import annotations

import math
import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any

from neckmodel.design.reading.lengths import Stated, lengths
from neckmodel.design.values.keys import Facts, Path, dotted, look_up
from neckmodel.design.values.kinds import Length
from neckmodel.lengths import sixty_fourths
from neckmodel.units import MM_PER, bare_fraction, to_mm

if TYPE_CHECKING:
    from neckmodel.design.design import Design

NEAR = Fraction(1, 20_000) * MM_PER["in"]
"""mm: the most by which a converted length may differ from the old one, 0.00127."""
_MOST_DECIMALS = 9
_RATHER_MORE = {"board.length": 2, "board.width": 2, "board.thickness": 2, "heel.depth": 2, "rod_place.from_nut": 3}
"""Lengths that are rounded up, with their decimals: wood to cut from, and room of which more does no harm."""
_LONG, _THOUSANDTH = 4, Fraction(1, 1000)  # in

PLAIN = re.compile(r"(\d+\.\d+) (mm|in)")  # a decimal with its unit, as a size is written that stays
SOCKET: Path = ("rod", "adjuster", "socket", "size")
_DRAWINGS: tuple[Path, ...] = (("head", "outline", "file"), ("body", "outline", "file"))

Writing = Callable[[Stated, str, str], str]
"""Writes a length as the new file states it: from (length, old unit, new unit) to TOML."""


@dataclass(frozen=True)
class Converted:
    """A design file's text in another unit. turned: how many lengths were converted. kept: how many carry their own
    unit and stay."""

    text: str
    turned: int
    kept: int


def turned(one: Stated, unit: str, other: str) -> str:
    """A length in the other unit, as TOML: the shortest decimal near enough to the old one and within the key's
    bounds."""
    if not one.bare:
        return f'"{str(one.value).strip()} {unit}"'
    exact = Fraction(repr(one.value)) * MM_PER[unit] / MM_PER[other]
    near = NEAR / MM_PER[other]
    for decimals in range(1, _MOST_DECIMALS):
        found = rounded(exact, decimals)
        if abs(Fraction(found) - exact) < near and _as_sound(one.kind, one.value, unit, found, other):
            return found
    return rounded(exact, _MOST_DECIMALS)


def handy(one: Stated, unit: str, other: str) -> str:
    """A length in the other unit for a new file, where sizes may move a little: in inches to 0.001, those over 4 in
    to 0.01, or a fraction where a 64th lies as near. What must not become less is rounded up. In mm as `turned`."""
    if other != "in" or not one.bare:
        return turned(one, unit, other)
    exact = Fraction(repr(one.value)) * MM_PER[unit] / MM_PER[other]
    if dotted(one.path) in _RATHER_MORE:
        decimals = _RATHER_MORE[dotted(one.path)]
        return rounded(Fraction(math.ceil(exact * 10**decimals), 10**decimals), decimals)
    found = rounded(exact, 2 if abs(exact) >= _LONG else 3)
    fraction = Fraction(round(exact * 64), 64)
    if fraction.denominator > 1 and abs(fraction - exact) <= _THOUSANDTH / 2:
        return f'"{sixty_fourths(float(fraction))}"'
    return found if _as_sound(one.kind, one.value, unit, found, other) else turned(one, unit, other)


def rounded(exact: Fraction, decimals: int) -> str:
    """The nearest decimal with at most this many places, one at least."""
    grid = Decimal(1).scaleb(-decimals)
    found = (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(grid, ROUND_HALF_EVEN)
    text = f"{found:f}"
    whole, _, part = text.partition(".")
    return f"{whole}.{part.rstrip('0') or '0'}"


def _as_sound(kind: Length | None, value: Any, unit: str, found: str, other: str) -> bool:
    """Whether the converted number still keeps the bounds that the old one kept."""
    return kind is None or not kind.holds(value, unit) or kind.holds(float(found), other)


def convert(design: Design, unit: str, writing: Writing = turned) -> Converted:
    """The design's file with its lengths converted to "mm" or "in". Values set over the file are left out."""
    import tomllib

    import tomlkit

    text = design.source.text
    raw = tomllib.loads(text)
    old = Facts(raw).unit
    if old == unit:
        return Converted(text, 0, 0)
    document = tomlkit.parse(text)
    written = kept = 0
    for one in lengths(raw):
        if one.bare and _is_trade_size(raw, one.path):
            _put(document, one.path, tomlkit.value(f'"{one.value} {old}"'))
            kept += 1
        elif _is_trade_size(raw, one.path) and (own := PLAIN.fullmatch(str(one.value))) and own[2] == unit:
            _put(document, one.path, tomlkit.value(own[1]))
            written += 1
        elif one.bare or bare_fraction(one.value):
            _put(document, one.path, tomlkit.value(writing(one, old, unit)))
            written += one.bare
        else:
            kept += _has_unit(one.value)
    _put(document, ("design", "units"), tomlkit.value(f'"{unit}"'))
    return Converted(tomlkit.dumps(document), written, kept)


def _is_trade_size(raw: Mapping[str, Any], path: Path) -> bool:
    """Whether this is what a hexagon key, or the socket for it, is sold by: 5 mm stays 5 mm in a file in inches."""
    kind = look_up(raw, (*path[:-1], "kind"))
    return kind != "bar" if path == ("adjusting_key", "size") else path == SOCKET and kind == "hex"


def _has_unit(value: object) -> bool:
    try:
        to_mm(value)
    except ValueError:  # a word such as "auto"
        return False
    return True


def _put(document: Any, path: Path, value: Any) -> None:
    here = document
    for part in path[:-1]:
        found = look_up(here, (part,))
        here = here[str(part)] if found is None or isinstance(part, str) else here[part]
    last = path[-1]
    here[str(last) if isinstance(here, dict) else last] = value


def repointed(text: str, before: FilePath, after: FilePath) -> str:
    """The text of a design file that moves to another folder, with the paths of its drawings adjusted."""
    import tomllib

    import tomlkit

    if before.resolve() == after.resolve():
        return text
    raw, document = tomllib.loads(text), tomlkit.parse(text)
    for path in _DRAWINGS:
        named = look_up(raw, path)
        if isinstance(named, str) and not FilePath(named).is_absolute():
            found = os.path.relpath(before.resolve() / named, after.resolve())
            _put(document, path, FilePath(found).as_posix())
    return tomlkit.dumps(document)


def without_end(text: str) -> str:
    """The text without `heel.wood_ends_at` where a tenon states the same, for sizes that move a little."""
    import tomlkit

    document: Any = tomlkit.parse(text)
    document.get("heel", {}).pop("wood_ends_at", None)
    return tomlkit.dumps(document)


def renamed(text: str, name: str) -> str:
    """The text of a design file with another name inside."""
    import tomlkit

    document = tomlkit.parse(text)
    _put(document, ("design", "name"), name)
    return tomlkit.dumps(document)
