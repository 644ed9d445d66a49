"""What the strings pull: Mersenne's law, per string and in all, and what of it presses on the nut. Forces N."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.strength.materials import STRING_DENSITY

if TYPE_CHECKING:
    from neckmodel.design.strings import String, Strings

A4 = 440.0  # Hz (ISO 16)
_NOTE = re.compile(r"([A-G])([#b]?)(-?\d)")
_STEP = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def frequency(note: str) -> float:
    """Hz of a note in scientific pitch notation, equal temperament, A4 = 440 Hz (ISO 16). ValueError if it is none."""
    match = _NOTE.fullmatch(note)
    if match is None:
        raise ValueError(f"{note!r} is not a note such as E2 or F#3")
    letter, sign, octave = match.groups()
    steps = 12 * (int(octave) - 4) + _STEP[letter] - _STEP["A"] + {"#": 1, "b": -1, "": 0}[sign]
    return float(A4 * 2.0 ** (steps / 12))


def mass_of_wire(diameter: float, density: float) -> float:
    """Mass per length of a plain string, g/m: `rho pi d**2 / 4`. diameter mm, density kg/m3."""
    return density * math.pi * diameter**2 / 4 * 1e-3


def tension(length: float, hertz: float, mass_per_length: float) -> float:
    """`T = 4 L**2 f**2 mu` (Mersenne's law), N. length mm, mass_per_length g/m."""
    return 4 * (length * 1e-3) ** 2 * hertz**2 * mass_per_length * 1e-3


def press_on_nut(pull: float, angle: float) -> float:
    """Force of a string on the nut where it bends by `angle` degrees: `2 T sin(angle/2)`, N."""
    return 2 * pull * math.sin(math.radians(angle) / 2)


@dataclass(frozen=True)
class Pull:
    """The strings' tension, N: of each string from the bass side, and the key that is missing where it is not known."""

    each: tuple[float, ...]
    missing: str | None = None

    @property
    def total(self) -> float:
        return math.fsum(self.each)


def mass_of(string: String) -> float | None:
    """g/m as stated, or of a plain string of a stated material; None where neither is."""
    if string.mass_per_length is not None:
        return string.mass_per_length
    if string.material is None:
        return None
    return mass_of_wire(string.diameter, STRING_DENSITY[string.material])


def pull_of(strings: Strings) -> Pull:
    """Every string's tension. With two scale lengths a string's length goes evenly from bass to treble."""
    each = strings.each
    if not each:
        return Pull((), "strings.each")
    forces = []
    for k, string in enumerate(each):
        mass = mass_of(string)
        if string.note is None or mass is None:
            what = "note" if string.note is None else "mass_per_length"
            return Pull((), f"strings.each[{k}].{what}")
        share = k / (len(each) - 1) if len(each) > 1 else 0.0
        length = strings.scale.bass + (strings.scale.treble - strings.scale.bass) * share
        forces.append(tension(length, frequency(string.note), mass))
    return Pull(tuple(forces))
