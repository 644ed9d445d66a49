"""Remedies in the unit of the design's file: in inches to 0.001, rounded away from the present value, so that the
printed, the typed and the tried number are the same."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from neckmodel.design import Design
from neckmodel.design.values.keys import look_up, split
from neckmodel.lengths import sixty_fourths
from neckmodel.units import MM_PER, to_mm

THOUSANDTHS = 1000
_EVEN = Fraction(1, 1000)  # of a thousandth: the error of binary fractions is smaller
BOUGHT_IN_MM = ("adjusting_key.size", "rod.adjuster.socket.size")  # a 4 mm key is not sold in inches
SOLD_BY_FRACTIONS = re.compile(r"workshop\.cutters\.\d+\.diameter")


def in_file_unit(design: Design, key: str, value: float) -> str:
    """A length in mm as a file in inches states it: `0.744 in`; a cutter by its fraction, `3/32 in`. A length
    that the file does not state is rounded up."""
    if key in BOUGHT_IN_MM:
        return f"{value:g} mm"
    exact = Fraction(repr(float(value))) / MM_PER["in"] * THOUSANDTHS
    near = round(exact)
    if abs(exact - near) > _EVEN:
        if (
            SOLD_BY_FRACTIONS.fullmatch(key)
            and abs(exact - round(exact * 64 / THOUSANDTHS) * Fraction(THOUSANDTHS, 64)) <= _EVEN
        ):
            return f"{sixty_fourths(float(exact / THOUSANDTHS))} in"  # as it is sold
        now = _now(design, key)
        if key.startswith("measured.channel.") or now is None:
            now = math.inf if key.endswith(".x_start") else -math.inf  # a cut can only grow
        near = math.ceil(exact) if value > now else math.floor(exact)
    return f"{near / THOUSANDTHS:.3f} in"


def in_file_numbers(says: str, before: dict[str, float | str], after: dict[str, float | str]) -> str:
    """A remedy's sentence, in mm, with the numbers as they are set, so that they read the same in inches."""
    for key, value in before.items():
        new = after[key]
        if isinstance(value, int | float) and isinstance(new, str) and new != f"{value} mm":
            says = re.sub(rf"(?<![\d.]){re.escape(f'{value:.2f}')}(?![\d.]*\d)", f"{to_mm(new):.2f}", says)
    return says


def _now(design: Design, key: str) -> float | None:
    """The present length, mm; None where it is a word, or not stated at all."""
    found = look_up(design.model_dump(by_alias=True), split(key.removeprefix("measured.")))
    return float(found) if isinstance(found, int | float) and not isinstance(found, bool) else None
