"""Where the run of the channel begins, and how it ends. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import EndKind

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.rod import RodPlace, Segment


CORNER_PLAY = 0.5  # of a block's play at either side, kept at its corner in a round end; common practice, no source


def run_long(block: float, width: float, radius: float, play: float = 0.0) -> float:
    """How far a channel must run on past a square block so that the block clears the round end, mm; inf where the end
    must be squared.

    block, width: across the block and the channel; radius: of the cutter; play: kept free at the block's corner. `q =
    max(0, b/2 - (W/2 - r)); run = r - sqrt((r-c)**2 - q**2)`.
    """
    q = max(0.0, block / 2 - (width / 2 - radius))
    if q > radius - play + 1e-12:
        return math.inf
    return radius - math.sqrt(max((radius - play) ** 2 - q * q, 0.0))


def inward(rod: RodPlace, x: float) -> float:
    """Distance of x inward from the adjuster's face, mm."""
    return -rod.outward * (x - rod.x_adjuster)


def stretch_of(rod: RodPlace, s: Segment) -> tuple[float, float]:
    """From where to where a box of the rod reaches, as distances inward from the adjuster's face, mm."""
    a, b = inward(rod, s.x_start), inward(rod, s.x_end)
    return min(a, b), max(a, b)


def far_end(design: Design, anchor: float, width: float, end_cutter: float) -> tuple[float, float, EndKind]:
    """(how far the channel reaches beyond the anchor, radius left in its corners, mm; kind of end).

    anchor, width: across the anchor and the channel round it, mm.
    """
    clear, radius = design.channel.end_clearance, min(end_cutter, width) / 2
    if design.channel.ends == "squared":
        return clear, 0.0, EndKind.SQUARE
    if design.channel.ends == "run-long":
        play = CORNER_PLAY * max(width - anchor, 0.0) / 2
        return max(clear, run_long(anchor, width, radius, play)), radius, EndKind.ROUND
    return clear, radius, EndKind.ROUND


def run_from(rod: RodPlace) -> float:
    """Where the run begins, mm inward from the adjuster's face. A wheel's collar lies in the run."""
    return rod.wheel or rod.adjuster_length
