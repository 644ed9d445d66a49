"""Bounds on the place of a rod or a bar. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class Bound:
    """One bound on the place of a rod's or bar's nut-side end: x in mm; the key that moves the bound, and that key's
    value.

    shifts: the bound is really on the far end, so that a rod longer by 1 mm must start 1 mm nearer to the nut.
    """

    reason: str
    x: float
    key: str
    value: float = 0.0
    shifts: bool = False


def x_wood_behind(design: Design, x_wood_end: float) -> tuple[Bound, ...]:
    """How far back the rod may reach, as bounds on its far end: the wood's end and the body's cut-outs."""
    return (Bound("the wood's end", x_wood_end, "heel.wood_ends_at", x_wood_end), *cut_outs(design))


SAME_HOLE = 0.05  # mm; a cut-out whose ends lie this near to the soundhole's is the soundhole, stated or drawn again


def cut_outs(design: Design) -> tuple[Bound, ...]:
    """Where each cut-out of the body begins, and the soundhole, as bounds on that x; one stated twice counts once."""
    found = [
        Bound("a body cut-out", c.from_, f"body.cutouts.{k}.from", c.from_)
        for k, c in enumerate(design.body.cutouts)
        if not is_soundhole(design, c.from_, c.to)
    ]
    if (hole := design.body.soundhole) is not None:
        found.append(Bound("the soundhole", hole.from_, "body.soundhole.from", hole.from_))
    return tuple(found)


def is_soundhole(design: Design, x_from: float, x_to: float) -> bool:
    """Whether a cut-out from x to x is the soundhole that the design states."""
    hole = design.body.soundhole
    return hole is not None and max(abs(x_from - hole.from_), abs(x_to - hole.to)) <= SAME_HOLE


def aslant(slope: float, half: float, y: float = 0.0) -> float:
    """How far a slanted line through the origin (a nut or a fret) reaches toward the body between y - half and y +
    half, mm."""
    return slope * y + abs(slope) * half


def fretboard_end_key(design: Design) -> str:
    """The key that states where the fretboard ends in this design."""
    return "fretboard.past_last_fret" if design.fretboard.ends_at is None else "fretboard.ends_at"
