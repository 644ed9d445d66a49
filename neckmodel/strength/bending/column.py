"""A neck as a column: clamped where it meets the body, its nut pulled toward the bridge by the strings. mm, N."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from neckmodel.geometry.types import Floats

ROUNDS = 12  # of Rayleigh's quotient: each takes its error down by a factor of 20 or more


@dataclass(frozen=True)
class Column:
    """edges: (m+1,) of the cells from the nut to the joint, mm; bending: (m,) EI of each, N mm2; pull: of the strings,
    N; scale: from nut to bridge, mm.

    The bridge stays where it is. A nut that has risen by `d` lifts the strings' line by `d (1 - x/scale)`, and the neck
    itself has risen by w(x), so `EI w'' = M + P (d (1 - x/scale) - w)`, w and w' 0 at the joint. For an even neck of
    length l whose joint is c away from the bridge, M = 0 leaves `tan u = -u c/l`, and the load is `u**2 EI/l**2`: from
    0.25 (c endless: a free end) to 1 (c = 0) of a pinned column's, 0.42 at fret 12. It is the column "whose load goes
    through a fixed point" of S. Timoshenko and J. Gere, Theory of Elastic Stability (1961), chapter 2 (from memory).
    """

    edges: Floats
    bending: Floats
    pull: float
    scale: float

    @cached_property
    def _steps(self) -> Floats:
        return np.diff(self.edges)

    @cached_property
    def _along(self) -> Floats:
        """(m,) 1 - x/scale at the cells' middles: how far the strings' line rises where the nut rises by 1."""
        return 1 - (self.edges[:-1] + self._steps / 2) / self.scale

    def _risen(self, loads: Floats, pull: float) -> tuple[Floats, float]:
        """((m,) curvature, 1/mm; rise of the nut, mm) under moments (m,) that do not change, and a pull (N) whose line
        starts at the straight neck's nut. Computed from the joint outward; linear in the moments."""
        rise = slope = 0.0
        curvature = []
        cells = list(zip(self._steps.tolist(), loads.tolist(), self.bending.tolist(), strict=True))
        for step, load, bending in reversed(cells):
            # at the cell's middle it stands at rise + slope step/2 + curve step**2/8
            curve = (load - pull * (rise + slope * step / 2)) / (bending + pull * step * step / 8)
            rise += step * (slope + curve * step / 2)
            slope += curve * step
            curvature.append(curve)
        return np.array(curvature[::-1]), rise

    def curvature(self, moment: Floats) -> Floats | None:
        """(m,) 1/mm under a moment (m,), N mm, on the straight neck, and under what the strings add as the neck bends
        away from their line; None where the neck gives way."""
        own, rise = self._risen(moment, self.pull)
        following, each = self._risen(self.pull * self._along, self.pull)
        # where the nut has risen by d, it rises to `rise + d each`; with each = 1 or more it never settles
        return None if each >= 1.0 else own + rise / (1.0 - each) * following

    @cached_property
    def bears(self) -> float:
        """The pull, N, under which the neck gives way: the least of `SUM EI k**2 h / SUM k a h` over all shapes, with k
        the curvature, h the cells' lengths and a the distance of the strings from the bent neck. The next shape tried
        is a/EI."""
        curve, load = 1 / self.bending, 0.0
        for _ in range(ROUNDS):
            turns = curve * self._steps
            slope = np.cumsum(turns[::-1])[::-1] - turns / 2  # at the middles
            ends = np.cumsum((slope * self._steps)[::-1])[::-1]  # how high each cell's nut side stands
            rise = ends - (slope + turns / 4) * self._steps / 2
            away = ends[0] * self._along - rise
            load = float(np.sum(self.bending * curve * turns) / np.sum(away * turns))
            curve = away / self.bending / float(away.max())
        return load
