"""Pages of words, tables and small drawings, filled from top to bottom, with the titles on each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from neckmodel.sheets.marks.display import Drawing
from neckmodel.sheets.marks.layers import FRAME, RULE, TEXT
from neckmodel.sheets.marks.lettering import LETTERS, plain, width, wrap
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import BAR, Titles, scale_bar

MARGIN = 12.0  # mm at the sides and at the top
FOOT = 14.0  # mm at the bottom for scale bar and page number
BODY, SMALL = 2.1, LETTERS  # mm, capitals
PITCH = 1.75  # of a line to the next, of its capitals' height
CELL = 1.2  # mm kept free at a cell's sides and under its words
KEPT = 30.0  # mm of a paragraph that stay together on a page
ROUNDING = 1e-6  # mm; without it, words exactly as wide as their column would be broken


@dataclass(frozen=True)
class Column:
    """A column of a table. number: aligned right. least: least width, mm; wide: takes the room that is left."""

    title: str
    number: bool = False
    least: float = 0.0
    wide: bool = False


Figure = Callable[[Sketch, float, float], None]
"""Draws at (x of its left, y of its top)."""


class Pages:
    """Collects pages. Everything is added below what is there, or on a new page where it has no room. first: words
    under the titles of every page."""

    def __init__(self, paper: Paper, title: str, titles: Titles, first: str = "") -> None:
        self.paper, self.title, self.titles, self.first = paper, title, titles, first
        self.done: list[Sketch] = []
        self.turn()

    @property
    def room(self) -> float:
        """Width for words, mm."""
        return self.paper.width - 2 * MARGIN

    @property
    def free(self) -> float:
        """Height left on this page, mm."""
        return self.y - MARGIN - FOOT - (1.0 - self.paper.filled) * (self.paper.height - 2 * MARGIN - FOOT)

    def need(self, height: float) -> None:
        """Starts a new page unless this one has this height left, mm."""
        if self.free < height:
            self.turn()

    def heading(self, says: str, keep: float = 18.0) -> None:
        """A heading, with at least `keep` mm of page under it."""
        self.need(keep + 8.0)
        self.y -= 7.0 * self.paper.spacing
        self.sketch.text(TEXT, (MARGIN, self.y), says, 2.9)
        self.sketch.line(RULE, (MARGIN, self.y - 1.6), (MARGIN + self.room, self.y - 1.6))
        self.y -= 2.6

    def paragraph(self, says: str, height: float = BODY, indent: float = 0.0) -> None:
        """Words in lines, not broken between two pages unless they are long."""
        height, pitch = self._set(height)
        lines = wrap(says, height, self.room - indent)
        self.need(min(len(lines) * pitch + 1.0, KEPT))
        for line in lines:
            self.need(pitch + 1.0)
            self.y -= pitch
            self.sketch.text(TEXT, (MARGIN + indent, self.y), line, height)
        self.y -= 0.9

    def tall(self, says: str, height: float = BODY) -> float:
        """Height of a paragraph, mm."""
        height, pitch = self._set(height)
        return len(wrap(says, height, self.room)) * pitch + 0.9

    def caution(self, says: str, indent: float = 4.0) -> None:
        """A caution in small letters, unless this page has it already."""
        height, pitch = self._set(SMALL)
        self.need(len(wrap(says, height, self.room - indent)) * pitch + 2.0)
        if says not in self.cautioned:
            self.cautioned.add(says)
            self.paragraph(says, SMALL, indent)

    def figure(self, height: float, draw: Figure) -> None:
        """A drawing of this height across the page."""
        self.need(height)
        draw(self.sketch, MARGIN, self.y)
        self.y -= height

    def table(self, columns: Sequence[Column], rows: Sequence[Sequence[str]], height: float = SMALL) -> None:
        """Rows under their titles, which are repeated on a new page."""
        height, _ = self._set(height)
        widths = self._widths(columns, rows, height)
        titles = [column.title for column in columns]
        self._row(columns, widths, titles, height, titles)
        for row in rows:
            self._row(columns, widths, row, height, titles)
        self.y -= 2.0

    def table_height(self, columns: Sequence[Column], rows: Sequence[Sequence[str]], height: float = SMALL) -> float:
        """Height of a table on one page, mm."""
        height, _ = self._set(height)
        widths, titles = self._widths(columns, rows, height), [column.title for column in columns]
        return sum(self._tall(_cells(row, widths, height), height) for row in (titles, *rows)) + 2.0

    def _tall(self, cells: Sequence[Sequence[str]], height: float) -> float:
        """Height of a table's row, mm; height: of its capitals."""
        return (max(len(lines) for lines in cells) * height * PITCH + CELL) * self.paper.spacing

    def _set(self, height: float) -> tuple[float, float]:
        """Height of the capitals, and distance from line to line, on this paper."""
        spacing = self.paper.spacing
        return height * (1.0 + spacing) / 2, height * PITCH * spacing

    def finish(self, more: int = 0) -> tuple[Drawing, ...]:
        """The pages. more: how many sheets of another kind follow them."""
        count = len(self.done) + more
        pages = []
        for k, sketch in enumerate(self.done, 1):
            says = f"sheet {k} of {count}"
            sketch.text(TEXT, (MARGIN + self.room, MARGIN - 4.0), says, 2.1, "end")
            pages.append(sketch.drawing(f"{self.titles.name} {self.title}, {says}", self.paper.box))
        return tuple(pages)

    def turn(self) -> None:
        """Go on a new page."""
        self.sketch = Sketch()
        self.done.append(self.sketch)
        self.cautioned: set[str] = set()
        self.y = self.paper.height - MARGIN
        titles, left = self.titles, MARGIN
        mark = titles.mark
        beside = self.room - width(plain(mark), 2.1) - 4.0
        self.y -= 4.0
        self.sketch.text(TEXT, (left + self.room, self.y), mark, 2.1, "end")
        for line in wrap(f"{titles.name}: {self.title}", 3.6, beside):
            self.sketch.text(TEXT, (left, self.y), line, 3.6)
            self.y -= 5.4
        if titles.remark:
            self.sketch.text(TEXT, (left, self.y), wrap(titles.remark, SMALL, self.room)[0], SMALL)
            self.y -= 4.0
        for line in wrap(titles.verdict.says, 2.4, self.room):
            self.sketch.text(TEXT, (left, self.y), line, 2.4)
            self.y -= 3.8
        self.sketch.line(FRAME, (left, self.y + 1.0), (left + self.room, self.y + 1.0))
        if self.first:
            self.paragraph(self.first, SMALL)
        scale_bar(self.sketch, left, MARGIN - 4.0, titles.unit)
        self.sketch.line(RULE, (left, MARGIN + FOOT - 8.0), (left + max(self.room, BAR), MARGIN + FOOT - 8.0))

    def _widths(self, columns: Sequence[Column], rows: Sequence[Sequence[str]], height: float) -> list[float]:
        cells = [[column.title for column in columns], *rows]
        natural = [
            max(max(width(plain(row[k]), height) for row in cells) + 2 * CELL + ROUNDING, column.least)
            for k, column in enumerate(columns)
        ]
        wide = [k for k, column in enumerate(columns) if column.wide]
        left = self.room - sum(size for k, size in enumerate(natural) if k not in wide)
        wanted = sum(natural[k] for k in wide)
        for k in wide:
            natural[k] = left * natural[k] / wanted
        return natural

    def _row(
        self,
        columns: Sequence[Column],
        widths: Sequence[float],
        row: Sequence[str],
        height: float,
        titles: Sequence[str],
    ) -> None:
        cells = _cells(row, widths, height)
        tall = self._tall(cells, height)
        if self.free < tall:
            self.turn()
            if row is not titles:
                self._row(columns, widths, titles, height, titles)
        x = MARGIN
        for column, size, lines in zip(columns, widths, cells, strict=True):
            y = self.y
            for line in lines:
                y -= height * PITCH * self.paper.spacing
                at, anchor = (x + size - CELL, "end") if column.number else (x + CELL, "start")
                self.sketch.text(TEXT, (at, y), line, height, anchor)
            x += size
        self.y -= tall
        self.sketch.line(RULE, (MARGIN, self.y), (MARGIN + self.room, self.y))


def _cells(row: Sequence[str], widths: Sequence[float], height: float) -> list[tuple[str, ...]]:
    """The lines of each cell."""
    return [wrap(cell, height, size - 2 * CELL) for cell, size in zip(row, widths, strict=True)]


def top_of(page: Drawing) -> float:
    """y at which the titles of a page begin."""
    return page.box[3] - MARGIN


def foot_of(page: Drawing) -> float:
    """y down to which a page may be filled."""
    return page.box[1] + MARGIN + FOOT
