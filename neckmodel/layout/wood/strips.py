"""The strips that a board is glued up from, as they lie in the neck. Lengths mm."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.design import Design

SAME = 1e-6  # mm
ALIKE = 0.05  # mm; strips that differ by less look alike


@dataclass(frozen=True)
class Strip:
    """One strip, upright and running along x. number: from 1 on the bass side. y_from, y_to: its two faces, mm; the
    outermost ones end where the board does."""

    number: int
    wood: str
    width: float
    y_from: float
    y_to: float

    @property
    def name(self) -> str:
        """Its name as a part of the neck."""
        return f"neck-strip-{self.number}"


def lay_strips(design: Design) -> tuple[Strip, ...]:
    """The strips of the design's board, from the bass side; () for a board of one piece, or none."""
    board = design.board
    if board is None or not board.strips:
        return ()
    edges = (-board.laid / 2, *board.seams, board.laid / 2)
    return tuple(Strip(k + 1, strip.wood, strip.width, edges[k], edges[k + 1]) for k, strip in enumerate(board.strips))


ROUGH_LENGTH, ROUGH_HEIGHT, ROUGH_FACE = 20.0, 3.0, 1.5
"""mm by which a strip is bought longer, and higher, and wider at each face that is planed; common practice, no
source."""
LEAST_PLANED = 2.0  # mm; a thinner veneer is glued as it comes


def rough_size(size: tuple[float, float, float]) -> tuple[float, float, float]:
    """(length, height, width) to buy for a strip of this finished size, mm."""
    length, height, width = size
    planed = 2 * ROUGH_FACE if width >= LEAST_PLANED else 0.0
    return length + ROUGH_LENGTH, height + ROUGH_HEIGHT, width + planed


def seams_of(strips: Sequence[Strip]) -> tuple[float, ...]:
    """y of every seam, from the bass side, mm."""
    return tuple(strip.y_to for strip in strips[:-1])


def reaches(strips: Sequence[Strip]) -> tuple[tuple[float, float], ...]:
    """(y from, y to) of the wood that counts to each strip, mm: the outermost reach on without end, so that no wood is
    left over. One without ends where there are no strips."""
    seams = (-math.inf, *seams_of(strips), math.inf)
    return tuple(itertools.pairwise(seams))


def strips_over(strips: Sequence[Strip], y_from: float, y_to: float) -> tuple[int, ...]:
    """The places in `strips` of those that lie between two y, mm, in whole or in part; (0,) where there are none."""
    found = [k for k, (low, high) in enumerate(reaches(strips)) if low < y_to - SAME and y_from + SAME < high]
    return tuple(found)


def seams_within(strips: Sequence[Strip], y_from: float, y_to: float) -> tuple[float, ...]:
    """y of the seams strictly between two y, mm."""
    return tuple(seam for seam in seams_of(strips) if y_from + SAME < seam < y_to - SAME)


def mirrored(strips: Sequence[Strip]) -> bool:
    """Whether the strips lie alike on both sides of the centre line; true of one wood."""
    return all(
        one.wood == other.wood and abs(one.width - other.width) < ALIKE
        for one, other in zip(strips, reversed(strips), strict=True)
    )


def widths_within(strips: Sequence[Strip], y_from: float, y_to: float) -> tuple[float, ...]:
    """How much of each strip lies between two y, mm; (y_to - y_from,) where there are none."""
    return tuple(max(min(high, y_to) - max(low, y_from), 0.0) for low, high in reaches(strips))
