"""The floor of a channel or the axis of a rod along the neck: a straight line or a parabola. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Curve:
    """Depth below z = 0 along x: `start` at x_start, `end` at x_end, `middle` half way; middle None: straight.

    `d(u) = start + (4 middle - 3 start - end) u + 2 (start + end - 2 middle) u**2`, u from 0 to 1 along x; the same
    formula holds beyond both ends. With equal ends it is `d_e + (d_m - d_e) 4u(1-u)`.
    """

    x_start: float
    x_end: float
    start: float
    end: float
    middle: float | None = None

    @property
    def length(self) -> float:
        """Length along x, mm."""
        return self.x_end - self.x_start

    @property
    def sag(self) -> float:
        """How far the middle lies below the straight line between the ends, mm; negative above it."""
        return 0.0 if self.middle is None else self.middle - (self.start + self.end) / 2

    def at(self, x: float) -> float:
        """Depth at x, mm."""
        u = (x - self.x_start) / self.length
        return self.start + (self.end - self.start) * u + 4 * self.sag * u * (1 - u)

    def slope(self, x: float) -> float:
        """Change of the depth for each mm of x."""
        u = (x - self.x_start) / self.length
        return (self.end - self.start + 4 * self.sag * (1 - 2 * u)) / self.length

    def arc_length(self) -> float:
        """Length along the curve itself, mm: the integral of `sqrt(1 + d'**2)`, whose slope d' changes evenly."""
        first, last = self.slope(self.x_start), self.slope(self.x_end)
        if abs(last - first) < 1e-9:
            return self.length * math.hypot(1.0, first)

        def primitive(slope: float) -> float:
            return (slope * math.hypot(1.0, slope) + math.asinh(slope)) / 2

        return self.length * (primitive(last) - primitive(first)) / (last - first)

    def between(self, x_start: float, x_end: float) -> Curve:
        """The same curve, given by another stretch of x."""
        middle = None if self.middle is None else self.at((x_start + x_end) / 2)
        return Curve(x_start, x_end, self.at(x_start), self.at(x_end), middle)

    def raised(self, by: float) -> Curve:
        """The same curve, this much less deep, mm."""
        middle = None if self.middle is None else self.middle - by
        return Curve(self.x_start, self.x_end, self.start - by, self.end - by, middle)

    def mean(self) -> float:
        """Mean depth from end to end, mm (Simpson's rule, exact here)."""
        middle = (self.start + self.end) / 2 if self.middle is None else self.middle
        return (self.start + 4 * middle + self.end) / 6

    def extremes(self) -> tuple[float, float]:
        """(least, largest) depth from end to end, mm."""
        depths = [self.start, self.end]
        if self.sag:
            u = 0.5 + (self.end - self.start) / (8 * self.sag)  # where the slope is 0
            if 0 < u < 1:
                depths.append(self.at(self.x_start + u * self.length))
        return min(depths), max(depths)


def arc_difference(sag: float, length: float) -> float:
    """The most by which the arc through the same three points differs from the parabola, mm: `sag**3/l**2`.

    A sled on a curved rail cuts an arc. sag: of the middle against the chord of this length.
    """
    return abs(sag) ** 3 / length**2
