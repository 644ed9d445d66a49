"""A cap glued under the heel."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class HeelCap:
    """A plate glued under the heel, mm: its grain along the neck, its outline the heel's bottom."""

    thickness: float
    wood: str


@dataclass(frozen=True)
class CapPlace:
    """Where the cap lies, mm: from x_start, where the carve runs out into the heel's bottom, to the joint at x_end;
    width: at the joint. z_top, z_bottom: of its two faces."""

    cap: HeelCap
    x_start: float
    x_end: float
    width: float
    z_top: float

    @property
    def z_bottom(self) -> float:
        """z of its lower face, mm."""
        return self.z_top - self.cap.thickness

    @property
    def size(self) -> tuple[float, float, float]:
        """Finished length, width and thickness, mm."""
        return self.x_end - self.x_start, self.width, self.cap.thickness
