"""The display list: a drawing as plain marks in mm, y upward. It knows no file format; the writers know no drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from neckmodel.geometry.types import Point

Box = tuple[float, float, float, float]
"""(x low, y low, x high, y high), mm"""
Colour = tuple[float, float, float]
"""Red, green and blue, each 0 to 1."""


@dataclass(frozen=True)
class Layer:
    """What a mark stands for, in plain words, and how it is drawn. pen, dash (ink, gap, ...): mm. tint: of areas.
    sign: what a legend shows of it: "line", "area" or "hole". group: what a legend calls it, together with others that
    are drawn alike; its name where it stands alone.

    Colours carry no meaning that the dashes and the words beside them do not carry too.
    """

    name: str
    pen: float = 0.18
    dash: tuple[float, ...] = ()
    colour: Colour = (0.0, 0.0, 0.0)
    tint: Colour = (0.9, 0.9, 0.9)
    sign: str = "line"
    group: str = ""


@dataclass(frozen=True)
class Path:
    """Straight stretches and true arcs from point to point. bulges: one a stretch, `tan(angle/4)`, positive where the
    arc turns anticlockwise, 0 where the stretch is straight; () if all are. A closed path has a stretch back to its
    start. filled: with the layer's tint, under its outline.
    """

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
    layer: Layer
    at: Point
    radius: float


@dataclass(frozen=True)
class Text:
    """One line of text. height: of a capital, mm. anchor: "start", "middle" or "end". turn: degrees, anticlockwise.
    of: the box of what it speaks of and of how it points there, which is shown together with it where that can be."""

    layer: Layer
    at: Point
    says: str
    height: float = 2.0
    anchor: str = "start"
    turn: float = 0.0
    of: Box | None = None


@dataclass(frozen=True)
class Window:
    """Part of another drawing, true to size. box: what is seen, in that drawing's own mm. at: where the box's lower
    left corner comes to lie here."""

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
        return self.box[2] - self.box[0], self.box[3] - self.box[1]

    def layers(self) -> tuple[Layer, ...]:
        """Every layer in use, in the order of first use, those seen through windows too."""
        found: dict[Layer, None] = {}
        for mark in self.marks:
            for layer in mark.drawing.layers() if isinstance(mark, Window) else (mark.layer,):
                found[layer] = None
        return tuple(found)

    def texts(self) -> tuple[Text, ...]:
        return tuple(mark for mark in self.marks if isinstance(mark, Text))


@dataclass(frozen=True)
class Sheet:
    """kind: as a maker asks for it. paper: "A4", ..., or "long". formats: which files it can become, the usual one
    first. true_size: everything is drawn 1:1. usual: written where no format is named. table: what is cut along its
    lines, in numbers, for a file beside it; None where there is no such thing."""

    kind: str
    paper: str
    title: str
    pages: tuple[Drawing, ...]
    formats: tuple[str, ...]
    true_size: bool
    usual: bool = True
    table: Mapping[str, Any] | None = field(default=None, compare=False)
