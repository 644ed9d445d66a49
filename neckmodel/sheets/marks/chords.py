"""Turns the lines of a drawing into chords, to find what they cross."""

from __future__ import annotations

import math

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.display import Circle, Path

CHORD = math.radians(7.5)  # of an arc, the most that one chord turns through


def chord_points(mark: Path | Circle) -> list[Point]:
    """The points of a line from its start to its end, arcs replaced by points on them; of a closed line, its start
    again at the end."""
    if isinstance(mark, Circle):
        (x, y), count = mark.at, round(2 * math.pi / CHORD)
        turns = (2 * math.pi * k / count for k in range(count + 1))
        return [(x + mark.radius * math.cos(turn), y + mark.radius * math.sin(turn)) for turn in turns]
    points = [mark.points[0]]
    for start, end, bulge in mark.stretches():
        if bulge:
            (x, y), radius, angle, turned = arc_of(start, end, bulge)
            count = math.ceil(abs(turned) / CHORD)
            turns = (angle + turned * k / count for k in range(1, count))
            points += [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]
        points.append(end)
    return points
