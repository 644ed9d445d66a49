"""The neck seen from its bass side, true to size: x to the right, the strings' side up."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.lengths import with_unit
from neckmodel.sheets import layers
from neckmodel.sheets.display import Point
from neckmodel.sheets.plan import blank_reach
from neckmodel.sheets.rods import adjuster_rounds, bar_outline, floor_words
from neckmodel.sheets.running import Note
from neckmodel.sheets.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step
    from neckmodel.layout.rod import Segment

ALONG = 2.0  # mm between points of a curved line
FLAT = 1e-9


def draw_elevation(sketch: Sketch, layout: Layout, z0: float) -> None:
    """The sawn blank, the finished back in it, the channel's floors, rod, fretboard and holes. z0: y of the glue
    plane."""
    x0, x1 = blank_reach(layout)

    def up(points: list[Point]) -> list[Point]:
        return [(x, z0 + z) for x, z in points]

    for step in layout.steps:
        sketch.area(layers.of_step(step.name), up(_floor(layout, step)))
    _rod(sketch, layout, z0)
    if layout.board is not None:
        length, _, thickness = layout.board
        aside = (length - (x1 - x0)) / 2
        sketch.box(layers.BOARD, (x0 - aside, z0 - thickness, x1 + aside, z0))
    sketch.area(layers.BLANK, up(list(layout.blank_profile)), False)
    heel, head = layout.heel, layout.head
    count = max(int((heel.x_end - head.x_far) / ALONG), 2)
    xs = [head.x_far + (heel.x_end - head.x_far) * k / count for k in range(count + 1)]
    sketch.line(layers.NECK, *up([(x, -layout.outside.keel(x)) for x in xs]))
    board = layout.fretboard
    sketch.box(layers.FRETBOARD, (board.x_start, z0, board.x_end, z0 + board.thickness))
    for fret in layout.frets.frets:
        sketch.line(layers.FRETS, (fret.x, z0 + board.thickness), (fret.x, z0 + board.thickness - 2.0))
    nut = layout.nut
    sketch.box(layers.NUT, (nut.x_start, z0 + nut.z_seat, nut.x_end, z0 + nut.z_seat + nut.height))
    low = min(z for _, z in layout.blank_profile)
    sketch.line(layers.DATUM, (0.0, z0 + low - 2.0), (0.0, z0 + nut.height + 2.0))
    for x in (heel.x_joint, heel.x_end, head.x_line, head.x_far):
        sketch.line(layers.STATIONS, (x, z0 + low - 2.0), (x, z0 + 2.0))
    _holes(sketch, layout, z0)


def side_notes(layout: Layout, z0: float) -> list[Note]:
    """Depths of every step, and the heights that the saw needs, each with the place it is about."""
    unit = layout.design.design.units
    notes = []
    for step in layout.steps:
        x = (step.x_start + step.x_end) / 2
        notes.append(Note(x, z0 - step.depth_at(x), f"{layers.plain(step.name)} {floor_words(step, unit)} deep"))
    head, heel, back = layout.head, layout.heel, layout.back
    x = (head.x_far + head.x_line) / 2
    fall = f"step {with_unit(head.drop, unit)}" if head.angle == 0 else f"falls by {head.angle:g} deg"
    notes.append(Note(x, z0 + head.back(x), f"head {with_unit(head.thickness, unit)} thick, {fall}"))
    x = (heel.x_joint + heel.x_end) / 2
    notes.append(Note(x, z0 - heel.depth, f"heel {with_unit(heel.depth, unit)} deep"))
    for name, x in (("fret 1", back.x_1), ("fret 12", back.x_12)):
        if x < heel.x_swell:
            wood = with_unit(back.depth(x), unit)
            notes.append(Note(x, z0 - back.depth(x), f"wood {wood} deep at {name} once carved"))
    return notes


def _floor(layout: Layout, step: Step) -> list[Point]:
    """The step's side view: from the wood's upper face down to its floor and back."""
    count = 1 if abs(step.depth_start - step.depth_end) < FLAT else 2
    middle = (step.x_start + step.x_end) / 2
    straight = abs(step.depth_at(middle) - (step.depth_start + step.depth_end) / 2) < FLAT
    count = count if straight else max(int((step.x_end - step.x_start) / ALONG), 2)
    xs = [step.x_start + (step.x_end - step.x_start) * k / count for k in range(count + 1)]
    line = layout.head.x_line
    tops = [step.x_end, *([line] if step.x_start < line < step.x_end else []), step.x_start]
    upper: list[Point] = []
    for x in tops:
        upper.append((x, 0.0 if x >= line else layout.head.face(x)))
        if x == line and x != step.x_start and layout.head.drop:
            upper.append((x, layout.head.face(x)))
    return [(x, -step.depth_at(x)) for x in xs] + upper


def _rod(sketch: Sketch, layout: Layout, z0: float) -> None:
    deeper = layout.design.channel.deeper_by
    if layout.rod is not None:
        for part in layout.rod.segments:
            sketch.box(layers.ROD, segment_box(part, z0 - deeper), True)
        for x0, x1, radius in adjuster_rounds(layout.rod):
            axis = z0 - layout.rod.axis_at((x0 + x1) / 2)
            sketch.box(layers.ROD, (x0, axis - radius, x1, axis + radius), True)
        outline = bar_outline(layout.rod)
        if outline:
            sketch.area(layers.ROD, [(x, z0 + z) for x, z in outline])
    for bar in layout.bars:
        sketch.box(layers.ROD, (bar.x_start, z0 - bar.height, bar.x_end, z0), True)


def segment_box(part: Segment, top: float) -> tuple[float, float, float, float]:
    """A stretch of the rod from the side; top: of the rod."""
    return part.x_start, top - part.top - part.height, part.x_end, top - part.top


def _holes(sketch: Sketch, layout: Layout, z0: float) -> None:
    for screw in layout.screws:
        for side in (-screw.hole / 2, screw.hole / 2):
            sketch.line(layers.SCREWS, (screw.x + side, z0 + screw.z_bottom), (screw.x + side, z0 + screw.z_point))
    for tuner in layout.tuners:
        (x, _, z), (ax, _, az) = tuner.on_face, tuner.axis
        down = (x - ax * tuner.head_thickness, z0 + z - az * tuner.head_thickness)
        over = (x + ax * 3.0, z0 + z + az * 3.0)
        sketch.line(layers.CENTRE, over, (down[0] - ax * 3.0, down[1] - az * 3.0))
    turn = math.radians(layout.head.angle)
    if turn:
        sketch.text(
            layers.TEXT,
            (layout.head.x_far + 4.0, z0 + layout.head.face(layout.head.x_far + 4.0) + 6.0),
            f"{layout.head.angle:g} deg",
            2.0,
        )
