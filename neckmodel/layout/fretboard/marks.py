"""Side marks of a fretless fretboard: small dots in the edge that the player looks at. mm."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.strings.frets import Frets

MARKED = (3, 5, 7, 9, 12, 15, 17, 19, 21, 24, 27, 29, 31, 33, 36)  # common practice, no source


@dataclass(frozen=True)
class SideMark:
    """A side mark of one position. x: its middle, at the fretboard's bass-side edge."""

    number: int
    x: float


def side_marks(fretless: str | None, board: Fretboard, frets: Frets) -> tuple[SideMark, ...]:
    """The side marks, nut first: on the positions of a plain fretboard, for there is nothing else to see; between the
    lines of a lined one, as between frets. () for a fretted one, whose marks are the maker's. Common practice."""
    if fretless is None:
        return ()
    edge = {0: board.line(0.0, frets.slope(0))[0][0]}
    edge |= {fret.number: board.line(fret.x, fret.slope)[0][0] for fret in frets.frets}
    between = fretless == "lined"
    return tuple(SideMark(n, (edge[n - 1] + edge[n]) / 2 if between else edge[n]) for n in MARKED if n in edge)
