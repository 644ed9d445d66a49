"""Lengths as makers write them, exact through fractions. Everything inside the package is in millimetres."""

from __future__ import annotations

import math
import re
from fractions import Fraction

MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": Fraction("25.4"),  # exact by definition, international yard and pound agreement of 1959
    "inch": Fraction("25.4"),
    '"': Fraction("25.4"),
}
FILE_UNITS = ("mm", "in")

# also published in the JSON schema, so in the part of the syntax that all regular expressions share
LENGTH_PATTERN = r"""^\s*([+-]?)(?:(\d+)[ -]+(?=\d+/))?(\d+/0*[1-9]\d*|\d+\.?\d*|\.\d+)\s*(mm|cm|inch|in|")\s*$"""
_LENGTH = re.compile(LENGTH_PATTERN, re.ASCII)
_LONGEST = 40  # signs; longer is a mistake, and an endless row of digits would take endless time


def to_mm(value: object, unit: str = "mm") -> float:
    """A length in mm. Numbers are taken in `unit`; strings carry their own (`"7/32 in"`, `"25.5 in"`, `"6 mm"`).

    Raises ValueError, whose text says what a length looks like, for anything else (bools, NaN and infinity too).
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(_wanted(unit))
    if isinstance(value, str):
        exact = _parse(value)
        if exact is None:
            raise ValueError(_wanted(unit))
    elif isinstance(value, float) and not math.isfinite(value):
        raise ValueError(_wanted(unit))
    elif unit == "mm" and isinstance(value, float):
        return float(value)
    else:
        # through the shortest decimal, so that 25.5 in is 647.7 mm and not 647.6999999999999
        exact = (Fraction(value) if isinstance(value, int) else Fraction(repr(float(value)))) * MM_PER[unit]
    try:
        return float(exact)
    except OverflowError:
        raise ValueError(_wanted(unit)) from None


def _parse(text: str) -> Fraction | None:
    if len(text) > _LONGEST:
        return None
    match = _LENGTH.fullmatch(text)
    if match is None:
        return None
    sign, whole, number, unit = match.groups()
    size = (Fraction(number) + int(whole or 0)) * MM_PER[unit]
    return -size if sign == "-" else size


def _wanted(unit: str) -> str:
    example = "5.5" if unit == "mm" else "0.25"
    return f'{example} ({unit}, the unit of the file), "5.5 mm" or "7/32 in"'


def from_mm(millimetres: float, unit: str) -> float:
    """The number that `to_mm(number, unit)` turns back into these millimetres."""
    if unit == "mm":
        return millimetres
    return float(Fraction(repr(float(millimetres))) / MM_PER[unit])
