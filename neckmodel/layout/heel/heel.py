"""The heel by itself, from the joint to the wood's end."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.smooth import smoothstep
from neckmodel.layout.heel.cap import HeelCap
from neckmodel.layout.heel.tenon import Tenon

if TYPE_CHECKING:
    from neckmodel.design.tables.heel import HeelKind


@dataclass(frozen=True)
class Heel:
    """The heel from the joint to the wood's end, mm. half_width: at the glue plane; None: it follows the fretboard's
    sides. half_bottom: at its bottom, where it narrows on its way down; None: its sides stand upright.

    With a tenon the heel ends square at the joint, and x_end is the tenon's end.
    """

    kind: HeelKind
    x_joint: float
    x_end: float
    half_width: float | None
    depth: float
    corner_radius: float
    swell_from: float
    pocket_depth: float
    plate: float
    tenon: Tenon | None = None
    half_bottom: float | None = None
    cap: HeelCap | None = None

    @property
    def x_swell(self) -> float:
        """x at which the carved back begins to swell toward the heel, mm."""
        return self.x_joint - self.swell_from

    def depth_at(self, x: float) -> float:
        """Depth of the flat bottom at x, mm: the heel's, or beyond the joint the tenon's where there is one."""
        return self.tenon.depth if self.tenon is not None and x > self.x_joint else self.depth

    def narrowing(self, depth: float) -> float:
        """Width of the heel at the joint, `depth` below the glue plane, as a share of that at the glue plane."""
        if self.half_bottom is None or self.half_width is None:
            return 1.0
        bottom = self.half_bottom / self.half_width
        return bottom + (1 - bottom) * (1 - smoothstep(depth / self.depth))

    def shoulder(self) -> tuple[float, float]:
        """(least width of the shoulder beside the tenon, the depth at which it lies), mm: the heel's half width at the
        joint less that of the tenon's end face, at any depth of the tenon. Negative where the tenon is the wider one;
        of a heel without a tenon (inf, 0)."""
        tenon, top = self.tenon, self.half_width
        if tenon is None or top is None:
            return math.inf, 0.0
        places = [0.0, tenon.depth]
        falls = tenon.half_at(self.x_end, 0.0) - tenon.half_at(self.x_end, 1.0)
        if self.half_bottom is not None and self.half_bottom < top:
            # least where both narrow equally fast: u u - u + q = 0 with u the share of the heel's depth
            root = 1 - 4 * falls * self.depth / (6 * (top - self.half_bottom))
            if root >= 0:
                both = ((1 + way * math.sqrt(root)) / 2 * self.depth for way in (-1, 1))
                places += [at for at in both if 0 < at < tenon.depth]
        return min((top * self.narrowing(at) - tenon.half_at(self.x_end, at), at) for at in places)
