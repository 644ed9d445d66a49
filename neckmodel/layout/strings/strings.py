"""Where the strings run from the nut to the saddle, in courses, and how true the frets are under each."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.design.values.scale import Spans, fret_share
from neckmodel.geometry.types import Floats

if TYPE_CHECKING:
    from neckmodel.design import Design


DEFAULT_STRING = 0.5  # mm, taken for spacing when no strings are stated; common practice, no source


@dataclass(frozen=True)
class FretError:
    """How far a fret lies off its true place under a string: mm along the string, cents of pitch; positive sounds
    sharp."""

    fret: int
    mm: float
    cents: float


NO_ERROR = FretError(0, 0.0, 0.0)


@dataclass(frozen=True)
class StringLine:
    """One string, straight from nut to saddle: its centre at both ends, mm; y positive toward the treble side.

    z at the nut and at fret 12 is the string's underside over the fretboard's glue plane. worst: the fret that is
    farthest off under this string. fret: where it starts; 0, the nut. Of a string that starts later, x_nut, y_nut and
    z_nut are those of its start. z_12 then is of its own straight line at x_12, even where that lies before its start;
    rise: of that line for each mm of x, None of a string that starts at the nut.
    """

    number: int
    y_nut: float
    y_bridge: float
    x_bridge: float
    diameter: float
    z_nut: float
    z_12: float
    x_12: float
    x_nut: float = 0.0
    worst: FretError = NO_ERROR
    fret: int = 0
    rise: float | None = None

    def y(self, x: float) -> float:
        """y of the string at x, mm."""
        return self.y_nut + (self.y_bridge - self.y_nut) * (x - self.x_nut) / (self.x_bridge - self.x_nut)

    def z(self, x: float) -> float:
        """Height of the string's underside at x, mm (straight line through nut and fret 12)."""
        if self.rise is not None:
            return self.z_nut + self.rise * (x - self.x_nut)
        return self.z_nut + (self.z_12 - self.z_nut) * (x - self.x_nut) / (self.x_12 - self.x_nut)

    def along_nut(self, front: tuple[tuple[float, float], ...], slope: float) -> float:
        """Where the string crosses the nut's front, from the nut's bass end along it, mm.

        front: the ends (x, y) of that line, bass first; slope: its dx/dy.
        """
        (x_end, y_end), swing = front[0], (self.y_bridge - self.y_nut) / (self.x_bridge - self.x_nut)
        y = (self.y_nut + swing * (x_end - slope * y_end - self.x_nut)) / (1.0 - swing * slope)
        return (y - y_end) * math.hypot(1.0, slope)

    @property
    def length(self) -> float:
        """From nut, or from where it starts, to saddle in plan, mm."""
        return math.hypot(self.x_bridge - self.x_nut, self.y_bridge - self.y_nut)


def string_positions(spacing: float, diameters: tuple[float, ...], divided_by: str, pair_gap: float = 0.0) -> Floats:
    """y of each string's centre, bass first, mm.

    spacing: between the outer strings' centres. "gaps": equal clear gaps between courses,
    `gap = (S - sum(d) + d_1/2 + d_n/2)/(n-1)` for single ones; "centres": equal distances of the courses' centres.
    pair_gap: centre to centre inside each pair of strings; 0 for single courses.
    """
    d = np.asarray(diameters, dtype=float)
    if pair_gap:
        courses = len(d) // 2
        steps = np.full(len(d) - 1, pair_gap)
        between = np.zeros(courses - 1) if divided_by == "centres" else (d[1:-1:2] + d[2::2]) / 2
        steps[1::2] = between + (spacing - courses * pair_gap - between.sum()) / (courses - 1)
        return np.concatenate(([0.0], np.cumsum(steps))) - spacing / 2
    if divided_by == "centres":
        return np.linspace(-spacing / 2, spacing / 2, len(d))
    gap = (spacing - d.sum() + d[0] / 2 + d[-1] / 2) / (len(d) - 1)
    steps = gap + (d[:-1] + d[1:]) / 2
    return np.concatenate(([0.0], np.cumsum(steps))) - spacing / 2


def crossing(spans: Spans, at_nut: float, at_bridge: float, number: float) -> float:
    """The share of a string's own length at which it crosses the line of a fret; `t(n)` for a true fret.

    at_nut, at_bridge: y of the string on the nut's and the saddle's line, mm.
    """
    share = fret_share(number)
    slope = spans.slope(share)
    x_nut, x_bridge = spans.slope(0.0) * at_nut, spans.centre + spans.slope(1.0) * at_bridge
    return (spans.centre * share + slope * at_nut - x_nut) / (x_bridge - x_nut - slope * (at_bridge - at_nut))


def fret_error(spans: Spans, at_nut: float, at_bridge: float, number: int) -> FretError:
    """How far one fret is off under one string. Frets are true under a string that divides the spacing at the nut and
    at the saddle alike (equal shares from the bass side), and wherever the frets are parallel."""
    share, found = fret_share(number), crossing(spans, at_nut, at_bridge, number)
    along = spans.centre + spans.slope(1.0) * at_bridge - spans.slope(0.0) * at_nut
    length = math.hypot(along, at_bridge - at_nut)
    return FretError(number, (found - share) * length, 1200 * math.log2((1 - share) / (1 - found)))


def worst_error(spans: Spans, at_nut: float, at_bridge: float, frets: int) -> FretError:
    """The fret farthest off, by pitch, under one string; NO_ERROR where all frets are parallel."""
    if spans.bass == spans.treble:
        return NO_ERROR
    errors = [fret_error(spans, at_nut, at_bridge, n) for n in range(1, frets + 1)]
    return max(errors, key=lambda error: abs(error.cents))


@dataclass(frozen=True)
class StringEnds:
    """y of every string's centre on the lines of nut and saddle, bass first, and its diameter, mm. A string that starts
    later than the nut counts as if it ran on to it."""

    nut: tuple[float, ...]
    bridge: tuple[float, ...]
    diameters: tuple[float, ...]


def string_ends(design: Design) -> StringEnds:
    """Where the strings of a design leave from and end."""
    strings = design.strings
    stated = [s.diameter for s in strings.each]
    diameters = tuple(stated) if len(stated) == strings.count else (DEFAULT_STRING,) * strings.count
    gap = (strings.pair_gap or 0.0) if strings.paired else 0.0
    nut, bridge = (
        tuple(string_positions(spacing, diameters, strings.divided_by, gap).tolist())
        for spacing in (strings.spacing_at_nut, strings.spacing_at_bridge)
    )
    return StringEnds(nut, bridge, diameters)


def started_later(design: Design, line: StringLine, spans: Spans, top: Callable[[float, float], float]) -> StringLine:
    """The line of a string from the fret at which it starts: that fret is its zero fret, and at the bridge it lies as
    high as if it ran on to the nut."""
    fret = design.strings.later.starts_at_fret if design.strings.later is not None else None
    if fret is None:
        return line
    x = spans.centre * fret_share(fret)
    y, z = line.y(x), top(x, line.y(x)) + design.fretboard.fret_stands
    rise = (line.z(line.x_bridge) - z) / (line.x_bridge - x)
    return replace(line, x_nut=x, y_nut=y, z_nut=z, z_12=z + rise * (line.x_12 - x), fret=fret, rise=rise)


def place_strings(design: Design, spans: Spans, top: Callable[[float, float], float]) -> tuple[StringLine, ...]:
    """The line of every string, bass first. Height: fretboard under the string + fret + the stated action at nut and
    fret 12; over a zero fret the strings rest on that fret.

    top: z of the fretboard's crown at (x, y), mm.
    """
    board, action, ends = design.fretboard, design.action, string_ends(design)
    lines = []
    for k, (y0, y1, d) in enumerate(zip(ends.nut, ends.bridge, ends.diameters, strict=True)):
        x0, x1 = spans.slope(0.0) * y0, spans.centre + spans.slope(1.0) * y1
        part = crossing(spans, y0, y1, 12)
        x12, y12 = x0 + (x1 - x0) * part, y0 + (y1 - y0) * part
        z0 = top(x0, y0) + board.fret_stands + (0.0 if board.zero_fret else action.at_nut)
        z12 = top(x12, y12) + board.fret_stands + action.at_12
        worst = worst_error(spans, y0, y1, board.frets)
        lines.append(
            StringLine(
                number=k + 1,
                y_nut=y0,
                y_bridge=y1,
                x_bridge=x1,
                diameter=d,
                z_nut=z0,
                z_12=z12,
                x_12=x12,
                x_nut=x0,
                worst=worst,
            )
        )
    return (started_later(design, lines[0], spans, top), *lines[1:])
