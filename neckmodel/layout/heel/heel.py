"""The heel by itself, from the joint to the wood's end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.heel.tenon import Tenon

if TYPE_CHECKING:
    from neckmodel.design.tables.heel import HeelKind


@dataclass(frozen=True)
class Heel:
    """The heel from the joint to the wood's end, mm. half_width None: it follows the fretboard's sides.

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

    @property
    def x_swell(self) -> float:
        """x at which the carved back begins to swell toward the heel, mm."""
        return self.x_joint - self.swell_from

    def depth_at(self, x: float) -> float:
        """Depth of the flat bottom at x, mm: the heel's, or beyond the joint the tenon's where there is one."""
        return self.tenon.depth if self.tenon is not None and x > self.x_joint else self.depth
