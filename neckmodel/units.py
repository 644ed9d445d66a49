"""Lengths as makers write them, exact through fractions. All code works in millimetres."""

from __future__ import annotations

import math
import re
from fractions import Fraction

INCH = Fraction("25.4")  # mm, exact by definition: international yard and pound agreement of 1959
MM_PER_INCH = float(INCH)
MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    **dict.fromkeys(("in", "inch", "inches", '"', "\u2033"), INCH),  # the last is a word processor's double prime
}
FILE_UNITS = ("mm", "in")

# also published in the JSON schema, so in the part of the syntax that all regular expressions share
_WHOLE, _FRACTION, _DECIMAL = r"(?:(\d+)[ -]+(?=\d+/))?", r"\d+/0*[1-9]\d*", r"\d+\.?\d*|\.\d+"
LENGTH_PATTERN = rf"""^\s*([+-]?){_WHOLE}({_FRACTION}|{_DECIMAL})\s*(mm|cm|inches|inch|in|"|\u2033)\s*$"""
FRACTION_PATTERN = rf"^\s*([+-]?){_WHOLE}({_FRACTION})\s*$"
_LENGTH, _BARE_FRACTION = re.compile(LENGTH_PATTERN, re.ASCII), re.compile(FRACTION_PATTERN, re.ASCII)
_LONGEST = 40  # signs; a longer text is a mistake, and an endless row of digits would take endless time


def to_mm(value: object, unit: str = "mm") -> float:
    """A length in mm. Numbers are in `unit`; texts carry their own (`"7/32 in"`, `"25.5 in"`, `"6 mm"`). In inches a
    fraction needs no unit (`"1/4"`); in mm it must have one, for nobody means a quarter of a millimetre.

    Raises ValueError, whose text says how a length is written, for anything else (bools, NaN and infinity too).
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(_wanted(unit))
    if isinstance(value, str):
        exact = _parse(value + " in" if unit == "in" and bare_fraction(value) else value)
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


def bare_fraction(value: object) -> bool:
    """Whether a value is a fraction without a unit, as `"1 1/2"`."""
    return isinstance(value, str) and len(value) <= _LONGEST and _BARE_FRACTION.fullmatch(value) is not None


def _wanted(unit: str) -> str:
    example = "5.5" if unit == "mm" else '0.25, "1/4"'
    return f'{example} ({unit}, the unit of the file), "5.5 mm" or "7/32 in"'


def from_mm(millimetres: float, unit: str) -> float:
    """The number that `to_mm(number, unit)` turns back into these millimetres."""
    if unit == "mm":
        return millimetres
    return float(Fraction(repr(float(millimetres))) / MM_PER[unit])


USUAL_PAPER = {"mm": "A4", "in": "Letter"}  # what lies in the printer, by the unit of a design
