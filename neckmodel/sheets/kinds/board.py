"""The board sheet: where the blank and the pieces glued to it are sawn from the board, and the offcuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.workshop.board import BoardPlan, Sawn, plan_board, wanted_pieces
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks.dimensions import SLANT, TICK, Dimension, lane_height, level_lane, running_lane
from neckmodel.sheets.marks.display import Drawing, Layer
from neckmodel.sheets.marks.layers import BLANK, BOARD, RULE, SIZES, TEXT
from neckmodel.sheets.marks.lettering import LETTERS
from neckmodel.sheets.marks.lettering import width as width_of
from neckmodel.sheets.marks.sketch import Sketch, longest
from neckmodel.sheets.pages.pages import SMALL, Column, Pages
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import Titles
from neckmodel.sheets.views.strips import draw_strips_above, strip_words
from neckmodel.work import cautions
from neckmodel.work.strips import from_middle

if TYPE_CHECKING:
    from neckmodel.layout import Layout

COLUMNS = (
    Column("piece", wide=True),
    Column("length", number=True),
    Column("width", number=True),
    Column("thickness", number=True),
    Column("from the end", number=True),
    Column("from the edge", number=True),
)
SAME = 1e-6  # mm


def draw_board(layout: Layout, titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """The sheet, on paper laid flat, as the board is drawn."""
    pages, plan, unit = Pages(paper.landscape, "board", titles), plan_board(layout), titles.unit
    if plan is None or layout.board is None:
        pages.paragraph("No board is stated: add [board] with length, width and thickness. The wood that is needed:")
        pages.table(COLUMNS, [_row(piece, unit, False) for piece in wanted_pieces(layout)])
        return pages.finish()
    length, width, thickness = layout.board
    upward = "upper face" if layout.in_one else "glue plane"
    pages.paragraph(
        f"The board, trued and {with_unit(thickness, unit)} thick, seen from above, the {upward} up, the grain along "
        f"it, drawn to fit the page. Every size counts from its end or from its reference edge. Every cut takes "
        f"{with_unit(layout.design.workshop.kerf, unit)}; the sizes hold the allowances. Keep pieces clear of knots, "
        "checks and run-out: the plan does not know where they lie."
    )
    if layout.in_one:
        pages.paragraph("Neck and fretboard are one piece: the blank holds both, and no fretboard is sawn apart.")
    if words := strip_words(layout):
        pages.paragraph(f"{words} {from_middle(layout)}")
    pages.paragraph(f"{cautions.SAW} {cautions.DUST} {cautions.FIRST}", SMALL)
    along, up = dimensions(layout.board, (*plan.pieces, *plan.offcuts), unit)
    aside = TICK + SLANT + 2.0 + longest((one.says for one in up), LETTERS)
    scale = (pages.room - aside - 4.0) / length

    def draw(sketch: Sketch, left: float, top: float) -> None:
        x0, foot = left + aside, top - 4.0 - width * scale
        sketch.box(RULE, (x0, foot, x0 + length * scale, foot + width * scale))
        draw_strips_above(sketch, layout, (x0, foot, x0 + length * scale, foot + width * scale))
        for piece in (*plan.pieces, *plan.offcuts):
            _draw(sketch, piece, x0, foot, scale, BOARD if piece in plan.offcuts else BLANK, unit)
        placed = [replace(one, x=x0 + one.x * scale) for one in along]
        running_lane(sketch, placed, foot, False, LETTERS, (x0 - 4.0, left + pages.room), 0.0)
        placed = [replace(one, x=foot + one.x * scale) for one in up]
        level_lane(sketch, placed, x0, True, LETTERS, (foot - 8.0, top), 0.0)

    pages.figure(width * scale + 6.0 + lane_height(along, LETTERS), draw)
    if layout.scarf is not None and any(piece.name == "blank" for piece in plan.pieces):
        pages.paragraph(
            "The blank is shaft and head piece one after the other, parted by the slanting cut of the scarf: see the "
            "marking-out sheet for the seam."
        )
    _tables(pages, plan, unit)
    return pages.finish()


def dimensions(
    board: tuple[float, float, float], pieces: Sequence[Sawn], unit: str
) -> tuple[list[Dimension], list[Dimension]]:
    """Running sizes along the board from its end, and across it from its reference edge. Sizes at one place share a
    label."""
    along: dict[float, list[str]] = {0.0: ["board's end"], round(board[0], 4): []}
    across: dict[float, list[str]] = {0.0: ["reference edge"], round(board[1], 4): []}
    for piece in pieces:
        for places, start, size in ((along, piece.from_end, piece.length), (across, piece.from_edge, piece.width)):
            for at, word in ((start, "starts"), (start + size, "ends")):
                if at > SAME:
                    places.setdefault(round(at, 4), []).append(f"{plain(piece.name)} {word}")
    along[round(board[0], 4)].append("board ends")
    across[round(board[1], 4)].append("board's other edge")

    def labels_at(places: dict[float, list[str]]) -> list[Dimension]:
        return [
            Dimension(at, f"{'; '.join(names[:2])}: {with_unit(at, unit)}", SIZES)
            for at, names in sorted(places.items())
        ]

    return labels_at(along), labels_at(across)


def _tables(pages: Pages, plan: BoardPlan, unit: str) -> None:
    if plan.pieces:
        pages.heading("Pieces")
        pages.table(COLUMNS, [_row(piece, unit) for piece in plan.pieces])
    if plan.missing:
        pages.heading("No room on this board")
        pages.table(COLUMNS, [_row(piece, unit, False) for piece in plan.missing])
        larger = ((plan.longer_by, "longer"), (plan.wider_by, "wider"))
        ways = " or ".join(f"{with_unit(by, unit)} {word}" for by, word in larger if by > 0)
        pages.paragraph("Take them from other wood of the same kind" + (f", or a board {ways}." if ways else "."))
    pages.heading("Offcuts worth keeping")
    if plan.offcuts:
        pages.table(COLUMNS, [_row(piece, unit) for piece in plan.offcuts])
    else:
        pages.paragraph("None.")


def _row(piece: Sawn, unit: str, placed: bool = True) -> tuple[str, ...]:
    sizes = (with_unit(size, unit) for size in (piece.length, piece.width, piece.thickness))
    where = (with_unit(piece.from_end, unit), with_unit(piece.from_edge, unit)) if placed else ("-", "-")
    return (plain(piece.name), *sizes, *where)


def _draw(sketch: Sketch, piece: Sawn, left: float, foot: float, scale: float, layer: Layer, unit: str) -> None:
    x, y = left + piece.from_end * scale, foot + piece.from_edge * scale
    wide, high = piece.length * scale, piece.width * scale
    sketch.box(layer, (x, y, x + wide, y + high))
    name = plain(piece.name)
    size = " x ".join(with_unit(length, unit) for length in (piece.length, piece.width, piece.thickness))
    for says in (f"{name}, {size}", name):
        if width_of(says, LETTERS) + 3.0 < wide and high > LETTERS * 1.8:
            sketch.text(TEXT, (x + 1.5, y + high / 2 - LETTERS / 2), says, LETTERS)
            return
