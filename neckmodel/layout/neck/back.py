"""The back of the neck: the line of its thickness, and the superellipse of each cross-section."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.geometry.smooth import smoothstep
from neckmodel.layout.fretboard.later import LaterSide
from neckmodel.layout.neck.section import Section


@dataclass(frozen=True)
class Back:
    """The shape of the shaft: its section at every x from the head line to the heel, swellings left out. Lengths mm.

    Thickness: `t_1` at x_1, `t_12` at x_12 (fretboard included), on a straight line through both. Exponent and apex go
    from their values at fret 1 to those at fret 12 by a smoothstep, and stay constant outside.
    """

    half_nut: float
    slope: float
    fretboard_thickness: float
    x_1: float
    x_12: float
    t_1: float
    t_12: float
    p_1: float
    p_12: float
    apex_1: float
    apex_12: float
    later: LaterSide | None = None

    @property
    def is_blended(self) -> bool:
        """Whether the section changes its shape along the neck, not only its size, or widens on one side."""
        return self.p_1 != self.p_12 or self.apex_1 != self.apex_12 or self.later is not None

    def half_width(self, x: float) -> float:
        """Half of the glue plane's width at x, mm."""
        return self.half_nut + self.slope * x - self.middle(x)

    def middle(self, x: float) -> float:
        """y half way between the edges of the glue plane at x, mm: 0, but beside a string that starts later."""
        return 0.0 if self.later is None else self.later.inward(x) / 2

    def reach(self, x: float) -> float:
        """How far the edge that is farther from the centre line lies from it at x, mm."""
        return self.half_width(x) + abs(self.middle(x))

    def thickness(self, x: float) -> float:
        """Thickness at x from the crown to the deepest line of the back, mm."""
        return self.t_1 + (self.t_12 - self.t_1) * (x - self.x_1) / (self.x_12 - self.x_1)

    def depth(self, x: float) -> float:
        """Wood below the glue plane at the deepest line, mm."""
        return self.thickness(x) - self.fretboard_thickness

    @property
    def depth_slope(self) -> float:
        """Change of the depth for each mm of x."""
        return (self.t_12 - self.t_1) / (self.x_12 - self.x_1)

    def _blend(self, x: float) -> float:
        return smoothstep((x - self.x_1) / (self.x_12 - self.x_1))

    def exponent(self, x: float) -> float:
        """Exponent of the superellipse at x."""
        return self.p_1 + (self.p_12 - self.p_1) * self._blend(x)

    def apex(self, x: float) -> float:
        """y of the deepest line at x, from the middle between the edges, mm."""
        return self.apex_1 + (self.apex_12 - self.apex_1) * self._blend(x)

    def section(self, x: float) -> Section:
        """The cross-section at x."""
        return Section(self.half_width(x), self.depth(x), self.exponent(x), self.apex(x), self.middle(x))
