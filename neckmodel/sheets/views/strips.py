"""The strips of a glued-up board as drawings show them: each wood in its own tint and hatch, the seams as lines."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats, Point
from neckmodel.layout.wood.strips import reaches, seams_of
from neckmodel.layout.wood.tints import tints_of, woods_in
from neckmodel.lengths import listed, with_unit
from neckmodel.sheets.marks.display import Box, Layer, Path
from neckmodel.sheets.marks.hatch import hatched
from neckmodel.sheets.marks.layers import SEAMS

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.sheets.marks.sketch import Sketch

HATCHES = ((45.0, 2.4), (135.0, 2.4), (90.0, 1.2), (45.0, 1.2), (135.0, 1.2), (0.0, 1.2))  # degrees, mm on paper
PALE = 0.55  # how far a wood's colour is drawn toward white, so that lines and arrows stay clear on it
PEN, INK = 0.1, (0.35, 0.3, 0.25)  # mm; red, green, blue of the hatch


def wood_layers(layout: Layout) -> dict[str, Layer]:
    """The layer of each wood of the strips."""
    colours, found = tints_of(layout.strips), {}
    for k, wood in enumerate(woods_in(layout.strips)):
        red, green, blue = (round(part + PALE * (1 - part), 3) for part in colours[wood])
        hatch = HATCHES[k % len(HATCHES)]
        found[wood] = Layer(wood, PEN, colour=INK, tint=(red, green, blue), sign="area", hatch=hatch)
    return found


def draw_strips(sketch: Sketch, layout: Layout, skin: Floats, to: Callable[[Point], Point]) -> None:
    """Draws the strips within a section: tint, hatch and seams. skin: (n, 2) (y, z) from the bass edge round the back
    to the treble edge, the section closed by the straight line between its ends; to: where a place lies in the
    drawing."""
    of = wood_layers(layout)
    for strip, (low, high) in zip(layout.strips, reaches(layout.strips), strict=True):
        area = [to(point) for point in within(skin, low, high)]
        if len(area) > 2:
            layer = of[strip.wood]
            sketch.add(Path(layer, tuple(area), (), True, True))
            for line in hatched(area, *layer.hatch):
                sketch.line(layer, *line)
    for y in seams_of(layout.strips):
        if float(skin[0, 0]) < y < float(skin[-1, 0]):
            top = _between(skin[[0, -1]], y)
            sketch.line(SEAMS, to((y, top)), to((y, _back_at(skin, y))))


def within(skin: Floats, low: float, high: float) -> list[Point]:
    """The part of a section between two y, as a closed outline; empty where nothing lies there."""
    low, high = max(low, float(skin[0, 0])), min(high, float(skin[-1, 0]))
    if high <= low:
        return []
    inner = [(float(y), float(z)) for y, z in skin if low < y < high]
    ends = [(y, _back_at(skin, y)) for y in (low, high)]
    tops = [(y, _between(skin[[0, -1]], y)) for y in (low, high)]
    return [tops[0], ends[0], *inner, ends[1], tops[1]]


def _back_at(skin: Floats, y: float) -> float:
    """z of the back at y; at an upright side that of its foot."""
    upright = skin[skin[:, 0] == y, 1]
    return float(min(np.interp(y, skin[:, 0], skin[:, 1]), np.min(upright, initial=0.0)))


def _between(ends: Floats, y: float) -> float:
    return float(np.interp(y, ends[:, 0], ends[:, 1]))


def draw_seams(sketch: Sketch, layout: Layout, x_from: float, x_to: float) -> None:
    """Draws the seams in plan, right-handed, from end to end of the blank."""
    for y in seams_of(layout.strips):
        if abs(y) < layout.blank_half_width:
            sketch.line(SEAMS, (x_from, y), (x_to, y))


def strip_words(layout: Layout) -> str:
    """The strips and their seams in words, as a sentence; empty for a board of one piece."""
    if not layout.strips:
        return ""
    unit = layout.design.design.units
    strips = listed(f"{strip.wood} {with_unit(strip.width, unit)}" for strip in layout.strips)
    seams = listed(f"y {with_unit(layout.across(y), unit)}" for y in seams_of(layout.strips))
    return f"Strips of the board from the bass side: {strips} wide; their seams lie at {seams}."


def draw_strips_above(sketch: Sketch, layout: Layout, box: Box) -> None:
    """Draws the strips of the whole board seen from above, in this box: the bass side, where the reference edge is,
    lies at its foot."""
    if not layout.strips or layout.board is None:
        return
    of, (x0, foot, x1, top) = wood_layers(layout), box
    half = layout.board[1] / 2
    for strip, (low, high) in zip(layout.strips, reaches(layout.strips), strict=True):
        y0, y1 = (foot + (top - foot) * (max(min(y, half), -half) + half) / (2 * half) for y in (low, high))
        sketch.box(of[strip.wood], (x0, y0, x1, y1), filled=True)
