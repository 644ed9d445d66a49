"""The title block of a true-size drawing: the design, the verdict, sizes across, and a scale to check."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.display import Layer
from neckmodel.sheets.marks.lettering import LETTERS, wrap
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.legend import draw_legend
from neckmodel.sheets.pages.titles import BAR, SQUARE, Titles, scale_bar, scale_square
from neckmodel.sheets.views.holes import hole_rows

if TYPE_CHECKING:
    from neckmodel.layout import Layout

WIDTH = BAR + 6.0  # mm, of the whole block
INSET = 3.0  # mm from the block's frame to its words
CAUTION = "Measure the bar and the square on the print first. Make a trial cut in scrap, and measure it."


def title_block(
    sketch: Sketch, layout: Layout, titles: Titles, right: float, top: float, kind: str, used: tuple[Layer, ...]
) -> None:
    """Draws the block from (right, top) to the left and down. used: the drawing's layers, for the legend."""
    left = right - WIDTH
    x, room = left + INSET, WIDTH - 2 * INSET
    y = top - 7.0
    sketch.text(layers.TEXT, (x, y), titles.name, 4.0)
    y = sketch.lines(layers.TEXT, (x, y - 6.0), wrap(f"{kind}, {titles.mark}", 2.4, room), 2.4, 4.0)
    if titles.remark:
        y = sketch.lines(layers.TEXT, (x, y), wrap(titles.remark, LETTERS, room)[:3], LETTERS, 3.0)
    y = sketch.lines(layers.TEXT, (x, y - 1.0), wrap(titles.verdict.says, 2.4, room), 2.4, 4.0)
    for line in titles.verdict.walls:
        y = sketch.lines(layers.TEXT, (x, y), wrap(line, 1.6, room), 1.6, 2.7)
    y = sketch.lines(layers.TEXT, (x, y - 1.0), wrap(CAUTION, LETTERS, room), LETTERS, 3.0)
    y -= 6.0
    scale_bar(sketch, x, y, titles.unit)
    y -= 4.0 + SQUARE
    scale_square(sketch, x, y, titles.unit)
    aside = x + SQUARE + 4.0
    beside = y + SQUARE - 2.0
    for line in sizes_across(layout):
        beside = sketch.lines(layers.TEXT, (aside, beside), wrap(line, 1.6, room - SQUARE - 4.0), 1.6, 2.7)
    y = min(y, beside) - 4.0
    rows = [f"{hole}: x {at[0]}, y {at[1]}, {across} across, {deep}" for hole, *at, across, deep in hole_rows(layout)]
    y = sketch.lines(layers.TEXT, (x, y), [part for row in rows for part in wrap(row, 1.6, room)], 1.6, 2.7)
    y = draw_legend(sketch, used, x, y, room)
    sketch.box(layers.FRAME, (left, y - 2.0, right, top))


def sizes_across(layout: Layout) -> list[str]:
    """The widths that the plan shows, and the stock."""
    unit = layout.design.design.units
    board, head, outside = layout.fretboard, layout.head, layout.outside
    x_heel = layout.heel.x_joint if layout.heel.tenon is not None else layout.heel.x_end

    def wide(half: float) -> str:
        return with_unit(2 * half, unit)

    lines = [
        f"fretboard at x 0: {wide(board.half_width(0.0))}",
        f"fretboard at its end: {wide(board.half_width(board.x_end))}",
        f"heel at {'the joint' if layout.heel.tenon is not None else 'its end'}: {wide(outside.half_width(x_heel))}",
        f"nut end: {with_unit(head.near, unit)}"
        if head.is_none
        else f"head, {'near and far' if head.contour is None else 'at the swell, and widest'}: "
        f"{with_unit(head.near, unit)}, {with_unit(head.far, unit)}",
        f"blank: {wide(layout.blank_half_width)} wide; centre line {with_unit(layout.blank_half_width, unit)} "
        "from the reference edge",
    ]
    if layout.heel.tenon is not None:
        root = layout.heel.tenon.half_at(layout.heel.x_joint)
        at_root = "" if root == layout.heel.tenon.half_width else f" at its end, {wide(root)} at the joint"
        lines.append(f"{layout.heel.tenon.name}: {wide(layout.heel.tenon.half_width)} wide{at_root}")
    lines += [f"{plain(step.name)}: {with_unit(step.width, unit)} wide" for step in layout.steps]
    strip = None if layout.rod is None else layout.rod.strip
    if strip is not None:
        lines.append(f"cover strip: {with_unit(strip.width, unit)} wide, {with_unit(strip.thickness, unit)} thick")
    for piece in layout.pieces:
        lines.append(f"{plain(piece.name)}: {' x '.join(with_unit(size, unit) for size in piece.stock)}")
    if layout.board is not None:
        sizes = " x ".join(with_unit(size, unit) for size in layout.board)
        lines.append(f"board: {sizes}")
    return lines
