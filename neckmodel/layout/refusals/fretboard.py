"""Fretboards that cannot be laid out, each refused with the key to change."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.refusals.measured import naming_measured
from neckmodel.layout.strings.frets import Frets
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design

# Least sizes for a shape that can be built, mm; common practice, no source
LEAST_EDGE = 0.5  # of the fretboard's thickness at its edges
LEAST_LAND = 0.5  # of wood between neighbouring fret slots, and between the first and last of them and the ends
MOST_SLANT = 1.0  # slope of a fret's line, 45 degrees; a rod could hardly be reached past a steeper nut


@naming_measured
def refuse_fretboard(design: Design, board: Fretboard, frets: Frets) -> None:
    """Raises DesignError where the fretboard does not carry all strings, has no wood somewhere, or has frets that
    meet."""
    if min(board.margin_nut, board.margin_last) <= 0:
        end = "nut" if board.margin_nut <= 0 else "end"
        raise design.problem(f"fretboard.width.{end}", "the outer strings run beyond the fretboard's edges")
    _refuse_slant(design, board, frets)
    _refuse_crown(design, board)
    _refuse_margins(design, board, frets)
    _refuse_lands(design, board)


def _refuse_slant(design: Design, board: Fretboard, frets: Frets) -> None:
    for number in (0, design.fretboard.frets):
        slope = frets.slope(number)
        if abs(slope) > min(MOST_SLANT, 0.5 / max(abs(board.slope), 1e-9)):
            where = "the nut" if number == 0 else f"fret {number}"
            raise design.problem(
                "strings.scale",
                f"{where} would stand {math.degrees(math.atan(abs(slope))):.0f} degrees off square",
                f"at most {math.degrees(math.atan(MOST_SLANT)):.0f} degrees",
                "scale lengths nearer to each other, or another square_fret",
            )


def _refuse_crown(design: Design, board: Fretboard) -> None:
    for end, corners in (("nut", board.start), ("end", board.end)):
        for x, y in corners:
            half, radius = abs(y), board.radius(x)
            if half + LEAST_EDGE <= radius and board.top(x, y) >= LEAST_EDGE:
                continue
            sag = (
                board.thickness - LEAST_EDGE
            )  # radius of the crown that falls by this sag: (half**2 + sag**2) / (2 sag)
            least = max((half * half + sag * sag) / (2 * sag), half + LEAST_EDGE)
            raise design.problem(
                f"fretboard.radius.{end}",
                f"the crown leaves no wood at the edges, {half:.2f} mm from the centre line",
                f"at least {no_less(least)}" + ("" if x == _middle(board, end) else " there"),
                "or a thicker fretboard",
            )


def _middle(board: Fretboard, end: str) -> float:
    return board.x_start if end == "nut" else board.x_end


def _refuse_margins(design: Design, board: Fretboard, frets: Frets) -> None:
    """Raises DesignError where a line meets the outer strings at a place too narrow on one side."""
    outer = [frets.strings[0], frets.strings[-1]] if board.later is None else [*frets.strings[:2], frets.strings[-1]]
    for line in outer:
        for key, x in (("nut", line.x_nut), ("last_fret", board.x_end)):
            left = min(board.treble(x) - line.y(x), line.y(x) - board.bass(x))
            if left <= 0:
                stated = "width" if design.fretboard.width is not None else "edge_margin"
                end = "end" if (stated, key) == ("width", "last_fret") else key
                raise design.problem(
                    f"fretboard.{stated}.{end}",
                    f"string {line.number} runs {-left:.2f} mm beyond the fretboard's edge",
                )


def _refuse_lands(design: Design, board: Fretboard) -> None:
    """Raises DesignError where no wood is left between two frets at an edge: such slots cannot be sawn."""
    edges = [("the fretboard's start", (board.start,) * 2)]
    edges += [(_named(slot.fret), board.slot_lines(slot)) for slot in board.slots]
    edges.append(("the fretboard's end", (board.end,) * 2))
    for (one, (_, behind)), (other, (ahead, _)) in pairwise(edges):
        land = min(b[0] - a[0] for a, b in zip(behind, ahead, strict=True))
        if land >= LEAST_LAND - 1e-6:
            continue
        says = f"leaves {land:.2f} mm of wood between {one} and {other} at the edge"
        least = f"at least {LEAST_LAND:g} mm"
        if other != "the fretboard's end":
            raise design.problem("strings.scale", says, least, "scale lengths nearer to each other, or fewer frets")
        key = "ends_at" if design.fretboard.ends_at is not None else "past_last_fret"
        stated = design.fretboard.ends_at if key == "ends_at" else design.fretboard.past_last_fret
        need = math.ceil(100 * ((stated or 0.0) + LEAST_LAND - land) - 1e-6) / 100
        raise design.problem(f"fretboard.{key}", says, f"at least {no_less(need)}")


def _named(fret: int) -> str:
    return f"fret {fret}" if fret else "the zero fret"
