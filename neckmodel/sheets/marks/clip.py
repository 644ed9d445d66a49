"""Cuts a closed outline to the part inside a box. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.display import Box


def clipped(outline: Sequence[Point], box: Box) -> list[list[Point]]:
    """The parts of a closed outline within the box, as open lines (method of Liang and Barsky, stretch by stretch)."""
    lines: list[list[Point]] = []
    for start, end in zip(outline, [*outline[1:], outline[0]], strict=True):
        inside = within(start, end, box)
        if inside is None:
            continue
        if lines and lines[-1][-1] == inside[0]:
            lines[-1].append(inside[1])
        else:
            lines.append(list(inside))
    return lines


def within(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a straight line inside a box; None if there is none."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    first, last = 0.0, 1.0
    for step, room in (
        (-dx, start[0] - box[0]),
        (dx, box[2] - start[0]),
        (-dy, start[1] - box[1]),
        (dy, box[3] - start[1]),
    ):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first >= last:
        return None

    def at(share: float) -> Point:
        return (start[0] + share * dx, start[1] + share * dy) if 0 < share < 1 else (start if share == 0 else end)

    return at(first), at(last)
