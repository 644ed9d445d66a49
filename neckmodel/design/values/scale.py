"""Two scale lengths, measured along the outer strings: how far they reach along the neck, and how they slant the frets.

Equal temperament and plane geometry. Lengths mm, x from the nut toward the body, y toward the treble side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

BEHIND_ZERO_FRET = 2.0  # mm of fretboard between a zero fret's line and the nut
BEHIND_GROOVE = 1.5  # of the nut's thickness: fretboard wood on the head side of a nut in a groove


def fret_share(number: float) -> float:
    """The share of a string that lies between nut and fret: `t(n) = 1 - 2**(-n/12)` (equal temperament)."""
    return 1.0 - math.exp2(-number / 12.0)


@dataclass(frozen=True)
class Spans:
    """The outer strings from the nut's line to the saddle's, as spans along x: `c = L cos a`, `sin a = (S1 - S0)/2L`.

    square: share t(q) of the fret that stands square to the centre line. spacing_nut, spacing_bridge: S0 and S1, from
    centre to centre of the outer strings. One scale length is measured along the centre line: then both spans are L.
    """

    bass: float
    treble: float
    square: float
    spacing_nut: float
    spacing_bridge: float

    @property
    def centre(self) -> float:
        """From the nut to the saddle on the centre line, where fret n lies at `centre t(n)`."""
        return (self.bass + self.treble) / 2

    def slope(self, share: float) -> float:
        """Slope dx/dy of the line across all strings at this share: `(x_treble - x_bass)/S`; 0 at `square`.

        With both lines meeting at the square fret, `x_treble - x_bass = (c_T - c_B)(t - t_q)`.
        """
        spacing = self.spacing_nut + (self.spacing_bridge - self.spacing_nut) * share
        return (self.treble - self.bass) * (share - self.square) / spacing


def spans(bass: float, treble: float, square_fret: float, at_nut: float, at_bridge: float) -> Spans:
    """The spans for these scale lengths, square fret and outer string spacings at nut and bridge, mm."""
    if bass == treble:
        return Spans(bass, treble, 0.0, at_nut, at_bridge)
    c_bass, c_treble = (math.sqrt(max(length**2 - ((at_bridge - at_nut) / 2) ** 2, 1.0)) for length in (bass, treble))
    return Spans(c_bass, c_treble, fret_share(square_fret), at_nut, at_bridge)
