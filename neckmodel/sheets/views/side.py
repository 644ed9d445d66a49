"""The neck from the side that is the lower one in plan, true to size: x to the right, the strings' side up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.layout.rod.way import THREAD
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.dimensions import Note
from neckmodel.sheets.marks.lettering import BELOW, size_of, width
from neckmodel.sheets.marks.occupied import Crowd, round_about
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.body import draw_way_side, way_notes
from neckmodel.sheets.views.plan import blank_reach
from neckmodel.sheets.views.rod import adjuster_rounds, bar_outline, two_bars
from neckmodel.sheets.views.slots import draw_slots_side
from neckmodel.work.words import floor_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.rod import RodPlace, Segment
    from neckmodel.layout.wood.pieces import Piece

ALONG = 2.0  # mm between points of a curved line
FLAT = 1e-9  # mm; depths that differ by less are the same
STRETCHES = 40  # along the cover strip's underside
ANGLE = 2.0  # mm, capitals of the head's angle


def draw_elevation(sketch: Sketch, layout: Layout, z0: float) -> None:
    """Draws the sawn blank, the finished back in it, the channel's floors, rod, fretboard and holes. z0: y of the glue
    plane."""
    x0, x1 = blank_reach(layout)

    def up(points: list[Point]) -> list[Point]:
        return [(x, z0 + z) for x, z in points]

    for step in seen_from_side(layout):
        sketch.area(layers.of_step(step.name), up(_floor(layout, step)))
    for points in strip_sides(layout):
        sketch.area(layers.BACK_STRIP, up(points))
    _rod(sketch, layout, z0)
    if layout.board is not None:
        length, _, thickness = layout.board
        past_end = (length - (x1 - x0)) / 2
        top = z0 + max(z for _, z in layout.blank_profile)
        sketch.box(layers.BOARD, (x0 - past_end, top - thickness, x1 + past_end, top))
    sketch.area(layers.BLANK, up(list(layout.blank_profile)), False)
    heel, head = layout.heel, layout.head
    sketch.line(layers.NECK, *up(_keel(layout)))
    _seams(sketch, layout, z0)
    if (cap := layout.heel_cap) is not None:
        sketch.box(layers.NECK, (cap.x_start, z0 + cap.z_bottom, cap.x_end, z0 + cap.z_top))
    board, near = layout.fretboard, 1 if layout.left_handed else 0
    sketch.box(layers.FRETBOARD, (board.start[near][0], z0, board.end[near][0], z0 + board.thickness))
    strip = layout.nut_strip
    if strip is not None:
        sketch.box(layers.FRETBOARD, (strip.start[near][0], z0, strip.end[near][0], z0 + strip.thickness))
    for fret in layout.sawn:
        x = board.line(fret.x, fret.slope)[near][0]
        sketch.line(layers.FRETS, (x, z0 + board.thickness), (x, z0 + board.thickness - 2.0))
    nut = layout.nut
    xs = [x for x, _ in (nut.corners[2:] if near else nut.corners[:2])]
    sketch.box(layers.NUT, (min(xs), z0 + nut.z_seat, max(xs), z0 + nut.z_seat + nut.height))
    low = min(z for _, z in layout.blank_profile)
    sketch.line(layers.DATUM, (0.0, z0 + low - 2.0), (0.0, z0 + nut.height + 2.0))
    if (clamp := layout.clamp) is not None:
        sketch.box(layers.CLAMP, (clamp.x_start, z0, clamp.x_end, z0 + clamp.height))
    for x in (heel.x_joint, heel.x_end, *(() if head.is_none else (head.x_line,)), head.x_far):
        sketch.line(layers.STATIONS, (x, z0 + low - 2.0), (x, z0 + 2.0))
    _holes(sketch, layout, z0)
    draw_slots_side(sketch, layout, z0)
    draw_way_side(sketch, layout, z0)
    _angle(sketch, layout, z0)


def seen_from_side(layout: Layout) -> tuple[Step, ...]:
    """The steps that show from the side: of two rods' steps alike only the first, which hides the other."""
    return tuple(step for step in layout.steps if step.rod < 2 or not _alike(step, _twin(layout, step)))


def _twin(layout: Layout, step: Step) -> Step | None:
    """The same step of the other rod."""
    return next((other for other in layout.of_kind(step.kind) if other.rod and other.rod != step.rod), None)


def _alike(one: Step, two: Step | None) -> bool:
    """Whether two steps look the same from the side."""
    return two is not None and (one.x_start, one.x_end, one.floor) == (two.x_start, two.x_end, two.floor)


def side_notes(layout: Layout, z0: float) -> list[Note]:
    """Depths of every step, and the heights that the saw needs, each with its place."""
    unit = layout.design.design.units
    notes = []
    seen = seen_from_side(layout)
    for step in seen:
        x = (step.x_start + step.x_end) / 2
        name = f"each {plain(step.kind)}" if step.rod and _twin(layout, step) not in seen else plain(step.name)
        if step.bored:
            notes.append(Note(x, z0 - step.depth_at(x), f"{name} {with_unit(step.width, unit)} across"))
            continue
        deep = f"{name} {floor_words(step.from_face, unit)} deep"
        if step.behind:
            notes.append(Note(x, z0 - step.face, f"{deep} from the back, level at {with_unit(step.face, unit)}"))
        else:
            notes.append(Note(x, z0 - step.depth_at(x), deep))
    if layout.rod is not None and layout.rod.bar is not None and (bars := two_bars(layout.rod)) is not None:
        x = bars.x_from + (bars.x_to - bars.x_from) / 3  # beside the note on the run's depth
        way = layout.rod.bar
        notes.append(Note(x, z0 + bars.low, f"rod: flat bar {way}, thread {THREAD[way]} it"))
    notes += _piece_notes(layout, z0)
    notes += way_notes(layout, z0)
    head, heel, back = layout.head, layout.heel, layout.back
    x = (head.x_far + head.x_line) / 2
    if head.is_none:
        notes.append(Note(head.x_far, z0 - head.thickness, f"nut end {with_unit(head.thickness, unit)} thick"))
    fall = f"step {with_unit(head.drop, unit)}" if head.angle == 0 else f"falls by {head.angle:g} deg"
    if not head.is_none:
        notes.append(Note(x, z0 + head.back(x), f"head {with_unit(head.thickness, unit)} thick, {fall}"))
    x = (heel.x_joint + heel.x_end) / 2
    if heel.tenon is None:
        notes.append(Note(x, z0 - heel.depth, f"heel {with_unit(heel.depth, unit)} deep"))
    else:
        deep, wide = with_unit(heel.tenon.depth, unit), with_unit(2 * heel.tenon.half_width, unit)
        at_end = "" if heel.tenon.name == "tenon" else " at its end"
        notes.append(Note(x, z0 - heel.tenon.depth, f"{heel.tenon.name} {deep} deep, {wide} wide{at_end}"))
        notes.append(Note(heel.x_joint, z0 - heel.depth, f"heel {with_unit(heel.depth, unit)} deep"))
    if (cap := layout.heel_cap) is not None:
        says = f"heel cap {with_unit(cap.cap.thickness, unit)} thick, glued on last"
        notes.append(Note((cap.x_start + cap.x_end) / 2, z0 + cap.z_bottom, says))
    if head.volute is not None:
        x = head.volute.x_middle
        at = Note(x, z0 - layout.outside.keel(x), f"volute {with_unit(head.volute.height, unit)} over the carve")
        notes.append(at)
    for name, x in (("fret 1", back.x_1), ("fret 12", back.x_12)):
        if x < heel.x_swell:
            wood = with_unit(back.depth(x), unit)
            notes.append(Note(x, z0 - back.depth(x), f"wood {wood} deep at {name} once carved"))
    return notes


def _keel(layout: Layout) -> list[Point]:
    """The finished wood's lower line, upright at a tenon's shoulder."""
    heel, x_far = layout.heel, layout.head.x_far
    count = max(int((heel.x_joint - x_far) / ALONG), 2)
    xs = [*(x_far + (heel.x_joint - x_far) * k / count for k in range(count)), heel.x_joint]
    depths = [(x, -layout.outside.keel(x)) for x in xs]
    end = heel.depth if heel.tenon is None else heel.tenon.depth
    return [*depths, (heel.x_joint, -end), (heel.x_end, -end)]


def _seams(sketch: Sketch, layout: Layout, z0: float) -> None:
    """The scarf's seam, and those between the blocks under the heel."""
    scarf = layout.scarf
    if scarf is not None:
        ends = (scarf.seam_top, scarf.seam_end)
        sketch.line(layers.SEAMS, *((x, z0 + z) for x, z in ends))
    for piece in blocks(layout):
        xs = _level(layout, piece)
        sketch.line(layers.SEAMS, *((x, z0 + piece.seam) for x in xs if piece.seam is not None))


def blocks(layout: Layout) -> tuple[Piece, ...]:
    """The blocks glued under the heel."""
    return tuple(piece for piece in layout.pieces if piece.name.startswith("heel-block"))


def _level(layout: Layout, piece: Piece) -> Point:
    """x from which to which a block's glued face reaches on the sawn blank; its stock ends with the blank."""
    top = 0.0 if piece.seam is None else piece.seam
    x1 = max(x for x, z in layout.blank_profile if x > layout.heel.x_swell and z <= top + FLAT)
    return x1 - piece.stock[0], x1


def _piece_notes(layout: Layout, z0: float) -> list[Note]:
    unit, scarf = layout.design.design.units, layout.scarf
    notes = []
    for piece in layout.pieces:
        size = " x ".join(with_unit(length, unit) for length in piece.stock)
        name = plain(piece.name)
        if piece.name == "head-piece" and scarf is not None:
            x = (scarf.x_top + scarf.x_keel) / 2
            notes.append(Note(x, z0 + scarf.seam(x), f"scarf's seam, {scarf.way.replace('-', ' ')}: {name} {size}"))
        elif piece.name.startswith("heel-block") and piece.seam is not None:
            x = sum(_level(layout, piece)) / 2
            notes.append(Note(x, z0 + piece.seam, f"seam of {name}, {with_unit(-piece.seam, unit)} deep"))
        elif piece.seam is not None:
            x = (layout.head.x_far + layout.head.x_line) / 2
            y = with_unit(layout.across(piece.seam), unit)
            notes.append(Note(x, z0 + layout.head.face(x), f"{name} glued at y {y}: {size}"))
    return notes


def _floor(layout: Layout, step: Step) -> list[Point]:
    """The step in side view: from the wood's upper face down to its floor and back; of one cut from the back down to
    that, and of a bore its outline."""
    if step.ceiling is not None:
        xs = along(step)
        low = [(x, -step.face if step.behind else -step.depth_at(x)) for x in xs]
        return low + [(x, -step.top_at(x)) for x in xs[::-1]]
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


def along(step: Step) -> list[float]:
    """x of the points at which a step cut from the back is drawn."""
    count = 1 if step.depth_middle is None else max(int((step.x_end - step.x_start) / ALONG), 2)
    return [step.x_start + (step.x_end - step.x_start) * k / count for k in range(count + 1)]


def strip_sides(layout: Layout) -> list[list[Point]]:
    """The strip behind the rod in side view, from the rod's underside to the carved back, a stretch for each step."""
    found = []
    for step in layout.steps:
        if step.behind:
            count = max(int((step.x_end - step.x_start) / ALONG), 2)
            xs = [step.x_start + (step.x_end - step.x_start) * k / count for k in range(count + 1)]
            under = [(x, -layout.outside.keel(x)) for x in xs[::-1]]
            found.append([(x, -step.depth_at(x)) for x in xs] + under)
    return found


def _rod(sketch: Sketch, layout: Layout, z0: float) -> None:
    if layout.rod is not None:
        _cover(sketch, layout.rod, z0)
        for part in layout.rod.segments:
            sketch.box(layers.ROD, segment_box(part, z0 - layout.rod.below), True)
        for x0, x1, radius in adjuster_rounds(layout.rod):
            axis = z0 - layout.rod.axis_at((x0 + x1) / 2)
            sketch.box(layers.ROD, (x0, axis - radius, x1, axis + radius), True)
        if (bars := two_bars(layout.rod)) is not None:
            sketch.box(layers.FLAT_BAR, (bars.x_from, z0 + bars.low, bars.x_to, z0 + bars.high), True)
            low, high = z0 + bars.axis - bars.radius, z0 + bars.axis + bars.radius
            sketch.box(layers.THREAD, (bars.x_from, low, bars.x_to, high))
        outline = bar_outline(layout.rod)
        if outline:
            sketch.area(layers.ROD, [(x, z0 + z) for x, z in outline])
    for bar in layout.bars:
        top = z0 + bar.proud
        sketch.box(layers.BARS, (bar.x_start, top - bar.height, bar.x_end, top), True)


def _cover(sketch: Sketch, rod: RodPlace, z0: float) -> None:
    """The washer, and the strip over the rod."""
    strip, washer = rod.strip, rod.washer
    if strip is not None:
        xs = [strip.x_start + (strip.x_end - strip.x_start) * k / STRETCHES for k in range(STRETCHES + 1)]
        under = [(x, z0 - strip.underside.at(x)) for x in reversed(xs)]
        sketch.area(layers.COVER, [(strip.x_start, z0), (strip.x_end, z0), *under])
    if washer is not None:
        half = washer.diameter / 2
        sketch.box(layers.ROD, (washer.x_start, z0 - washer.axis - half, washer.x_end, z0 - washer.axis + half), True)


def segment_box(part: Segment, top: float) -> tuple[float, float, float, float]:
    """The box of a stretch of the rod from the side, mm; top: y of the rod's top."""
    return part.x_start, top - part.top - part.height, part.x_end, top - part.top


def _holes(sketch: Sketch, layout: Layout, z0: float) -> None:
    for screw in layout.screws:
        for side in (-screw.hole / 2, screw.hole / 2):
            sketch.line(layers.SCREWS, (screw.x + side, z0 + screw.z_bottom), (screw.x + side, z0 + screw.z_point))
    for hole in () if layout.clamp is None else layout.clamp.screws:
        for side in (-hole.diameter / 2, hole.diameter / 2):
            sketch.line(layers.SCREWS, (hole.x + side, z0), (hole.x + side, z0 - hole.depth))
    for tuner in layout.tuners:
        (x, _, z), (ax, _, az) = tuner.on_face, tuner.axis
        down = (x - ax * tuner.head_thickness, z0 + z - az * tuner.head_thickness)
        over = (x + ax * 3.0, z0 + z + az * 3.0)
        sketch.line(layers.CENTRE, over, (down[0] - ax * 3.0, down[1] - az * 3.0))


def _angle(sketch: Sketch, layout: Layout, z0: float) -> None:
    """Writes the head's angle beside its far end, clear of what is drawn."""
    if layout.head.angle == 0:
        return
    says = f"{layout.head.angle:g} deg"
    x, below = layout.head.x_far + 8.0, BELOW * size_of(ANGLE)
    size, crowd = (width(says, ANGLE) + 1.0, ANGLE + below + 1.0), Crowd(sketch.marks)
    places = list(round_about((x, z0 + layout.head.face(x)), size, (1.0, 40.0)))
    box = next((place for place in places if crowd.free(place)), places[0])
    sketch.text(layers.TEXT, (box[0] + 0.5, box[1] + below + 0.5), says, ANGLE)
