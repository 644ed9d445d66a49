"""The neck from above, true to size: x to the right, the treble side up (on a left-handed neck the bass side)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rectangle
from neckmodel.sheets.marks.clip import clipped
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.body import draw_way_plan
from neckmodel.sheets.views.hand import as_built
from neckmodel.sheets.views.outlines import neck_plan, step_contour
from neckmodel.sheets.views.rod import adjuster_rounds, bar_span
from neckmodel.sheets.views.slots import draw_slots_plan
from neckmodel.sheets.views.strips import draw_seams

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.strings.frets import Fret

CROSS = 2.0  # mm that a hole's cross reaches beyond it
MARK = 4.0  # mm that a side mark is drawn inward from the edge
ROUND = 48  # stretches of a hole seen aslant


def draw_plan(sketch: Sketch, layout: Layout) -> None:
    """Draws everything that is marked on the blank's upper face, and the finished outline."""
    plan = Sketch()
    _draw(plan, layout)
    sketch.add(*as_built(layout, plan.marks))


def _draw(sketch: Sketch, layout: Layout) -> None:
    half, x0, x1 = layout.blank_half_width, *blank_reach(layout)
    board = layout.fretboard
    _stock(sketch, layout)
    for step in layout.steps:
        sketch.add(step_contour(layers.of_step(step.name), step, filled=step.ceiling is None))
    sketch.add(rectangle(layers.BLANK, (x0, x1), (-half, half)))
    draw_seams(sketch, layout, x0, x1)
    _pieces(sketch, layout)
    sketch.add(neck_plan(layers.NECK, layout))
    sketch.area(layers.FRETBOARD, board.outline, False)
    strip = layout.nut_strip
    if strip is not None:
        sketch.area(layers.FRETBOARD, (*strip.start, *strip.end[::-1]), False)
    for fret in layout.sawn:
        sketch.line(layers.FRETS, *fret_line(layout, fret))
    for mark in layout.side_marks:
        edge = board.bass(mark.x)
        sketch.line(layers.SIDE_MARKS, (mark.x, edge), (mark.x, edge + MARK))
    sketch.area(layers.NUT, layout.nut.corners, False)
    end = layout.head.x_top
    sketch.line(layers.STATIONS, (end, -half), (end, half))
    if (clamp := layout.clamp) is not None:
        wide = clamp.half_width
        sketch.add(rectangle(layers.CLAMP, (clamp.x_start, clamp.x_end), (-wide, wide)))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    sketch.line(layers.STATIONS, (layout.heel.x_joint, -half), (layout.heel.x_joint, half))
    _rod(sketch, layout)
    sketch.line(layers.CENTRE, (x0 - 4.0, 0.0), (x1 + 4.0, 0.0))
    _holes(sketch, layout)
    draw_slots_plan(sketch, layout)
    _body(sketch, layout)


def plan_half(layout: Layout) -> float:
    """Half the width of the plan, mm: the largest of blank, board and finished neck, wings included."""
    width = layout.board[1] if layout.board is not None else 0.0
    wings = [max(abs(piece.y_from), abs(piece.y_to)) for piece in wing_boxes(layout)]
    return max(layout.blank_half_width, width / 2, layout.outside.widest, *wings, 0.0)


@dataclass(frozen=True)
class WingBox:
    """A wing's stock in plan, mm."""

    name: str
    x_from: float
    x_to: float
    y_from: float
    y_to: float


def wing_boxes(layout: Layout) -> tuple[WingBox, ...]:
    """The stock of each wing, from the head's far end along the blank's edge or the wing inside it."""
    squeeze, x0 = math.cos(math.radians(layout.head.angle)), layout.head.x_far
    found = []
    for piece in layout.pieces:
        if piece.name.startswith("wing-") and piece.seam is not None:
            far = piece.seam + math.copysign(piece.stock[1], piece.seam)
            found.append(WingBox(piece.name, x0, x0 + piece.stock[0] * squeeze, *sorted((piece.seam, far))))
    return tuple(found)


def _pieces(sketch: Sketch, layout: Layout) -> None:
    """Draws wings and their seams, and the lines on which a scarf's seam comes out above and below."""
    for wing in wing_boxes(layout):
        sketch.add(rectangle(layers.PIECES, (wing.x_from, wing.x_to), (wing.y_from, wing.y_to)))
        inner = min(wing.y_from, wing.y_to, key=abs)
        sketch.line(layers.SEAMS, (wing.x_from, inner), (wing.x_to, inner))
    half, scarf = layout.blank_half_width, layout.scarf
    if scarf is not None:
        sketch.line(layers.SEAMS, (scarf.x_top, -half), (scarf.x_top, half))
        sketch.line(layers.PIECES, (scarf.x_keel, -half), (scarf.x_keel, half))


def _body(sketch: Sketch, layout: Layout) -> None:
    """Draws the part of the body over the blank: its outline, drawn cut-outs, and the ends of stated ones."""
    body, (x0, x1), half = layout.body, blank_reach(layout), plan_half(layout)
    box = (x0, -half, x1, half)
    drawn = [] if body.outline is None else [body.outline, *body.holes]
    for outline in drawn:
        for piece in clipped([(float(x), float(y)) for x, y in outline], box):
            sketch.line(layers.BODY, *piece)
    for hole in body.cut_outs:
        for x in (hole.x_from, hole.x_to):
            if hole.source == "stated" and x0 <= x <= x1:
                sketch.line(layers.BODY, (x, -half), (x, half))
    for recess in layout.recesses:
        wide = recess.width / 2
        sketch.add(rectangle(layers.BODY, (recess.x_start, recess.x_end), (recess.y - wide, recess.y + wide)))
    draw_way_plan(sketch, layout, half)


def blank_reach(layout: Layout) -> tuple[float, float]:
    """x of the sawn blank's two ends."""
    xs = [x for x, _ in layout.blank_profile]
    return min(xs), max(xs)


def fret_line(layout: Layout, fret: Fret) -> tuple[tuple[float, float], tuple[float, float]]:
    """A fret's ends at the fretboard's edges, bass side first, mm; slanted where there are two scale lengths."""
    return layout.fretboard.line(fret.x, fret.slope)


def _stock(sketch: Sketch, layout: Layout) -> None:
    if layout.board is None:
        return
    x0, x1 = blank_reach(layout)
    length, width, _ = layout.board
    past_end = (length - (x1 - x0)) / 2
    sketch.add(rectangle(layers.BOARD, (x0 - past_end, x1 + past_end), (-width / 2, width / 2)))


def _rod(sketch: Sketch, layout: Layout) -> None:
    for rod in layout.rods:
        y, strip, washer = rod.y, rod.strip, rod.washer
        if strip is not None:
            half = strip.width / 2
            sketch.add(rectangle(layers.COVER, (strip.x_start, strip.x_end), (y - half, y + half)))
        if washer is not None:
            wide = washer.diameter / 2
            sketch.add(rectangle(layers.ROD, (washer.x_start, washer.x_end), (y - wide, y + wide)))
        for part in rod.segments:
            half = part.width / 2
            sketch.add(rectangle(layers.ROD, (part.x_start, part.x_end), (y - half, y + half)))
        rounds = adjuster_rounds(rod)
        if rod.curve is not None:
            rounds.append((*bar_span(rod), rod.diameter / 2))
        for x0, x1, half in rounds:
            sketch.add(rectangle(layers.ROD, (x0, x1), (y - half, y + half)))
    for bar in layout.bars:
        across = (bar.y - bar.width / 2, bar.y + bar.width / 2)
        sketch.add(rectangle(layers.BARS, (bar.x_start, bar.x_end), across))


def _holes(sketch: Sketch, layout: Layout) -> None:
    for screw in layout.screws:
        sketch.circle(layers.SCREWS, (screw.x, screw.y), screw.hole / 2, CROSS)
    if (peg := layout.peg) is not None:
        (x, y0, _), (_, y1, _), radius = peg.mouth, peg.end, peg.hole / 2
        if peg.side:
            sketch.add(rectangle(layers.SCREWS, (x - radius, x + radius), (y0, y1)))
        else:
            sketch.circle(layers.SCREWS, (x, y0), radius, CROSS)
    for hole in () if layout.clamp is None else layout.clamp.screws:
        sketch.circle(layers.SCREWS, (hole.x, hole.y), hole.diameter / 2, CROSS)
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
