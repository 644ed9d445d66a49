"""Open lines of a drawing joined end to end."""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.geometry.contour import Corner
from neckmodel.layout.drawings.shape import Shape

TOUCH = 0.02  # mm, ends nearer to each other are joined


def reversed_line(corners: Sequence[Corner]) -> tuple[Corner, ...]:
    """An open line run the other way."""
    last = len(corners) - 1
    return tuple((corners[k][0], corners[k][1], -corners[k - 1][2] if k else 0.0) for k in range(last, -1, -1))


def joined(shapes: list[Shape]) -> tuple[Shape, ...]:
    """The shapes with open lines whose ends touch joined into one, each at the place of its first. A chain that meets
    its own start is closed."""
    done: list[Shape] = []
    ends = _Ends(shapes)
    for k, shape in enumerate(shapes):
        if shape.closed:
            done.append(shape)
        elif ends.take(k):
            line = list(shape.corners)
            while not _comes_round(line) and (found := ends.next_after(line[-1])) is not None:
                line = [*line[:-1], *found]
            closes = _comes_round(line)
            done.append(Shape(shape.layers, tuple(line[:-1] if closes else line), closes))
    return tuple(done)


def _comes_round(line: list[Corner]) -> bool:
    return len(line) >= 3 and math.dist(line[0][:2], line[-1][:2]) <= TOUCH


class _Ends:
    """The two ends of every open line, found by their place."""

    def __init__(self, shapes: list[Shape]) -> None:
        self._shapes = shapes
        self._free = {k for k, shape in enumerate(shapes) if not shape.closed}
        self._at: dict[tuple[int, int], list[int]] = {}
        for k in sorted(self._free):
            for x, y, _ in (shapes[k].corners[0], shapes[k].corners[-1]):
                self._at.setdefault(_cell(x, y), []).append(k)

    def take(self, k: int) -> bool:
        """Whether the line was still free; marks it as taken."""
        free = k in self._free
        self._free.discard(k)
        return free

    def next_after(self, end: Corner) -> tuple[Corner, ...] | None:
        """The first free line that starts or ends there, run from there."""
        i, j = _cell(*end[:2])
        near = {k for di in (-1, 0, 1) for dj in (-1, 0, 1) for k in self._at.get((i + di, j + dj), ())}
        for k in sorted(near & self._free):
            corners = self._shapes[k].corners
            if math.dist(end[:2], corners[0][:2]) <= TOUCH:
                self._free.discard(k)
                return corners
            if math.dist(end[:2], corners[-1][:2]) <= TOUCH:
                self._free.discard(k)
                return reversed_line(corners)
        return None


def _cell(x: float, y: float) -> tuple[int, int]:
    return math.floor(x / TOUCH), math.floor(y / TOUCH)
