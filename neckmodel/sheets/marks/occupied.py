"""What is drawn already: whether a new label would lie on a line or on words. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.chords import chord_points
from neckmodel.sheets.marks.clip import within
from neckmodel.sheets.marks.display import Box, Circle, Mark, Path, Text, Window
from neckmodel.sheets.marks.lettering import text_box


class Crowd:
    """The lines and words drawn so far."""

    def __init__(self, marks: Iterable[Mark] = ()) -> None:
        self.lines = np.empty((0, 4))
        self.boxes = np.empty((0, 4))
        self.add(marks)

    def add(self, marks: Iterable[Mark]) -> None:
        """Adds lines and words. Windows are refused."""
        lines: list[tuple[float, float, float, float]] = []
        boxes: list[Box] = []
        for mark in marks:
            if isinstance(mark, Text):
                boxes.append(text_box(mark))
            elif isinstance(mark, Path | Circle):
                lines += [(*start, *end) for start, end in pairwise(chord_points(mark))]
            else:
                assert not isinstance(mark, Window), "windows are not looked into"
        self.lines = np.concatenate([self.lines, np.array(lines).reshape(-1, 4)])
        self.boxes = np.concatenate([self.boxes, np.array(boxes).reshape(-1, 4)])

    def block(self, box: Box) -> None:
        """Keeps a box free of whatever is placed later."""
        self.boxes = np.concatenate([self.boxes, np.array([box])])

    def on_words(self, box: Box) -> bool:
        """Whether the box overlaps words."""
        x0, y0, x1, y1 = self.boxes.T
        return bool(np.any((x0 < box[2]) & (x1 > box[0]) & (y0 < box[3]) & (y1 > box[1])))

    def over_words(self, start: Point, end: Point) -> bool:
        """Whether a straight line runs over words."""
        return any(within(start, end, (x0, y0, x1, y1)) is not None for x0, y0, x1, y1 in self.boxes.tolist())

    def on_lines(self, box: Box) -> bool:
        """Whether a line passes through the box (method of Liang and Barsky, for all lines at once)."""
        if not len(self.lines):
            return False
        first, last = np.zeros(len(self.lines)), np.ones(len(self.lines))
        outside = np.zeros(len(self.lines), bool)
        with np.errstate(divide="ignore", invalid="ignore"):
            for k in (0, 1):
                start, run = self.lines[:, k], self.lines[:, k + 2] - self.lines[:, k]
                level = run == 0
                outside |= level & ((start < box[k]) | (start > box[k + 2]))
                a, b = (box[k] - start) / run, (box[k + 2] - start) / run
                first = np.where(level, first, np.maximum(first, np.minimum(a, b)))
                last = np.where(level, last, np.minimum(last, np.maximum(a, b)))
        return bool(np.any(~outside & (first <= last)))

    def free(self, box: Box) -> bool:
        """Whether the box is clear of words and lines."""
        return not self.on_words(box) and not self.on_lines(box)


def round_about(at: Point, size: tuple[float, float], reach: tuple[float, float], step: float = 1.5) -> Iterator[Box]:
    """Boxes of this size beside a place, the nearest first. reach: distance of their nearest edge from the place, least
    and largest; the place's own mark lies within the least."""
    wide, high = size
    near, far = reach
    count = int((far - near) / step) + 1
    for ring in range(count):
        off = near + ring * step
        slides = [0.0, *(sign * step * k for k in range(1, ring + 3) for sign in (1.0, -1.0))]
        for slide in slides:  # right, left, above, below, and on along each side
            yield _box(at[0] + off, at[1] + slide - high / 2, wide, high)
            yield _box(at[0] - off - wide, at[1] + slide - high / 2, wide, high)
            yield _box(at[0] + slide - wide / 2, at[1] + off, wide, high)
            yield _box(at[0] + slide - wide / 2, at[1] - off - high, wide, high)


def _box(x: float, y: float, wide: float, high: float) -> Box:
    return x, y, x + wide, y + high
