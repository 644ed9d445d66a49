"""The mass of a string, and the frequency of its note."""

from __future__ import annotations

import math
import re

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
