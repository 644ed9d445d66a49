"""A glued tenon beyond the joint."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tenon:
    """A glued tenon from the joint to the wood's end, its cheeks upright, its bottom level, mm.

    half_width: of its end face at the glue plane, where it is widest.
    """

    half_width: float
    depth: float

    @property
    def name(self) -> str:
        """What a maker calls it."""
        return "tenon"

    def half_at(self, x: float, depth: float = 0.0) -> float:  # noqa: ARG002 - a dovetail asks for both
        """Half width at x, `depth` below the glue plane, mm."""
        return self.half_width

    def beside(self, x: float, y: float, depth: float) -> float:
        """Least wood from the point (x, y, -depth) inside to the nearer cheek, mm."""
        return self.half_at(x, depth) - abs(y)

    @property
    def outward(self) -> tuple[float, float]:
        """(across, down) of the unit vector square to a cheek in a section, out of the wood."""
        return 1.0, 0.0
