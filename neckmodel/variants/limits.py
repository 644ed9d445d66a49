"""One limit with what a design keeps of it, and the room that limits leave a rod. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass

SLACK = 1e-6
WALL = "wall"


@dataclass(frozen=True)
class Margin:
    """What a limit is about, and how far the design keeps it, mm; negative by how much it does not.

    kind: "place" where moving the rod along changes it by as much as the rod is moved, "wall" or "fit".
    """

    what: str
    value: float
    kind: str


@dataclass(frozen=True)
class Room:
    """Where a rod's nut-side end may lie, and in words what bounds it at either side.

    x_good: up to there its block also ends before fret 1, as far as there is such a place. wrong: "8.76 mm too long",
    where no place is left and another length would do.
    """

    x_from: float
    x_to: float
    low: str
    high: str
    x_good: float
    wrong: str = ""

    @property
    def short(self) -> float:
        """How much the room lacks; 0 or less where there is one."""
        return self.x_from - self.x_to
