"""From what a maker has measured to a narrower range: a blank's sag, a finished neck's relief, a bare rod's bow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.strength.beam import modulus_of_blank
from neckmodel.strength.bent import Bending, Moduli
from neckmodel.strength.rod import Rod, TwoWayRod
from neckmodel.strength.woods import Wood

if TYPE_CHECKING:
    from neckmodel.layout import Layout

# how well things are measured; common practice, no source
READING = 0.03  # mm, of a relief by feeler gauge
MODULUS_READING = 0.05  # share, of a modulus from a blank's sag

LEAST_FACTOR, MOST_FACTOR = 0.2, 5.0  # of the handbook's moduli; a reading beyond is no reading of this neck


@dataclass(frozen=True)
class Corners:
    """The choices of moduli that an estimate stands on: the stiffest, the two likely ones (fretboard whole, and only
    below its slots), the weakest. basis: what was measured, in words; empty for handbook values alone."""

    stiffest: Moduli
    whole: Moduli
    below: Moduli
    weakest: Moduli
    basis: str = ""


def handbook(neck: Wood, board: Wood) -> Corners:
    """One standard deviation either way, both woods together, and the fretboard's two ends."""
    return Corners(
        Moduli(neck.modulus_high, board.modulus_high, True),
        Moduli(neck.modulus, board.modulus, True),
        Moduli(neck.modulus, board.modulus, False),
        Moduli(neck.modulus_low, board.modulus_low, False),
    )


def _by_sag(layout: Layout, corners: Corners) -> Corners:
    """The neck's own modulus from a dead weight on the middle of the board: `P L**3/(48 I sag)`."""
    measured, stock = layout.design.calibration, layout.design.board
    if measured is None or stock is None:
        return corners
    weight, span, sag = measured.weight, measured.span, measured.sag
    if weight is None or span is None or not sag:
        return corners
    found = modulus_of_blank(weight, span, stock.width, stock.thickness, sag)
    stiff, weak = found * (1 + MODULUS_READING), found * (1 - MODULUS_READING)
    return Corners(
        Moduli(stiff, corners.stiffest.board, True),
        Moduli(found, corners.whole.board, True),
        Moduli(found, corners.below.board, False),
        Moduli(weak, corners.weakest.board, False),
        "the sag of the blank under a weight",
    )


def _by_relief(bending: Bending, corners: Corners, change: float) -> Corners:
    """Moduli with which the strings bow this neck by what was measured, strung less unstrung: wood and fretboard are
    scaled together, so what is left of the range is the two readings."""
    if change <= 0:
        return corners
    read = READING * 2**0.5

    def fitted(likely: Moduli, target: float) -> Moduli:
        low, high = LEAST_FACTOR, MOST_FACTOR
        for _ in range(40):
            middle = (low * high) ** 0.5
            low, high = (middle, high) if bending.under(likely.times(middle)).bow > target else (low, middle)
        return likely.times((low * high) ** 0.5)

    return Corners(
        fitted(corners.whole, max(change - read, change / 2)),
        fitted(corners.whole, change),
        fitted(corners.below, change),
        fitted(corners.below, change + read),
        "the relief strung and unstrung",
    )


def corners_of(layout: Layout, bending: Bending, neck: Wood, board: Wood) -> Corners:
    """The handbook's moduli, or what the design's [calibration] makes of them."""
    corners, measured = _by_sag(layout, handbook(neck, board)), layout.design.calibration
    if measured is None or measured.relief_strung is None or measured.relief_unstrung is None:
        return corners
    return _by_relief(bending, corners, measured.relief_strung - measured.relief_unstrung)


def calibrated_rod(layout: Layout, rod: Rod | None) -> Rod | None:
    """The rod with the bow a turn that was measured on it, where it was; a compression rod has none while bare."""
    measured = layout.design.calibration
    if not isinstance(rod, TwoWayRod) or measured is None or not measured.rod_bow_per_turn:
        return rod
    return rod.calibrated(measured.rod_bow_per_turn)
