"""A limit and how far a design keeps it; and where the limits allow a rod to lie. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass

SLACK = 1e-6  # mm; a limit missed by less is kept
WALL = "wall"


@dataclass(frozen=True)
class Margin:
    """How far a design keeps one limit, mm; negative by how much it misses it. what: the limit in words.

    kind: "place" where moving the rod along the neck changes the margin by as much; "wall" or "fit".
    """

    what: str
    value: float
    kind: str


@dataclass(frozen=True)
class Room:
    """Where a rod's nut-side end may lie, and in words what bounds it at either end.

    x_good: up to there its block also ends before fret 1, where there is such a place. wrong: "8.76 mm too long", where
    the rod has no place and another length would.
    """

    x_from: float
    x_to: float
    low: str
    high: str
    x_good: float
    wrong: str = ""

    @property
    def short(self) -> float:
        """How much the room lacks, mm; 0 or less where there is one."""
        return self.x_from - self.x_to
