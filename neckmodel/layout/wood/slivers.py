"""Where the seams of a board of strips lie beside the channel's walls. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.wood.strips import seams_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.wood.strips import Strip

ON_WALL = 0.05  # mm; a seam this near to a wall lies on it, and leaves nothing; common practice, no source
SAME = 1e-6  # mm


@dataclass(frozen=True)
class Beside:
    """A seam beside the wall of a step, or inside it. seam: its number, from 0 on the bass side; gap: of wood between
    wall and seam, mm, negative where the seam lies inside the step."""

    seam: int
    y: float
    step: str
    gap: float

    def is_sliver(self, least: float) -> bool:
        """Whether what stays of a strip on the wall is thinner than `least`, mm."""
        return ON_WALL + SAME < self.gap < least

    @property
    def inside(self) -> bool:
        """Whether the seam comes out in the step's floor."""
        return self.gap < -ON_WALL


def seams_beside(strips: Sequence[Strip], steps: Sequence[Step]) -> tuple[Beside, ...]:
    """Every seam beside every step."""
    return tuple(
        Beside(k, y, step.name, abs(y - step.y) - step.width / 2)
        for k, y in enumerate(seams_of(strips))
        for step in steps
    )


def moved_clear(y: float, steps: Sequence[Step], least: float, toward: int) -> float:
    """The nearest y toward +1 or -1 at which a seam leaves no sliver on any wall, mm: on the wall, or `least` from it
    in the wood."""
    walls = [(step.y + side * step.width / 2, side) for step in steps for side in (-1, 1)]
    for _ in range(len(walls) + 1):
        hit = next(((wall, side) for wall, side in walls if ON_WALL + SAME < side * (y - wall) < least - SAME), None)
        if hit is None:
            return y
        wall, side = hit
        y = wall + side * least if toward == side else wall
    return y
