"""Contours for machines with their words: below the drawing on paper, within the part in a file that programs read."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.display import Drawing, Mark, Text
from neckmodel.sheets.marks.lettering import wrap
from neckmodel.sheets.marks.placing import words_within
from neckmodel.sheets.marks.sketch import Sketch, bounds
from neckmodel.sheets.pages.titles import Titles, scale_bar
from neckmodel.work import cautions

if TYPE_CHECKING:
    from neckmodel.layout import Layout

LETTERS = 2.3  # mm, capitals of the words
PITCH = 4.2  # mm from one line of words to the next
EDGE = 6.0  # mm round a drawing
BAR_ROOM = 9.0  # mm from the words down to the scale bar's foot
SCHEMA = "neckmodel/contours/1"
WIDE = 170.0  # mm that a line of words may take: it must stand whole on a sheet of paper


@dataclass(frozen=True)
class Contours:
    """marks: true to size, as on the neck of this hand. says: words about them, a sentence a line. cuts: what is cut
    along each line, in numbers, as plain data; every entry names its `layer`."""

    title: str
    marks: tuple[Mark, ...]
    says: tuple[str, ...]
    cuts: tuple[dict[str, object], ...] = field(default=())

    @property
    def lines(self) -> tuple[str, ...]:
        """The words and the caution under them, a sentence a line."""
        return *self.says, f"{cautions.FIRST} Trial cut in scrap, and measure it."


def on_paper(contours: Contours, unit: str, *, bar: bool = False) -> Drawing:
    """The words in lines below the drawing. bar: with the scale bar below them; sheets of a paper size have it in their
    foot."""
    sketch = Sketch()
    sketch.add(*contours.marks)
    left, foot, *_ = sketch.bounds()
    lines = [part for line in contours.lines for part in wrap(line, LETTERS, WIDE)]
    sketch.lines(layers.NOTES, (left, foot - PITCH - 4.0), lines, LETTERS, PITCH)
    if bar:
        scale_bar(sketch, left, sketch.bounds()[1] - BAR_ROOM, unit)
    low_x, low_y, high_x, high_y = sketch.bounds()
    return sketch.drawing(contours.title, (low_x - EDGE, low_y - EDGE, high_x + EDGE, high_y + EDGE))


def for_machines(contours: Contours) -> Drawing:
    """The words inside the contours and clear of them, so that the file reaches as far as the part."""
    reach = bounds(contours.marks)
    words = words_within(Text(layers.NOTES, (0.0, 0.0), ""), contours.lines, contours.marks, reach)
    box = (reach[0] - EDGE, reach[1] - EDGE, reach[2] + EDGE, reach[3] + EDGE)
    return Drawing(contours.title, (*contours.marks, *words), box)


def table(kind: str, layout: Layout, titles: Titles, contours: Contours) -> dict[str, object]:
    """What is cut along which layer, in mm, whatever the unit of the drawing."""
    return {
        "schema": SCHEMA,
        "name": titles.name,
        "kind": kind,
        "design_sha256": layout.design.sha256,
        "hand": layout.design.design.hand,
        "verdict": titles.verdict.word,
        "unit": "mm",
        "says": list(contours.lines),
        "cuts": list(contours.cuts),
    }
