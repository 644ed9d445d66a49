"""A true-size drawing cut into overlapping pages: no label cut, with register marks, scale bar and sheet numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from neckmodel.lengths import decimal, mm
from neckmodel.sheets.marks.display import Box, Drawing, Text
from neckmodel.sheets.marks.layers import FRAME, REGISTER, TEXT
from neckmodel.sheets.marks.lettering import text_box, wrap
from neckmodel.sheets.marks.occupied import Crowd
from neckmodel.sheets.marks.sketch import Sketch, with_of
from neckmodel.sheets.pages.seams import cuts, joints
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import BAR, Titles, scale_bar

MARGIN = 8.0  # mm that a printer may leave white; common practice, no source
FOOT = 13.0  # mm under the window for scale bar and words
CLEAR = 0.8  # mm that a label keeps from its window's edge
MOST = (
    0.7  # of a window that a label may take with what it is about, so that no two sheets begin too near to each other
)


@dataclass(frozen=True)
class Grid:
    """How a drawing is cut. paper: as it lies; xs, ys: where its columns begin, and its rows, from the top one down,
    mm."""

    drawing: Drawing
    paper: Paper
    xs: tuple[float, ...]
    ys: tuple[float, ...]

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of a window, mm."""
        return window_of(self.paper)

    @property
    def columns(self) -> int:
        """How many columns of windows."""
        return len(self.xs)

    @property
    def rows(self) -> int:
        """How many rows of windows."""
        return len(self.ys)

    @property
    def sheets(self) -> int:
        """How many sheets."""
        return self.columns * self.rows

    def windows(self) -> tuple[Box, ...]:
        """The windows, row by row from the top, each row from the head end."""
        wide, high = self.window
        return tuple((x, y, x + wide, y + high) for y in self.ys for x in self.xs)

    @cached_property
    def register(self) -> tuple[tuple[float, float], ...]:
        """The points of the drawing that are marked on both sheets of every seam."""
        return joints(self.xs, self.ys, self.window, Crowd(self.drawing.marks))


def window_of(paper: Paper) -> tuple[float, float]:
    """Width and height of the part of a drawing that a page of this paper shows, mm."""
    return paper.width - 2 * MARGIN, paper.height - 2 * MARGIN - FOOT


def grid(drawing: Drawing, paper: Paper) -> Grid:
    """The grid with the fewest sheets, on paper laid flat or upright; upright if both need as many."""
    x0, y0, x1, y1 = drawing.box
    ways = []
    for laid in (paper, paper.landscape):
        wide, high = window_of(laid)
        boxes = [_kept(text, wide, high) for text in drawing.texts()]
        along = [(box[0] - CLEAR, box[2] + CLEAR) for box in boxes]
        down = [(-box[3] - CLEAR, -box[1] + CLEAR) for box in boxes]  # rows count from the top
        rows = tuple(-top - high for top in cuts(-y1, -y0, high, down))
        ways.append(Grid(drawing, laid, cuts(x0, x1, wide, along), rows))
    return min(ways, key=lambda way: way.sheets)


def _kept(text: Text, wide: float, high: float) -> Box:
    """The box to keep whole in a window of this size: a text with what it is about, or the text alone where the two
    reach too far."""
    box = with_of(text)
    return box if box[2] - box[0] <= MOST * wide and box[3] - box[1] <= MOST * high else text_box(text)


def tile(drawing: Drawing, paper: Paper, titles: Titles) -> tuple[Drawing, ...]:
    """The pages, row by row from the top, each row from the head end."""
    return pages_of(grid(drawing, paper), titles)


def pages_of(way: Grid, titles: Titles, before: int = 0) -> tuple[Drawing, ...]:
    """The pages of a grid. before: how many sheets come before them."""
    # words are not drawn through windows: each is drawn on the sheets on which it is whole, with what it is about
    bare = replace(way.drawing, marks=tuple(mark for mark in way.drawing.marks if not isinstance(mark, Text)))
    windows = way.windows()
    words: list[list[Text]] = [[] for _ in windows]
    for text in way.drawing.texts():
        whole, both = ([_within(box, seen) for seen in windows] for box in (text_box(text), with_of(text)))
        for page, shown in zip(words, both if any(both) else whole, strict=True):
            page += [text] if shown else []
    return tuple(_page(way, bare, words[number], seen, number, titles, before) for number, seen in enumerate(windows))


def _within(box: Box, seen: Box) -> bool:
    room = (seen[0] + CLEAR / 2, seen[1] + CLEAR / 2, seen[2] - CLEAR / 2, seen[3] - CLEAR / 2)
    return box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] and box[3] <= room[3]


def _page(way: Grid, bare: Drawing, words: list[Text], seen: Box, number: int, titles: Titles, before: int) -> Drawing:
    (x, y, *_), (width, height) = seen, way.window
    sketch, title = Sketch(), way.drawing.title
    low = MARGIN + FOOT
    sketch.window(bare, seen, (MARGIN, low))
    sketch.box(FRAME, (MARGIN, low, MARGIN + width, low + height))
    by = (MARGIN - x, low - y)
    sketch.add(*(replace(text, at=(text.at[0] + by[0], text.at[1] + by[1])) for text in words))
    for px, py in way.register:
        if _within((px - 3.0, py - 3.0, px + 3.0, py + 3.0), seen):
            sketch.circle(REGISTER, (px + by[0], py + by[1]), 1.5, cross=1.5)
    scale_bar(sketch, MARGIN + 1.0, MARGIN + 1.0, titles.unit)
    row, column = divmod(number, way.columns)
    place = f"sheet {before + number + 1} of {before + way.sheets}"
    if way.sheets > 1:
        place += f" (column {column + 1} of {way.columns}, row {row + 1} of {way.rows})"
    said = [
        f"{title}, 1:1, {titles.mark}, {place}, {_reach(x, x + width, titles.unit)}.",
        titles.verdict.says,
        "Lay the sheets over each other so that the circled crosses meet." if way.sheets > 1 else "",
    ]
    start = MARGIN + BAR + 5.0
    lines = [line for text in said if text for line in wrap(text, 1.6, MARGIN + width - start)]
    sketch.lines(TEXT, (start, MARGIN + 9.6), lines, 1.6, min(2.5, 9.4 / max(len(lines) - 1, 1)))
    return sketch.drawing(f"{title}, {place}", way.paper.box)


def _reach(low: float, high: float, unit: str) -> str:
    """From where to where along the neck a sheet shows it."""
    return f"x {mm(low, 1)} to {mm(high, 1)} mm" if unit == "mm" else f"x {decimal(low, unit)} to {decimal(high, unit)}"
