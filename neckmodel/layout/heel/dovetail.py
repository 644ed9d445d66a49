"""A dovetail: a tenon whose cheeks widen toward the body and lean inward on their way down."""

from __future__ import annotations

import math
from dataclasses import dataclass

from neckmodel.layout.heel.tenon import Tenon


@dataclass(frozen=True)
class Dovetail(Tenon):
    """The tenon from its root at x_root, the joint, to its end face at x_end, mm. flare, taper: degrees.

    Half width `half_width - (x_end - x) tan(flare) - |z| tan(taper)`: each cheek is a plane.
    """

    x_root: float
    x_end: float
    flare: float
    taper: float

    @property
    def name(self) -> str:
        """What a maker calls it."""
        return "dovetail"

    @property
    def slope(self) -> tuple[float, float]:
        """By how much the half width grows for each mm of x, and shrinks for each mm of depth."""
        return math.tan(math.radians(self.flare)), math.tan(math.radians(self.taper))

    def half_at(self, x: float, depth: float = 0.0) -> float:
        """Half width at x, `depth` below the glue plane, mm."""
        along, down = self.slope
        return self.half_width - (self.x_end - x) * along - depth * down

    def beside(self, x: float, y: float, depth: float) -> float:
        """Least wood from the point (x, y, -depth) inside to the nearer cheek, mm. A cheek begins at the root, so near
        it the root's edge counts; negative outside the wood."""
        along, down = self.slope
        gap, lean = self.half_at(x, depth) - abs(y), 1 + along * along + down * down
        if gap <= 0 or x - gap * along / lean >= self.x_root:
            return gap / math.sqrt(lean)
        at_root = self.half_at(self.x_root, depth) - abs(y)
        return math.hypot(x - self.x_root, at_root / math.hypot(1.0, down))

    @property
    def outward(self) -> tuple[float, float]:
        """(across, down) of the unit vector square to a cheek in a section, out of the wood."""
        run = math.hypot(1.0, self.slope[1])
        return 1.0 / run, self.slope[1] / run
