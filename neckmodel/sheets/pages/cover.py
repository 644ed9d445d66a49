"""The first sheet of a drawing that is cut into pages: the design, how to read the drawing, its lines, holes and sizes,
and how the sheets that follow lie."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.display import Drawing, Mark
from neckmodel.sheets.marks.layers import BLANK, FRAME, FRETBOARD, TEXT
from neckmodel.sheets.marks.lettering import BELOW, size_of, width, wrap
from neckmodel.sheets.marks.occupied import Crowd, round_about
from neckmodel.sheets.marks.sketch import Sketch, round_all
from neckmodel.sheets.pages.block import CAUTION, sizes_across
from neckmodel.sheets.pages.legend import draw_legend, legend_height
from neckmodel.sheets.pages.pages import SMALL, Column, Pages
from neckmodel.sheets.pages.tiles import Grid
from neckmodel.sheets.pages.titles import SQUARE, Titles, scale_square
from neckmodel.sheets.views.holes import hole_rows

if TYPE_CHECKING:
    from neckmodel.layout import Layout

HOLES = (
    Column("hole", wide=True),
    Column("x", number=True),
    Column("y", number=True),
    Column("across", number=True),
    Column("deep", number=True),
)
NUMBER = (3.2, 2.4, 1.8, 1.2)  # mm, capitals of a sheet's number on the key plan: the largest that stand clear
LEAST_PLAN, KEY_PLAN, OVER_IT = 22.0, 60.0, 18.0  # mm: its height, and what stands over and under it
LINE, LETTERS = 3.0, 1.7  # mm: from one line to the next; height of capitals


def draw_cover(layout: Layout, titles: Titles, way: Grid, title: str, reading: Sequence[str]) -> tuple[Drawing, ...]:
    """The cover, usually one page. reading: sentences on how to read the drawing, one a line."""
    pages = Pages(way.paper if way.paper.height > way.paper.width else way.paper.landscape, f"{title}, 1:1", titles)
    pages.paragraph(" ".join(reading))
    pages.paragraph(CAUTION)
    for wall in titles.verdict.walls:
        pages.paragraph(wall, SMALL)
    lines = [part for line in sizes_across(layout) for part in wrap(line, LETTERS, pages.room - SQUARE - 6.0)]

    def sizes(sketch: Sketch, left: float, top: float) -> None:
        scale_square(sketch, left, top - 2.0 - SQUARE, titles.unit)
        sketch.lines(TEXT, (left + SQUARE + 6.0, top - 2.0 - LETTERS), lines, LETTERS, LINE)

    pages.figure(max(SQUARE, len(lines) * LINE) + 4.0, sizes)
    used = way.drawing.layers()
    tall = legend_height(used, pages.room)
    pages.heading("Lines", tall)

    def lines_of(sketch: Sketch, left: float, top: float) -> None:
        draw_legend(sketch, used, left, top, pages.room)

    pages.figure(tall + 2.0, lines_of)
    rows = list(hole_rows(layout))
    if rows:
        pages.heading("Holes, by x and y of their middles")
        pages.table(HOLES, rows, SMALL)
    x0, y0, x1, y1 = round_all(way.windows())
    most = min(max(pages.free - OVER_IT, LEAST_PLAN), KEY_PLAN)
    scale = min(pages.room / (x1 - x0), most / (y1 - y0))
    height = y1 - y0
    pages.heading("How the sheets lie", height * scale)
    first = len(pages.done) + 1

    def how_they_lie(sketch: Sketch, left: float, top: float) -> None:
        sketch.add(*_key_plan(layout, way, (left, top), scale, first))

    pages.figure(height * scale + 4.0, how_they_lie)
    return pages.finish(way.sheets)


def _key_plan(layout: Layout, way: Grid, at: Point, scale: float, first: int) -> list[Mark]:
    """The windows with their sheets' numbers, over the blank and the fretboard in plan. at: left and top."""
    x0, _, _, y1 = round_all(way.windows())
    sketch = Sketch()

    def to(x: float, y: float) -> Point:
        return at[0] + (x - x0) * scale, at[1] - (y1 - y) * scale

    xs, half, board = [x for x, _ in layout.blank_profile], layout.blank_half_width, layout.fretboard
    sketch.box(BLANK, (*to(min(xs), -half), *to(max(xs), half)))
    sketch.area(FRETBOARD, [to(x, layout.across(y)) for x, y in board.outline], False)
    for box in way.windows():
        sketch.box(FRAME, (*to(*box[:2]), *to(*box[2:])))
    crowd = Crowd(sketch.marks)
    for number, box in enumerate(way.windows(), first):
        middle = to((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        sketch.text(TEXT, *_spot(str(number), middle, crowd))
        crowd.add(sketch.marks[-1:])
    return sketch.marks


def _spot(says: str, middle: Point, crowd: Crowd) -> tuple[Point, str, float]:
    """A place for a number, as large as possible, clear and near to the middle of its window."""
    for height in NUMBER:
        below = BELOW * size_of(height)
        size = (width(says, height) + 1.0, below + height + 1.0)
        for box in round_about(middle, size, (0.0, 30.0), 1.0):
            if crowd.free(box):
                return (box[0] + 0.5, box[1] + below + 0.5), says, height
    return middle, says, NUMBER[-1]
