"""The display list: a drawing as plain marks in mm, y upward. It knows no file format, and the writers know nothing of
what is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from neckmodel.geometry.types import Point

Box = tuple[float, float, float, float]
"""(x low, y low, x high, y high), mm"""
Colour = tuple[float, float, float]
"""Red, green and blue, each 0 to 1."""


@dataclass(frozen=True)
class Layer:
    """What a mark stands for, in plain words, and how it is drawn. pen, dash (ink, gap, ...): mm. tint: of areas.

    sign: the sample that a legend shows: "line", "area" or "hole". group: the legend's word for it, shared with other
    layers that are drawn alike ("rod, bars": of those the drawn ones); the layer's name where it stands alone. hatch:
    degrees and pitch (mm) of the lines in its areas, pitch 0 for none. Colours carry no meaning beyond that of the
    dashes and the words beside them.
    """

    name: str
    pen: float = 0.18
    dash: tuple[float, ...] = ()
    colour: Colour = (0.0, 0.0, 0.0)
    tint: Colour = (0.9, 0.9, 0.9)
    sign: str = "line"
    group: str = ""
    hatch: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class Path:
    """Straight stretches and true arcs from point to point. bulges: one for each stretch, `tan(angle/4)`, positive
    where the arc turns anticlockwise, 0 for a straight stretch; () if all are straight. A closed path has a stretch
    back to its start. filled: with the layer's tint, under its outline."""

    layer: Layer
    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    closed: bool = False
    filled: bool = False

    def stretches(self) -> Iterator[tuple[Point, Point, float]]:
        """(from, to, bulge) of every stretch."""
        ends = (*self.points[1:], self.points[0]) if self.closed else self.points[1:]
        bulges = self.bulges or (0.0,) * len(ends)
        yield from zip(self.points, ends, bulges, strict=self.closed)


@dataclass(frozen=True)
class Circle:
    """A circle round `at`, mm."""

    layer: Layer
    at: Point
    radius: float


@dataclass(frozen=True)
class Text:
    """One line of text. height: of a capital, mm. anchor: "start", "middle" or "end". turn: degrees, anticlockwise.

    of: the box round what the text is about and the line that points there; where possible, a page shows both together.
    """

    layer: Layer
    at: Point
    says: str
    height: float = 2.0
    anchor: str = "start"
    turn: float = 0.0
    of: Box | None = None


@dataclass(frozen=True)
class Window:
    """A part of another drawing, true to size. box: the part, in that drawing's own mm. at: where the box's lower left
    corner lies in this drawing."""

    drawing: Drawing
    box: Box
    at: Point


Mark = Path | Circle | Text | Window


@dataclass(frozen=True)
class Drawing:
    """Marks, in the order in which they are drawn, within a box, mm."""

    title: str
    marks: tuple[Mark, ...]
    box: Box

    @property
    def size(self) -> tuple[float, float]:
        """Width and height, mm."""
        return self.box[2] - self.box[0], self.box[3] - self.box[1]

    def layers(self) -> tuple[Layer, ...]:
        """Every layer in use, in the order of first use, those inside windows too."""
        found: dict[Layer, None] = {}
        for mark in self.marks:
            for layer in mark.drawing.layers() if isinstance(mark, Window) else (mark.layer,):
                found[layer] = None
        return tuple(found)

    def texts(self) -> tuple[Text, ...]:
        """Every text, in order."""
        return tuple(mark for mark in self.marks if isinstance(mark, Text))


@dataclass(frozen=True)
class Sheet:
    """kind: its name as a maker asks for it. paper: "A4", ..., or "long". formats: the files it can become, the usual
    one first. true_size: everything is drawn 1:1. usual: written where no format is named. table: what is cut along its
    lines, in numbers, for a file beside it; None where it has no such table."""

    kind: str
    paper: str
    title: str
    pages: tuple[Drawing, ...]
    formats: tuple[str, ...]
    true_size: bool
    usual: bool = True
    table: Mapping[str, object] | None = field(default=None, compare=False)
