"""Hatching: even slanting lines within an area. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.geometry.types import Point

Line = tuple[Point, Point]
LEAST = 0.05  # mm of a line worth drawing


def hatched(area: Sequence[Point], degrees: float, pitch: float) -> tuple[Line, ...]:
    """The hatch lines inside a closed area, at an angle to the x axis. They lie on one grid through the origin, so that
    areas side by side are hatched alike."""
    turn = math.radians(degrees)
    along, square = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    flat = [(x * along[0] + y * along[1], x * square[0] + y * square[1]) for x, y in area]
    low, high = min(v for _, v in flat), max(v for _, v in flat)
    found = []
    for k in range(math.ceil(low / pitch), math.floor(high / pitch) + 1):
        level = k * pitch
        ends = sorted(_crossings(flat, level))
        for a, b in zip(ends[::2], ends[1::2], strict=False):
            if b - a > LEAST:
                found.append((_back(a, level, along, square), _back(b, level, along, square)))
    return tuple(found)


def _crossings(flat: Sequence[Point], level: float) -> list[float]:
    """Where the outline crosses a level line; a corner on it counts with the higher side."""
    found = []
    for (u0, v0), (u1, v1) in zip(flat, [*flat[1:], flat[0]], strict=True):
        if (v0 >= level) != (v1 >= level):
            found.append(u0 + (u1 - u0) * (level - v0) / (v1 - v0))
    return found


def _back(u: float, v: float, along: Point, square: Point) -> Point:
    return u * along[0] + v * square[0], u * along[1] + v * square[1]
