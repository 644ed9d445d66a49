"""Where the frets lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from neckmodel.design.values.scale import BEHIND_GROOVE, BEHIND_ZERO_FRET, Spans, fret_share
from neckmodel.geometry.types import Floats
from neckmodel.layout.strings.strings import StringLine

if TYPE_CHECKING:
    from neckmodel.design import Design


def fret_distance(scale: float, number: ArrayLike) -> Floats:
    """Distance of a fret from the nut, mm: `L (1 - 2**(-n/12))` (equal temperament, Mersenne's law).

    scale: mm. number: any shape, fret numbers; 0 is the nut. Returns the same shape.
    """
    return np.asarray(scale * (1.0 - np.exp2(-np.asarray(number, dtype=float) / 12.0)))


@dataclass(frozen=True)
class Fret:
    """One fret: its x on the centre line and at the outer strings, mm; slope: dx/dy of its line."""

    number: int
    x: float
    x_bass: float
    x_treble: float
    slope: float = 0.0

    def x_at(self, y: float) -> float:
        """x of the fret at this y, mm."""
        return self.x + self.slope * y


@dataclass(frozen=True)
class Frets:
    """All frets of a neck, and the strings over them. A zero fret is not among the frets: it lies on the nut's line."""

    spans: Spans
    frets: tuple[Fret, ...]
    strings: tuple[StringLine, ...]

    @property
    def scale(self) -> float:
        """From nut to saddle on the centre line, mm."""
        return self.spans.centre

    def x(self, number: float) -> float:
        """x of a fret on the centre line, mm; 0 is the nut. The fret need not lie on the fretboard."""
        return float(fret_distance(self.scale, number))

    def slope(self, number: float) -> float:
        """Slope dx/dy of a fret's line; 0 is the nut."""
        return self.spans.slope(fret_share(number))

    def nearest(self, x: float, y: float = 0.0) -> int:
        """Number of the fret whose line is nearest along x; 0 is the nut."""
        places = np.array([self.slope(0) * y, *(fret.x_at(y) for fret in self.frets)])
        return int(np.argmin(np.abs(places - x)))

    @property
    def from_nut(self) -> tuple[StringLine, ...]:
        """The strings that run on to the nut and the head: all but one that starts later."""
        return tuple(string for string in self.strings if string.fret == 0)

    @property
    def worst(self) -> StringLine:
        """The string under which one fret is farthest off in pitch."""
        return max(self.strings, key=lambda string: abs(string.worst.cents))


def place_frets(design: Design, spans: Spans) -> tuple[Fret, ...]:
    """Every fret of the design, from fret 1."""
    return tuple(fret_at(spans, n) for n in range(1, design.fretboard.frets + 1))


def fret_at(spans: Spans, number: int) -> Fret:
    """The line of one fret: `x = c t`, straight across all strings, through each outer string at its own share t."""
    share = fret_share(number)
    x, slope = float(fret_distance(spans.centre, number)), spans.slope(share)
    half = (spans.spacing_nut + (spans.spacing_bridge - spans.spacing_nut) * share) / 2
    return Fret(number, x, x - slope * half, x + slope * half, slope)


def nut_back(design: Design, half: float = 0.0, y: float = 0.0) -> float:
    """How far the nut reaches on the head side of x = 0, the largest within `half` of a line at y, mm."""
    slope = design.strings.spans.slope(0.0)
    thick = design.nut.thickness + (BEHIND_ZERO_FRET if design.fretboard.zero_fret else 0.0)
    return thick * math.hypot(1.0, slope) + abs(slope) * half - slope * y


def nut_behind(design: Design, half: float = 0.0, y: float = 0.0) -> float:
    """As `nut_back`, together with the fretboard wood behind the nut, mm."""
    strip = BEHIND_GROOVE * design.nut.thickness if design.nut.seat == "groove" else 0.0
    return nut_back(design, half, y) + strip * math.hypot(1.0, design.strings.spans.slope(0.0))
