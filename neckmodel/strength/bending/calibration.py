"""Narrows the estimates by what a maker has measured: a blank's sag, a finished neck's relief, a bare rod's bow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.design.rules.calibration import READING, blank_modulus
from neckmodel.geometry.bounds import zero_of
from neckmodel.lengths import rounded_down, rounded_up
from neckmodel.strength.bending.bending import Bending, Moduli
from neckmodel.strength.bending.shear import shear_ratio, with_shear
from neckmodel.strength.materials.woods import Wood
from neckmodel.strength.rod.rod import Rod, TwoWayRod

if TYPE_CHECKING:
    from neckmodel.errors import DesignError
    from neckmodel.layout import Layout

# share by which a modulus may be off even where the sag is read exactly, by weight, span, supports and width; common
# practice, no source
LEAST_SPREAD = 0.05
GIVES_WAY = 1000.0  # mm, a bow in place of that of a neck which gives way

# factors on what the handbook's moduli, or the bars and thread assumed of a rod, give; a reading beyond is not of
# this neck or rod. Wide on purpose, no source: wood alone varies by 22 %, and the model leaves things out
LEAST_FACTOR, MOST_FACTOR = 0.2, 5.0

BY_SAG, BY_RELIEF = "the sag of the board under a weight", "the relief strung and unstrung"


@dataclass(frozen=True)
class Corners:
    """The choices of moduli behind an estimate: the stiffest, the two likely ones (fretboard counted whole, and only
    below its slots), the weakest. basis: what was measured, in words; empty for handbook values alone."""

    stiffest: Moduli
    whole: Moduli
    below: Moduli
    weakest: Moduli
    basis: str = ""


def handbook(neck: Sequence[Wood], board: Wood) -> Corners:
    """The handbook's moduli, one standard deviation up and down for all woods together, with the fretboard counted
    whole and only below its slots. neck: the wood of each strip."""
    likely = tuple(wood.modulus for wood in neck)
    return Corners(
        Moduli(tuple(wood.modulus_high for wood in neck), board.modulus_high, True),
        Moduli(likely, board.modulus, True),
        Moduli(likely, board.modulus, False),
        Moduli(tuple(wood.modulus_low for wood in neck), board.modulus_low, False),
    )


def as_one(widths: Sequence[float], values: Sequence[float]) -> float:
    """What strips side by side, upright under the load, come to as one board: the mean by their widths."""
    if len(values) == 1:
        return values[0]
    return sum(w * v for w, v in zip(widths, values, strict=True)) / sum(widths)


def spread_of_sag(sag: float, thickness: float, measuring: float) -> float:
    """How far a modulus computed from a sag may be off either way, as a share: `hypot(reading/sag, 3 dh/h)`, for it
    goes with 1/sag and 1/h**3; LEAST_SPREAD at least. measuring: dh, the error of the measured thickness h, mm."""
    return max(LEAST_SPREAD, math.hypot(READING / sag, 3 * measuring / thickness))


def _by_sag(layout: Layout, corners: Corners) -> Corners:
    """The choices with the neck's own modulus, from a weight on the middle of the board, shear taken out of the sag.
    The strips of a board that is glued up are scaled together."""
    measured, stock = layout.design.calibration, layout.design.board
    if measured is None or measured.weight is None or measured.span is None or measured.sag is None:
        return corners
    if stock is None:  # refused when it is read
        return corners
    span, thick, sag = measured.span, stock.thickness, measured.sag
    widths = [strip.width for strip in stock.strips] or [stock.width]
    woods = [strip.wood for strip in stock.strips] or [layout.design.neck.wood]
    shear = with_shear(as_one(widths, [shear_ratio(wood, stock.rings) for wood in woods]), thick, span)
    found = blank_modulus(measured.weight, span, stock.width, thick, sag) * shear
    spread = spread_of_sag(sag, thick, layout.design.workshop.tolerances.measuring)
    likely = corners.whole.neck
    shares = [value / as_one(widths, likely) for value in likely] if stock.strips else [1.0]

    def strips(modulus: float) -> tuple[float, ...]:
        return tuple(modulus * share for share in shares)

    return Corners(
        Moduli(strips(found * (1 + spread)), corners.stiffest.board, True),
        Moduli(strips(found), corners.whole.board, True),
        Moduli(strips(found), corners.below.board, False),
        Moduli(strips(found * (1 - spread)), corners.weakest.board, False),
        BY_SAG,
    )


def _by_relief(layout: Layout, bending: Bending, corners: Corners, unstrung: float, strung: float) -> Corners:
    """The moduli with which the strings bow this neck by the relief that was read, strung less unstrung.

    Wood and fretboard are scaled together, so the range left is that of the two readings. Its ends stop at the factors'
    limits and at half of the reading: a reading near 0 does not mean a neck that cannot bend. Raises DesignError where
    no factor explains the reading, with the fretboard whole and only below its slots.
    """
    change, read = strung - unstrung, READING * 2**0.5

    def bow(likely: Moduli, factor: float) -> float:
        return bending.under(likely.times(factor)).bow

    def fitted(likely: Moduli, target: float) -> Moduli:
        def over(give: float) -> float:  # give: 1/factor, with which the bow grows nearly in proportion
            return min(bow(likely, 1 / give), GIVES_WAY) - target

        if over(1 / MOST_FACTOR) >= 0:
            return likely.times(MOST_FACTOR)
        if over(1 / LEAST_FACTOR) <= 0:
            return likely.times(LEAST_FACTOR)
        return likely.times(1 / zero_of(over, 1 / MOST_FACTOR, 1 / LEAST_FACTOR))

    least, most = bow(corners.below, MOST_FACTOR), bow(corners.whole, LEAST_FACTOR)
    if not least <= change <= most:
        says = "is no relief that the strings can give this neck"
        attempt = "read both again, the rod slack and the strings at pitch"
        raise _refused(layout, "relief_strung", says, (unstrung + least, unstrung + most), attempt)
    return Corners(
        fitted(corners.whole, max(change - read, change / 2)),
        fitted(corners.whole, change),
        fitted(corners.below, change),
        fitted(corners.below, change + read),
        f"{BY_RELIEF}, and {corners.basis}" if corners.basis else BY_RELIEF,
    )


def corners_of(layout: Layout, bending: Bending, neck: Sequence[Wood], board: Wood) -> Corners:
    """The choices of moduli: the handbook's, or narrowed by the design's [calibration]. Raises DesignError for a relief
    that this neck cannot have under its strings."""
    corners, measured = _by_sag(layout, handbook(neck, board)), layout.design.calibration
    if measured is None or measured.relief_strung is None or measured.relief_unstrung is None:
        return corners
    return _by_relief(layout, bending, corners, measured.relief_unstrung, measured.relief_strung)


def calibrated_rod(layout: Layout, rod: Rod | None) -> Rod | None:
    """The rod with the bow for each turn that was measured on it; the same rod where none was. Raises DesignError for a
    bow that no thread could give this rod."""
    measured = layout.design.calibration
    if not isinstance(rod, TwoWayRod) or measured is None or measured.rod_bow_per_turn is None:
        return rod
    bow = rod.bare_bow_per_turn
    if not LEAST_FACTOR * bow <= measured.rod_bow_per_turn <= MOST_FACTOR * bow:
        says = "is no bow that one turn can give this rod"
        attempt = "read it again, the rod bare and its adjuster just tight"
        raise _refused(layout, "rod_bow_per_turn", says, (LEAST_FACTOR * bow, MOST_FACTOR * bow), attempt)
    return rod.calibrated(measured.rod_bow_per_turn)


def _refused(layout: Layout, name: str, says: str, ends: tuple[float, float], attempt: str) -> DesignError:
    """The error for a reading that this design cannot have. ends: of the readings it can have, mm, rounded inward so
    that the printed limits are themselves allowed."""
    low, high = rounded_up(ends[0]), ends[1]
    allowed = f"allowed is at least {low:g} mm"
    if math.isfinite(high):
        allowed = f"allowed are {low:g} to {rounded_down(high):g} mm"
    return layout.design.problem(f"calibration.{name}", says, allowed, attempt)
