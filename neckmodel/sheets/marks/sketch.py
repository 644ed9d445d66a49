"""Collects the marks of a drawing while it is being made."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.arcs import rectangle, stretch_box
from neckmodel.sheets.marks.display import Box, Circle, Drawing, Layer, Mark, Path, Text, Window
from neckmodel.sheets.marks.lettering import plain, text_box, width

ARROW = (1.8, 0.35)  # mm: length and half width of an arrow's head


class Sketch:
    """Collects marks. All lengths mm, y upward; turns in degrees."""

    def __init__(self) -> None:
        self.marks: list[Mark] = []

    def add(self, *marks: Mark) -> None:
        """Adds marks."""
        self.marks.extend(marks)

    def line(self, layer: Layer, *points: Point) -> None:
        """Adds straight stretches through these points."""
        self.marks.append(Path(layer, tuple((float(x), float(y)) for x, y in points)))

    def area(self, layer: Layer, points: Sequence[Point], filled: bool = True) -> None:
        """Adds a closed polygon."""
        self.marks.append(Path(layer, tuple((float(x), float(y)) for x, y in points), (), True, filled))

    def box(self, layer: Layer, box: Box, filled: bool = False) -> None:
        """Adds a rectangle."""
        self.marks.append(rectangle(layer, (box[0], box[2]), (box[1], box[3]), filled=filled))

    def circle(self, layer: Layer, at: Point, radius: float, cross: float = 0.0) -> None:
        """Adds a circle. cross: how far the lines through its centre reach beyond it, mm; 0 for none."""
        x, y = float(at[0]), float(at[1])
        self.marks.append(Circle(layer, (x, y), float(radius)))
        if cross:
            reach = radius + cross
            self.line(layer, (x - reach, y), (x + reach, y))
            self.line(layer, (x, y - reach), (x, y + reach))

    def text(
        self,
        layer: Layer,
        at: Point,
        says: str,
        height: float = 2.0,
        anchor: str = "start",
        turn: float = 0.0,
        of: Box | None = None,
    ) -> None:
        """Adds one line of text; nothing for empty text."""
        if says := plain(says):
            self.marks.append(Text(layer, (float(at[0]), float(at[1])), says, height, anchor, turn, of))

    def lines(self, layer: Layer, at: Point, lines: Iterable[str], height: float, pitch: float) -> float:
        """Adds lines of text below each other, the feet of the first at `at`. Returns the y of a next line, mm."""
        x, y = at
        for line in lines:
            self.text(layer, (x, y), line, height)
            y -= pitch
        return y

    def arrow(self, layer: Layer, start: Point, end: Point, both: bool = True) -> None:
        """Adds a line with an arrow's head at its end, or at both ends. The heads stand outside where the line is
        short."""
        length = math.dist(start, end)
        self.line(layer, start, end)
        if length < 1e-9:
            return
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        outside = length < 2.5 * ARROW[0]
        for tip, sign in ((end, -1.0), (start, 1.0)) if both else ((end, -1.0),):
            sign = -sign if outside else sign
            foot = (tip[0] + sign * along[0] * ARROW[0], tip[1] + sign * along[1] * ARROW[0])
            across = (-along[1] * ARROW[1], along[0] * ARROW[1])
            self.line(
                layer, (foot[0] + across[0], foot[1] + across[1]), tip, (foot[0] - across[0], foot[1] - across[1])
            )

    def window(self, drawing: Drawing, box: Box, at: Point) -> None:
        """Adds a window onto another drawing; its lower left corner lies at `at`."""
        self.marks.append(Window(drawing, box, at))

    def drawing(self, title: str, box: Box) -> Drawing:
        """The marks so far as a drawing with this title and box."""
        return Drawing(title, tuple(self.marks), box)

    def bounds(self) -> Box:
        """The box round every mark, pens left out."""
        return bounds(self.marks)


def bounds(marks: Iterable[Mark]) -> Box:
    """The box round marks, pens left out."""
    boxes: list[Box] = []
    for mark in marks:
        if isinstance(mark, Text):
            boxes.append(text_box(mark))
        elif isinstance(mark, Circle):
            (x, y), r = mark.at, mark.radius
            boxes.append((x - r, y - r, x + r, y + r))
        elif isinstance(mark, Window):
            (x, y), (x0, y0, x1, y1) = mark.at, mark.box
            boxes.append((x, y, x + x1 - x0, y + y1 - y0))
        else:
            boxes += [stretch_box(*stretch) for stretch in mark.stretches()]
    return round_all(boxes)


def round_all(boxes: Sequence[Box]) -> Box:
    """The box round boxes."""
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def round_points(points: Iterable[Point]) -> Box:
    """The box round points."""
    return round_all([(x, y, x, y) for x, y in points])


def with_of(text: Text) -> Box:
    """The box round a text and what the text is about."""
    box = text_box(text)
    return box if text.of is None else round_all([box, text.of])


def moved(marks: Iterable[Mark], by: Point) -> list[Mark]:
    """The marks, moved to the right and up."""

    def to(point: Point) -> Point:
        return point[0] + by[0], point[1] + by[1]

    def one(mark: Mark) -> Mark:
        if isinstance(mark, Path):
            return replace(mark, points=tuple(map(to, mark.points)))
        if isinstance(mark, Text) and mark.of is not None:
            return replace(mark, at=to(mark.at), of=(*to(mark.of[:2]), *to(mark.of[2:])))
        return replace(mark, at=to(mark.at))

    return [one(mark) for mark in marks]


def longest(texts: Iterable[str], height: float) -> float:
    """Width of the longest of some lines, mm."""
    return max((width(plain(text), height) for text in texts), default=0.0)
