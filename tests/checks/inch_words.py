"""What a sentence of a finding still says without a unit, once a maker who works in inches reads it."""

from __future__ import annotations

import re

from neckmodel.lengths import in_unit

NUMBER = r"-?\d+\.\d+"
INCHES = rf"{NUMBER}(?: \(-?(?:\d+ )?\d+(?:/\d+)?\))?"
# a row of lengths ends with its unit; the fraction of its last one, where there is no other, follows the unit
ROW = re.compile(rf"{INCHES}(?:(?: to | x | and | or |, ){INCHES})* in\b(?: \(-?(?:\d+ )?\d+(?:/\d+)?\))?")
OTHER = re.compile(
    rf"\bx {NUMBER}(?! mm)"  # a factor; a place along the neck has its unit
    rf"|\b1 in {NUMBER}"  # a slope
    rf"|{NUMBER} of a turn(?: \({NUMBER} to {NUMBER} over)?"
    rf"|{NUMBER} of (?:the area|the modulus|it)\b"
    rf"|{NUMBER}(?: to {NUMBER})? (?:mm²|mm3|MPa|GPa|N|%|degrees|times|N/mm)(?!\w)"
)


def without_unit(says: str, *, to_follow: bool = False) -> list[str]:
    """Decimal numbers of a sentence, as told in inches, that carry no unit, and lengths that stayed in mm."""
    told = in_unit(says, "in", to_follow=to_follow)
    left = OTHER.sub("", ROW.sub("", told))
    return re.findall(rf"{NUMBER}|\d+ mm\b(?!\d)", left)
