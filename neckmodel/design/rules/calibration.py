"""Rules of `[calibration]`. A reading that cannot be used is refused with a message; none is ignored silently."""

from __future__ import annotations

import math
from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.rule import Broken, Needing, at_least, at_most, length, more_than, needs
from neckmodel.design.tables.board import Board

READING = 0.03  # mm, to which a relief or a sag is read, by feeler gauge; common practice, no source
LEAST_SAG = 0.15  # mm; a smaller sag, read to 0.03 mm, says no more than a handbook, whose moduli vary by 22 %
# span over thickness of the bending tests behind the Wood Handbook's table 5-3 (FPL-GTR-282, its footnote c); with
# less, shear has more than a tenth of the sag
LEAST_SLENDER = 14.0
# MPa, along the grain: about a third of the least and twice the greatest modulus of the table of woods (limba 7.7 GPa,
# wenge 19.3 GPa, shear taken out); nothing sold as wood lies beyond
LEAST_MODULUS, MOST_MODULUS = 2500.0, 40000.0

_SETS = (("relief_unstrung", "relief_strung"), ("weight", "span", "sag"))


def blank_modulus(weight: float, span: float, width: float, thickness: float, sag: float) -> float:
    """Modulus of a blank from its sag under a weight in the middle of its span, MPa: `P L**3/(48 I sag)`. The share
    of shear is still in it. Forces N, lengths mm."""
    return weight * span**3 / (48 * (width * thickness**3 / 12) * sag)


@needs("calibration")
def whole_readings(design: Design) -> Iterator[Broken]:
    """A reading consists of several values; a file that states one of them must state all."""
    read = design.calibration
    if read is None:
        return
    for names in _SETS:
        lacking = [name for name in names if getattr(read, name) is None]
        stated = [name for name in names if name not in lacking]
        if not stated:
            continue
        listed = f"{', '.join(names[:-1])} and {names[-1]}"
        for name in lacking:
            attempt = f"or leave out {' and '.join(stated)}"
            yield Broken(f"calibration.{name}", "is missing", f"one reading is {listed}", attempt)


@needs("calibration")
def relief_read(design: Design) -> Iterator[Broken]:
    """The relief must be larger with strings than without, for strings pull a neck hollow."""
    read = design.calibration
    if read is None or read.relief_strung is None or read.relief_unstrung is None:
        return
    if read.relief_strung <= read.relief_unstrung:
        swapped = "are the two swapped?" if read.relief_strung < read.relief_unstrung else ""
        says = "is not more than relief_unstrung, but strings pull a neck hollow"
        allowed = more_than(read.relief_unstrung)
        yield Broken("calibration.relief_strung", says, allowed, swapped)


@needs("calibration", "rod")
def rod_read(design: Design) -> Iterator[Broken]:
    """A bow for each turn can be read only on a rod that bows while it is bare: not on a compression rod."""
    read, rod = design.calibration, design.rod
    if read is None or read.rod_bow_per_turn is None:
        return
    if rod is None:
        yield Broken("calibration.rod_bow_per_turn", "there is no rod it could be read on", attempt="leave it out")
    elif rod.kind == "compression":
        says = "is no reading of a compression rod, which does not bow while it is bare"
        yield Broken("calibration.rod_bow_per_turn", says, attempt="leave it out")


@needs("calibration", "board", "measured")
def blank_read(design: Design) -> Iterator[Broken]:
    """The weighted board must be stated, as long as its span, slender enough for shear to matter little, and sag
    enough to be read."""
    read, board = design.calibration, design.board
    if read is None or read.weight is None or read.span is None or read.sag is None:
        return
    if board is None:
        says = "there is no [board] that it could be read on"
        yield Broken("calibration.sag", says, attempt="state [board], or leave out weight, span and sag")
        return
    long, width, thick = (_as_found(design, board, name) for name in ("length", "width", "thickness"))
    least = LEAST_SLENDER * thick
    if read.span > long:
        yield Broken("calibration.span", f"is longer than the board of {length(long)}", at_most(long))
    elif read.span < least:
        says = f"is less than {LEAST_SLENDER:g} times the board's thickness, so shear would rule the sag"
        too_thick = f"a board of {length(long)} is too short for that: leave out weight, span and sag"
        yield Broken("calibration.span", says, at_least(least), too_thick if least > long else "")
    elif read.sag < LEAST_SAG:
        says = f"is too small to be read to {length(READING)}"
        yield Broken("calibration.sag", says, at_least(LEAST_SAG), "a heavier weight or a longer span")
    else:
        yield from _of_wood(read.weight, read.span, width, thick, read.sag)


def _of_wood(weight: float, span: float, width: float, thick: float, sag: float) -> Iterator[Broken]:
    """The sag must be one that a board of some wood has. Shear, a tenth of the sag at most, is not counted."""
    modulus = blank_modulus(weight, span, width, thick, sag)
    if LEAST_MODULUS <= modulus <= MOST_MODULUS:
        return
    low, high = (sag * modulus / limit for limit in (MOST_MODULUS, LEAST_MODULUS))
    yield Broken(
        "calibration.sag",
        f"makes the modulus of the wood {modulus / 1000:.3g} GPa",
        f"allowed are {length(math.ceil(100 * low) / 100)} to {length(math.floor(100 * high) / 100)}, as of wood with "
        f"{LEAST_MODULUS / 1000:g} to {MOST_MODULUS / 1000:g} GPa",
        "or another weight: it is in N, and 1 kg weighs 9.81 N",
    )


def _as_found(design: Design, board: Board, name: str) -> float:
    """A size of the board, mm: measured if it was measured, else stated. The rules see the plan without measured
    values."""
    found = dict(design.measured).get(f"board.{name}") if isinstance(design.measured, tuple) else None
    size: float = getattr(board, name)
    return size if found is None else found


CALIBRATION_RULES: tuple[Needing, ...] = (whole_readings, relief_read, rod_read, blank_read)
