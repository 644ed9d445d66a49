"""The neck seen from above, true to size: x to the right, the treble side up."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.sheets import layers
from neckmodel.sheets.contours import neck_plan, rectangle, step_contour
from neckmodel.sheets.rods import adjuster_rounds, bar_span
from neckmodel.sheets.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.frets import Fret

CROSS = 2.0  # mm that a hole's cross reaches beyond it
ROUND = 48  # stretches of a hole seen aslant


def draw_plan(sketch: Sketch, layout: Layout) -> None:
    """Everything that is marked on the blank's upper face, and the finished outline."""
    half, x0, x1 = layout.blank_half_width, *blank_reach(layout)
    board = layout.fretboard
    _stock(sketch, layout)
    for step in layout.steps:
        sketch.add(step_contour(layers.of_step(step.name), step, filled=True))
    sketch.add(rectangle(layers.BLANK, (x0, x1), (-half, half)))
    sketch.add(neck_plan(layers.NECK, layout))
    near, far = board.half_width(board.x_start), board.half_width(board.x_end)
    sketch.area(
        layers.FRETBOARD,
        ((board.x_start, -near), (board.x_end, -far), (board.x_end, far), (board.x_start, near)),
        False,
    )
    for fret in layout.frets.frets:
        sketch.line(layers.FRETS, *fret_line(layout, fret))
    nut = layout.nut
    sketch.add(rectangle(layers.NUT, (nut.x_start, nut.x_end), (-nut.half_width, nut.half_width)))
    sketch.line(layers.HEAD, (layout.head.x_line, -half), (layout.head.x_line, half))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    sketch.line(layers.STATIONS, (layout.heel.x_joint, -half), (layout.heel.x_joint, half))
    _rod(sketch, layout)
    sketch.line(layers.CENTRE, (x0 - 4.0, 0.0), (x1 + 4.0, 0.0))
    _holes(sketch, layout)


def blank_reach(layout: Layout) -> tuple[float, float]:
    """x of the sawn blank's two ends."""
    xs = [x for x, _ in layout.blank_profile]
    return min(xs), max(xs)


def fret_line(layout: Layout, fret: Fret) -> tuple[tuple[float, float], tuple[float, float]]:
    """A fret's ends at the fretboard's edges, bass side first, mm; slanted where there are two scale lengths."""
    strings, board = layout.frets.strings, layout.fretboard
    y_bass, y_treble = strings[0].y(fret.x_bass), strings[-1].y(fret.x_treble)
    slope = (fret.x_treble - fret.x_bass) / (y_treble - y_bass)
    middle = fret.x_bass - slope * y_bass
    # the edge is half + slope of the edge times x, and x is middle + slope times y: solve for y on either side
    bass = -(board.half_width(middle)) / (1 + board.slope * slope)
    treble = board.half_width(middle) / (1 - board.slope * slope)
    return (middle + slope * bass, bass), (middle + slope * treble, treble)


def _stock(sketch: Sketch, layout: Layout) -> None:
    if layout.board is None:
        return
    x0, x1 = blank_reach(layout)
    length, width, _ = layout.board
    aside = (length - (x1 - x0)) / 2
    sketch.add(rectangle(layers.BOARD, (x0 - aside, x1 + aside), (-width / 2, width / 2)))


def _rod(sketch: Sketch, layout: Layout) -> None:
    if layout.rod is not None:
        for part in layout.rod.segments:
            half = part.width / 2
            sketch.add(rectangle(layers.ROD, (part.x_start, part.x_end), (-half, half)))
        rounds = adjuster_rounds(layout.rod)
        if layout.rod.curve is not None:
            rounds.append((*bar_span(layout.rod), layout.rod.diameter / 2))
        for x0, x1, half in rounds:
            sketch.add(rectangle(layers.ROD, (x0, x1), (-half, half)))
    for bar in layout.bars:
        y = (bar.y - bar.width / 2, bar.y + bar.width / 2)
        sketch.add(rectangle(layers.ROD, (bar.x_start, bar.x_end), y))


def _holes(sketch: Sketch, layout: Layout) -> None:
    for screw in layout.screws:
        sketch.circle(layers.SCREWS, (screw.x, screw.y), screw.hole / 2, CROSS)
    squeeze = math.cos(math.radians(layout.head.angle))
    for tuner in layout.tuners:
        (x, y), radius = tuner.on_face[:2], tuner.hole / 2
        if layout.head.angle == 0:
            sketch.circle(layers.TUNERS, (x, y), radius, CROSS)
            continue
        turns = [2 * math.pi * k / ROUND for k in range(ROUND)]
        sketch.area(
            layers.TUNERS, [(x + radius * squeeze * math.cos(t), y + radius * math.sin(t)) for t in turns], False
        )
        reach = radius + CROSS
        sketch.line(layers.TUNERS, (x - reach, y), (x + reach, y))
        sketch.line(layers.TUNERS, (x, y - reach), (x, y + reach))
