"""A true-size drawing cut into pages laid edge over edge: overlaps, register marks, scale bar, sheet numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass

from neckmodel.lengths import mm
from neckmodel.sheets.display import Drawing
from neckmodel.sheets.layers import FRAME, REGISTER, TEXT
from neckmodel.sheets.lettering import wrap
from neckmodel.sheets.paper import Paper
from neckmodel.sheets.sketch import Sketch
from neckmodel.sheets.titles import BAR, Titles, scale_bar

MARGIN = 8.0  # mm that a printer may leave white; common practice, no source
FOOT = 13.0  # mm under the window for scale bar and words
OVERLAP = 10.0  # mm that neighbouring sheets have in common
REGISTER_IN = 18.0  # mm from a window's end to its register marks
NEAR = 1e-6


@dataclass(frozen=True)
class Grid:
    """How a drawing is cut: paper as it lies, columns and rows, size of a window and its step to the next, mm."""

    paper: Paper
    columns: int
    rows: int

    @property
    def window(self) -> tuple[float, float]:
        return self.paper.width - 2 * MARGIN, self.paper.height - 2 * MARGIN - FOOT

    @property
    def sheets(self) -> int:
        return self.columns * self.rows

    def corner(self, drawing: Drawing, column: int, row: int) -> tuple[float, float]:
        """The drawing's point at the lower left corner of a window. Rows count from the top."""
        width, height = self.window
        x0, y0, x1, y1 = drawing.box
        over_x = self.columns * width - (self.columns - 1) * OVERLAP - (x1 - x0)
        over_y = self.rows * height - (self.rows - 1) * OVERLAP - (y1 - y0)
        return (
            x0 - over_x / 2 + column * (width - OVERLAP),
            y1 + over_y / 2 - height - row * (height - OVERLAP),
        )


def grid(drawing: Drawing, paper: Paper) -> Grid:
    """The way of laying the paper that needs the fewest sheets; upright if both need as many."""

    def count(room: float, size: float) -> int:
        return max(1, math.ceil((size - OVERLAP) / (room - OVERLAP) - NEAR))

    ways = []
    for lying in (paper, paper.lying):
        one = Grid(lying, 1, 1)
        ways.append(Grid(lying, count(one.window[0], drawing.size[0]), count(one.window[1], drawing.size[1])))
    return min(ways, key=lambda way: way.sheets)


def tile(drawing: Drawing, paper: Paper, titles: Titles) -> tuple[Drawing, ...]:
    """The pages, row by row from the top, each row from the head end."""
    way = grid(drawing, paper)
    return tuple(_page(drawing, way, column, row, titles) for row in range(way.rows) for column in range(way.columns))


def register_points(drawing: Drawing, way: Grid) -> tuple[tuple[float, float], ...]:
    """The drawing's points that are marked on both sheets of every seam: in the middle of the overlap, twice each."""
    width, height = way.window
    points = []
    for row in range(way.rows):
        for column in range(way.columns):
            x, y = way.corner(drawing, column, row)
            if column:
                points += [(x + OVERLAP / 2, y + REGISTER_IN), (x + OVERLAP / 2, y + height - REGISTER_IN)]
            if row:
                top = y + height - OVERLAP / 2
                points += [(x + REGISTER_IN, top), (x + width - REGISTER_IN, top)]
    return tuple(points)


def _page(drawing: Drawing, way: Grid, column: int, row: int, titles: Titles) -> Drawing:
    width, height = way.window
    x, y = way.corner(drawing, column, row)
    sketch = Sketch()
    low = MARGIN + FOOT
    sketch.window(drawing, (x, y, x + width, y + height), (MARGIN, low))
    sketch.box(FRAME, (MARGIN, low, MARGIN + width, low + height))
    for px, py in register_points(drawing, way):
        if x < px < x + width and y < py < y + height:
            sketch.circle(REGISTER, (px - x + MARGIN, py - y + low), 1.5, cross=1.5)
    scale_bar(sketch, MARGIN + 1.0, MARGIN + 1.0)
    number = row * way.columns + column + 1
    place = f"sheet {number} of {way.sheets}"
    if way.sheets > 1:
        place += f" (column {column + 1} of {way.columns}, row {row + 1} of {way.rows})"
    said = [
        f"{drawing.title}, 1:1, {titles.mark}, {place}, x {mm(x, 1)} to {mm(x + width, 1)} mm.",
        titles.verdict.says,
        "Lay sheets together at the circled crosses; neighbours share 10 mm." if way.sheets > 1 else "",
    ]
    start = MARGIN + BAR + 5.0
    lines = [line for text in said if text for line in wrap(text, 1.6, MARGIN + width - start)]
    sketch.lines(TEXT, (start, MARGIN + 9.6), lines, 1.6, min(2.5, 9.4 / max(len(lines) - 1, 1)))
    return sketch.drawing(f"{drawing.title}, {place}", way.paper.box)
