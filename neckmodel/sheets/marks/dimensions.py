"""Running dimensions: every station from one datum, each with a tick at its true place and its words at the end of a
leader."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from neckmodel.sheets.marks.display import Layer
from neckmodel.sheets.marks.labels import spread_within
from neckmodel.sheets.marks.layers import STATIONS, TEXT
from neckmodel.sheets.marks.lettering import BELOW, plain, size_of, wrap
from neckmodel.sheets.marks.sketch import Sketch, longest, round_points

TICK = 4.0  # mm of every leader that stand straight over the station
SLANT = 8.0  # mm over which a leader goes aside to its label
AIR = 0.8  # mm between a leader's end and its label
BESIDE = 0.35  # mm kept free between two labels


@dataclass(frozen=True)
class Dimension:
    """x of a station, mm, its words, and the layer of its tick."""

    x: float
    says: str
    layer: Layer = STATIONS


def lane_height(dimensions: Sequence[Dimension], height: float) -> float:
    """Height of a lane of upright labels, mm."""
    return TICK + SLANT + AIR + longest((dimension.says for dimension in dimensions), height)


def _spread(dimensions: Sequence[Dimension], thick: float, room: tuple[float, float]) -> list[tuple[Dimension, float]]:
    """The dimensions in order, each with the middle of its label, so that no label (`thick` mm) covers another."""
    ordered = sorted(dimensions, key=lambda dimension: dimension.x)
    middles = spread_within([d.x for d in ordered], [thick] * len(ordered), *room, gap=BESIDE)
    return list(zip(ordered, middles, strict=True))


def running_lane(
    sketch: Sketch,
    dimensions: Sequence[Dimension],
    edge: float,
    up: bool,
    height: float,
    room: tuple[float, float],
    inward: float = 2.0,
) -> None:
    """Upright labels above (up) or below a horizontal edge at y. Ticks reach `inward` mm over the edge into the
    wood."""
    thick = height + BELOW * size_of(height)
    way = 1.0 if up else -1.0
    for dimension, middle in _spread(dimensions, thick, room):
        y = edge + way * TICK
        leader = [(dimension.x, edge - way * inward), (dimension.x, y), (middle, y + way * SLANT)]
        sketch.line(dimension.layer, *leader)
        # turned by 90 degrees, a line's capitals stand to the left of its feet
        feet = middle + thick / 2 - BELOW * size_of(height)
        at = (feet, y + way * (SLANT + AIR))
        sketch.text(TEXT, at, dimension.says, height, "start" if up else "end", 90.0, round_points(leader))


def level_lane(
    sketch: Sketch,
    dimensions: Sequence[Dimension],
    edge: float,
    left: bool,
    height: float,
    room: tuple[float, float],
    inward: float = 2.0,
) -> None:
    """Level labels to the left or right of an upright edge at x, for stations up the paper (their `x` is its y)."""
    thick = height + BELOW * size_of(height)
    way = -1.0 if left else 1.0
    for dimension, middle in _spread(dimensions, thick, room):
        x = edge + way * TICK
        leader = [(edge - way * inward, dimension.x), (x, dimension.x), (x + way * SLANT, middle)]
        sketch.line(dimension.layer, *leader)
        feet = middle - thick / 2 + BELOW * size_of(height)
        at = (x + way * (SLANT + AIR), feet)
        sketch.text(TEXT, at, dimension.says, height, "end" if left else "start", of=round_points(leader))


@dataclass(frozen=True)
class Note:
    """Words about a place (x, y), mm."""

    x: float
    y: float
    says: str


def note_lanes(
    sketch: Sketch,
    notes: Sequence[Note],
    top: float,
    height: float,
    room: tuple[float, float],
    widest: float = math.inf,
) -> float:
    """Level labels below a drawing, in as many rows as needed, with leaders up to their places. Returns the y below the
    last row, mm.

    widest: of a label, whose words are broken there. A row keeps clear of the leaders that pass it on their way to
    lower rows, so that none crosses another's words.
    """
    ordered = sorted(notes, key=lambda note: note.x)
    broken = {note: wrap(plain(note.says), height, widest) for note in ordered}
    widths = {note: longest(broken[note], height) + 2.0 for note in ordered}
    pitch = height + BELOW * size_of(height) + 1.2
    y = top
    while ordered:
        row, left, right = _row(ordered, widths, room)
        ordered = [note for note in ordered if note not in row]
        lines = {note: wrap(plain(note.says), height, min(widest, right - left - 2.0)) for note in row}
        y -= SLANT + pitch
        broad = [min(widths[note], right - left) for note in row]
        middles = spread_within([note.x for note in row], broad, left, right, gap=1.0)
        for note, middle in zip(row, middles, strict=True):
            leader = [(note.x, note.y), (note.x, y + SLANT + height), (middle, y + height + AIR)]
            sketch.line(STATIONS, *leader)
            foot = y - (len(lines[note]) - 1) * pitch  # all lines of a note stay together
            for k, line in enumerate(lines[note]):
                of = round_points([*leader, (middle, foot)])
                sketch.text(TEXT, (middle, y - k * pitch), line, height, "middle", of=of)
        y -= (max(map(len, lines.values())) - 1) * pitch
    return y - BELOW * size_of(height) - 1.0


def _row(ordered: list[Note], widths: dict[Note, float], room: tuple[float, float]) -> tuple[list[Note], float, float]:
    """(the notes of the next row, from where to where their words may stand): as many notes from the head's end as have
    room before the next leader; else as many from the body's end; else one, whose words are broken."""
    wide = [widths[note] + 1.0 for note in ordered]
    for k in range(len(ordered), 0, -1):
        end = ordered[k].x if k < len(ordered) else room[1]
        if sum(wide[:k]) <= end - room[0]:
            return ordered[:k], room[0], end
    for k in range(1, len(ordered)):
        if sum(wide[k:]) <= room[1] - ordered[k - 1].x:
            return ordered[k:], ordered[k - 1].x, room[1]
    return ordered[:1], room[0], ordered[1].x if len(ordered) > 1 else room[1]
