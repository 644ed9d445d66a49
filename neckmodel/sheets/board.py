"""The board sheet: where the blank and what is glued to it are sawn from the board, and what is left."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.board_plan import BoardPlan, Sawn, plan_board, wanted_pieces
from neckmodel.lengths import with_unit
from neckmodel.sheets import cautions
from neckmodel.sheets.display import Drawing, Layer
from neckmodel.sheets.layers import BLANK, BOARD, RULE, TEXT, plain
from neckmodel.sheets.pages import SMALL, Column, Pages
from neckmodel.sheets.paper import Paper
from neckmodel.sheets.sketch import Sketch
from neckmodel.sheets.titles import Titles

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
LETTERS = 1.8  # mm


def draw_board(layout: Layout, titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """paper: as it lies."""
    pages, plan, unit = Pages(paper, "board", titles), plan_board(layout), titles.unit
    if plan is None or layout.board is None:
        pages.paragraph("No board is stated: add [board] with length, width and thickness. The wood that is needed:")
        pages.table(COLUMNS, [_row(piece, unit, False) for piece in wanted_pieces(layout)])
        return pages.finish()
    length, width, _ = layout.board
    size = " x ".join(with_unit(side, unit) for side in layout.board)
    pages.paragraph(
        f"The board, {size}, seen from above, the glue plane up, the grain along it, drawn to fit the page. Measures "
        f"count from its end and its reference edge. Every cut takes {with_unit(layout.design.workshop.kerf, unit)}; "
        "the sizes hold the allowances. Keep pieces clear of knots, checks and run-out: the plan does not know where "
        "they lie."
    )
    scale = (pages.room - 4.0) / length

    def draw(sketch: Sketch, left: float, top: float) -> None:
        foot = top - 4.0 - width * scale
        sketch.box(RULE, (left, foot, left + length * scale, foot + width * scale))
        for piece in (*plan.pieces, *plan.offcuts):
            _draw(sketch, piece, left, foot, scale, BOARD if piece in plan.offcuts else BLANK)

    pages.figure(width * scale + 8.0, draw)
    if layout.scarf is not None and any(piece.name == "blank" for piece in plan.pieces):
        pages.paragraph(
            "The blank is shaft and head piece one after the other, parted by the slanting cut of the scarf: see the "
            "marking-out sheet for the seam."
        )
    _tables(pages, plan, unit)
    pages.paragraph(f"{cautions.SAW} {cautions.DUST} {cautions.FIRST}", SMALL)
    return pages.finish()


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


def _draw(sketch: Sketch, piece: Sawn, left: float, foot: float, scale: float, layer: Layer) -> None:
    x, y = left + piece.from_end * scale, foot + piece.from_edge * scale
    sketch.box(layer, (x, y, x + piece.length * scale, y + piece.width * scale))
    if piece.width * scale > LETTERS:
        sketch.text(TEXT, (x + 1.5, y + piece.width * scale / 2 - LETTERS / 2), piece.name, LETTERS)
