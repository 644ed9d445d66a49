"""The back of the neck: the thickness line, the superellipse of each cross-section, and walls measured in a section."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def smoothstep(u: float | Floats) -> Floats:
    """`u u (3 - 2u)` with u held to 0..1: rises with level ends."""
    v = np.clip(u, 0.0, 1.0)
    return np.asarray(v * v * (3.0 - 2.0 * v))


@dataclass(frozen=True)
class Section:
    """A cross-section of the finished neck: `|y/a|**p + |z/b|**p = 1` below the glue plane.

    half_width a, depth b in mm; exponent p; apex: y of the deepest line (bass half spans a + apex, treble a - apex).
    """

    half_width: float
    depth: float
    exponent: float
    apex: float

    def points(self, count: int = 361) -> Floats:
        """(count, 2) float, mm: (y, z) along the back from the bass edge to the treble edge, close where it bends."""
        t = np.linspace(0.0, math.pi, count)
        return self.at(t)

    def at(self, t: Floats) -> Floats:
        """(n, 2) mm for angles t in [0, pi]; 0 is the bass edge, pi/2 the deepest line, pi the treble edge."""
        c, s = np.cos(t), np.sin(t)
        span = np.where(c >= 0, self.half_width + self.apex, self.half_width - self.apex)
        y = self.apex - span * np.sign(c) * np.abs(c) ** (2.0 / self.exponent)
        return np.stack([y, -self.depth * np.abs(s) ** (2.0 / self.exponent)], axis=-1)

    def area(self) -> float:
        """mm2: half of `4ab G(1+1/p)**2 / G(1+2/p)` (area of the superellipse, by the gamma function)."""
        g = math.gamma(1 + 1 / self.exponent) ** 2 / math.gamma(1 + 2 / self.exponent)
        return 2.0 * self.half_width * self.depth * g

    def depth_at(self, y: float) -> float:
        """Depth of the back below the glue plane at y, mm; 0 outside the section."""
        span = self.half_width + self.apex if y < self.apex else self.half_width - self.apex
        u = min(abs(y - self.apex) / span, 1.0)
        return float(self.depth * (1.0 - u**self.exponent) ** (1.0 / self.exponent))


def section_wall(section: Section, half_width: float, depth: float) -> float:
    """Least wood in any direction between a square-cornered channel and the back, within one section, mm.

    half_width, depth: of the channel, centred on y = 0, open at the glue plane. Negative where the channel breaks
    through: minus the farthest its corner stands outside, measured straight to the back.
    """

    corners = [(side * half_width, -depth) for side in (-1.0, 1.0)]
    outside = [c for c in corners if section.depth_at(c[0]) < depth]

    def distance(t: Floats) -> Floats:
        p = section.at(t)
        if outside:
            return np.asarray(np.min([np.hypot(p[:, 0] - y, p[:, 1] - z) for y, z in outside], axis=0))
        return np.hypot(np.maximum(np.abs(p[:, 0]) - half_width, 0.0), np.maximum(-p[:, 1] - depth, 0.0))

    lo, hi = 0.0, math.pi
    best = math.inf
    for count in (181, 33, 33, 33):
        t = np.linspace(lo, hi, count)
        d = distance(t)
        k = int(np.argmin(d))
        best = float(d[k])
        lo, hi = float(t[max(k - 1, 0)]), float(t[min(k + 1, count - 1)])
    return -best if outside else best


@dataclass(frozen=True)
class Back:
    """The law of the shaft: section as a function of x, from the head line to the heel, swellings left out.

    thickness line: `t_1` at x_1, `t_12` at x_12 (fretboard included), straight through both and beyond.
    exponent and apex go from their value at fret 1 to that at fret 12 by a smoothstep, constant outside.
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

    def half_width(self, x: float) -> float:
        return self.half_nut + self.slope * x

    def thickness(self, x: float) -> float:
        """Crown to back at the deepest line, mm."""
        return self.t_1 + (self.t_12 - self.t_1) * (x - self.x_1) / (self.x_12 - self.x_1)

    def depth(self, x: float) -> float:
        """Wood below the glue plane at the deepest line, mm."""
        return self.thickness(x) - self.fretboard_thickness

    @property
    def depth_slope(self) -> float:
        return (self.t_12 - self.t_1) / (self.x_12 - self.x_1)

    def _blend(self, x: float) -> float:
        return float(smoothstep((x - self.x_1) / (self.x_12 - self.x_1)))

    def exponent(self, x: float) -> float:
        return self.p_1 + (self.p_12 - self.p_1) * self._blend(x)

    def apex(self, x: float) -> float:
        return self.apex_1 + (self.apex_12 - self.apex_1) * self._blend(x)

    def section(self, x: float) -> Section:
        return Section(self.half_width(x), self.depth(x), self.exponent(x), self.apex(x))
