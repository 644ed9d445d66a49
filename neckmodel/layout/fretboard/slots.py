"""Fret slots."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FretSlot:
    """One fret slot. x: where its middle line crosses the centre line; slope: dx/dy of that line. fret: 0 for a zero
    fret.

    wood_below: least wood left under the slot. seat_at_edge: depth of the slot where it comes out at the fretboard's
    edge, the shallower side. mm.
    """

    fret: int
    x: float
    wood_below: float
    seat_at_edge: float
    slope: float = 0.0


def slot_numbers(thickness: float, depth: float, drop: float, floor: str) -> tuple[float, float]:
    """(least wood below the slot, depth of the slot at the edge), mm.

    drop: how far the crown falls at the edge. A curved floor follows the crown; a flat floor is `depth` below the
    middle.
    """
    if floor == "curved":
        return thickness - drop - depth, depth
    return thickness - depth, depth - drop
