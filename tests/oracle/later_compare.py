"""The oracle against the package where the first string starts later than the nut: what differs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from oracle_later import first_fret, mouth
from oracle_neck import Neck

if TYPE_CHECKING:
    from neckmodel.layout import Layout

Tables = dict[str, dict[str, Any]]
SAME, BRUTE = 1e-6, 2e-3  # mm: of closed forms; of the oracle's back, a chain of chords


def later_differs(tables: Tables, layout: Layout) -> list[str]:
    """Where the first string starts, the bass edge beside it, and its peg's mouth."""
    neck, fret, board = Neck(tables), first_fret(tables), layout.fretboard
    pairs = [("the first string starts at", layout.frets.strings[0].x_nut, neck.x(fret), SAME)] if fret else []
    places = [*neck.later.ends, (sum(neck.later.ends) / 2 if fret else 0.0), 0.0, neck.x_joint]
    pairs += [(f"bass edge at {x:.1f}", board.bass(x), neck.later.inward(x) - neck.half(x), SAME) for x in places]
    at, peg = mouth(tables, neck), layout.peg
    if (at is None) != (peg is None):
        return [f"the peg is {peg}, the oracle has {at}"]
    if at is not None and peg is not None:
        pairs += [("the peg's y", peg.mouth[1], at[0], BRUTE), ("the peg's depth", -peg.mouth[2], at[1], BRUTE)]
    return [f"{what}: {got:.6f}, the oracle has {want:.6f}" for what, got, want, off in pairs if abs(got - want) > off]
