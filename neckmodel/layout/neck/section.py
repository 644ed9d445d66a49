"""One cross-section of the back, and the least wood round the openings cut into it. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from neckmodel.geometry.types import Floats


@dataclass(frozen=True)
class Section:
    """A cross-section of the finished neck: `|y/a|**p + |z/b|**p = 1` below the glue plane.

    half_width a, depth b in mm; exponent p; apex: y of the deepest line (bass half spans a + apex, treble a - apex).
    middle: y from which y and apex count, half way between the edges.
    """

    half_width: float
    depth: float
    exponent: float
    apex: float
    middle: float = 0.0

    def points(self, count: int = 361) -> Floats:
        """(count, 2) float, mm: (y, z) along the back from the bass edge to the treble edge, closer together where it
        bends."""
        t = np.linspace(0.0, math.pi, count)
        return self.at(t)

    def at(self, t: Floats) -> Floats:
        """(n, 2) mm for angles t in [0, pi]; 0 is the bass edge, pi/2 the deepest line, pi the treble edge."""
        c, s = np.cos(t), np.sin(t)
        span = np.where(c >= 0, self.half_width + self.apex, self.half_width - self.apex)
        y = self.middle + self.apex - span * np.sign(c) * np.abs(c) ** (2.0 / self.exponent)
        return np.stack([y, -self.depth * np.abs(s) ** (2.0 / self.exponent)], axis=-1)

    def area(self) -> float:
        """mm2: half of `4ab G(1+1/p)**2 / G(1+2/p)` (area of the superellipse, by the gamma function)."""
        g = math.gamma(1 + 1 / self.exponent) ** 2 / math.gamma(1 + 2 / self.exponent)
        return 2.0 * self.half_width * self.depth * g

    def depth_at(self, y: float) -> float:
        """Depth of the back below the glue plane at y, mm; 0 outside the section."""
        y -= self.middle
        span = self.half_width + self.apex if y < self.apex else self.half_width - self.apex
        u = min(abs(y - self.apex) / span, 1.0)
        return float(self.depth * (1.0 - u**self.exponent) ** (1.0 / self.exponent))


@dataclass(frozen=True)
class Opening:
    """A channel with square corners in one section, open at the glue plane: from y_low to y_high, `depth` deep, mm."""

    y_low: float
    y_high: float
    depth: float

    def breaks_out(self, section: Section) -> tuple[float, ...]:
        """y of each floor corner that lies outside the section. (A section is convex: with its corners inside, the
        floor is inside.)"""
        return tuple(y for y in (self.y_low, self.y_high) if section.depth_at(y) < self.depth)


def section_walls(sections: Sequence[Section], openings: Sequence[Opening]) -> Floats:
    """(n,) float, mm: least wood in any direction between each opening and the back of its section.

    Negative where an opening breaks through: minus the largest distance from the back to one of its corners outside.
    """
    walls = _nearest(sections, openings)
    for k, (section, opening) in enumerate(zip(sections, openings, strict=True)):
        corners = opening.breaks_out(section)
        if corners:
            points = [Opening(y, y, opening.depth) for y in corners]
            walls[k] = -float(_nearest([section] * len(points), points, beyond=True).max())
    return walls


# points round each half of the back, then between the nearest one's neighbours, so many times
COARSE, FINE, ROUNDS = 91, 33, 5


def _nearest(sections: Sequence[Section], openings: Sequence[Opening], beyond: bool = False) -> Floats:
    """(n,) distance from each opening to its section's back, mm; beyond: the openings are points outside the
    section."""
    a, b, p, y0, m = (
        np.array([getattr(s, name) for s in sections])[:, None]
        for name in ("half_width", "depth", "exponent", "apex", "middle")
    )
    low, high, floor = (
        np.array([getattr(o, name) for o in openings])[:, None] for name in ("y_low", "y_high", "depth")
    )

    def distance(t: Floats) -> Floats:
        c, s = np.cos(t), np.sin(t)
        y = m + y0 - (a + np.sign(c) * y0) * np.sign(c) * np.abs(c) ** (2.0 / p)
        below = b * np.abs(s) ** (2.0 / p) - floor
        beside = np.maximum(np.maximum(low - y, y - high), 0.0)
        return np.asarray(np.hypot(beside, below if beyond else np.maximum(below, 0.0)))

    halves = []
    for start, end in ((0.0, math.pi / 2), (math.pi / 2, math.pi)):  # each half may have its own nearest place
        t = np.broadcast_to(np.linspace(start, end, COARSE), (len(sections), COARSE))
        for _ in range(ROUNDS):
            best = distance(t).argmin(axis=1)
            rows = np.arange(len(t))
            first, last = t[rows, np.maximum(best - 1, 0)], t[rows, np.minimum(best + 1, t.shape[1] - 1)]
            t = np.linspace(first, last, FINE, axis=1)
        halves.append(distance(t).min(axis=1))
    return np.asarray(np.minimum(*halves))
