"""Drawings for machines: closed contours of the pockets, of a router's templates, the fretboard and the head's face."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.router import router_settings
from neckmodel.lengths import with_unit
from neckmodel.sheets import cautions, layers
from neckmodel.sheets.contours import rectangle, rounded_path, step_contour, template_opening
from neckmodel.sheets.display import Drawing
from neckmodel.sheets.plan import blank_reach, fret_line
from neckmodel.sheets.rods import floor_words
from neckmodel.sheets.sketch import Sketch
from neckmodel.sheets.titles import Titles

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

LETTERS = 2.5
PITCH = 4.5
EDGE = 6.0
FLAT = 1e-9


def draw_pockets(layout: Layout, titles: Titles) -> Drawing:
    """The blank from above: one closed contour for each step, its depth in words on the layer `notes`."""
    sketch, (x0, x1), half = Sketch(), blank_reach(layout), layout.blank_half_width
    sketch.add(rectangle(layers.BLANK, (x0, x1), (-half, half)))
    sketch.line(layers.CENTRE, (x0, 0.0), (x1, 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    for step in layout.steps:
        sketch.add(step_contour(layers.of_step(step.name), step))
    unit = titles.unit
    lines = [_heading(titles, "pockets in the blank's upper face"), ORIGIN, TOP, *_depths(layout, unit)]
    return _with_notes(sketch, f"{titles.name} pockets", lines, (x0, -half))


def draw_templates(layout: Layout, titles: Titles) -> Drawing:
    """The openings of a template for a guide bush; no opening where no bush or no cutter is stated."""
    sketch, half = Sketch(), layout.blank_half_width
    bush = layout.design.workshop.guide_bush
    sketch.line(layers.CENTRE, (blank_reach(layout)[0], 0.0), (blank_reach(layout)[1], 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    lines = [_heading(titles, "openings of router templates"), ORIGIN]
    if bush is None:
        lines.append("No guide bush is stated under [workshop]: there are no templates.")
    for setting in router_settings(layout):
        if bush is None:
            break
        name = setting.step.name
        sketch.add(template_opening(layers.of_template(name), setting.step, setting.cutter, bush))
        deep = _deep(setting.step, titles.unit)
        cutter, outside = with_unit(setting.cutter, titles.unit), with_unit(bush, titles.unit)
        leaves = "; run its head-side end out of the template" if setting.stop_start is None else ""
        lines.append(f"template {layers.plain(name)}: cutter {cutter}, bush {outside} outside, cut {deep}{leaves}")
    lines.append("Openings may overlap: one template for each.")
    return _with_notes(sketch, f"{titles.name} templates", lines, (blank_reach(layout)[0], -half))


def draw_fretboard(layout: Layout, titles: Titles) -> Drawing:
    """The fretboard from above: its outline, and each fret slot as the middle line of a saw's or cutter's way."""
    sketch, board, unit = Sketch(), layout.fretboard, titles.unit
    near, far = board.half_width(board.x_start), board.half_width(board.x_end)
    corners = ((board.x_start, -near), (board.x_end, -far), (board.x_end, far), (board.x_start, near))
    sketch.add(rounded_path(layers.FRETBOARD, [(corner, 0.0) for corner in corners]))
    sketch.line(layers.CENTRE, (board.x_start, 0.0), (board.x_end, 0.0))
    for fret in layout.frets.frets:
        sketch.line(layers.SLOTS, *fret_line(layout, fret))
    floor = "its floor follows the crown" if board.slot_floor == "curved" else "its floor is flat"
    radius = (
        "flat crown"
        if math.isinf(board.radius_nut)
        else f"crown radius {with_unit(board.radius_nut, unit)} at the nut, "
        f"{with_unit(board.radius_end, unit)} at the end"
    )
    lines = [
        _heading(titles, "fretboard and fret slots"),
        ORIGIN,
        f"each fret slot: {with_unit(board.slot_width, unit)} wide, {with_unit(board.slot_depth, unit)} deep, {floor}",
        f"{with_unit(board.thickness, unit)} thick at the centre line, {radius}",
    ]
    return _with_notes(sketch, f"{titles.name} fretboard", lines, (board.x_start, -far))


def draw_head(layout: Layout, titles: Titles) -> Drawing:
    """The head's face, true to size on the face itself: x from the head line, toward the far end negative."""
    from neckmodel.layout.shape import HEAD_CORNER

    sketch, head, unit = Sketch(), layout.head, titles.unit
    slant = math.cos(math.radians(head.angle))

    def along(x: float) -> float:
        return (x - head.x_line) / slant

    outside = layout.outside
    count = 24
    xs = [head.x_line + (outside.x_cove - head.x_line) * k / count for k in range(count, -1, -1)]
    far = (head.x_far, head.side(head.x_far))
    side = [((along(far[0]), far[1]), min(HEAD_CORNER, far[1]))]
    side += [((along(x), outside.half_width(x)), 0.0) for x in xs]
    other = [((x, -y), radius) for (x, y), radius in reversed(side)]
    sketch.add(rounded_path(layers.HEAD, side + other))
    sketch.line(layers.CENTRE, (along(head.x_far), 0.0), (0.0, 0.0))
    lines = [
        _heading(titles, "head, on its face"),
        "x = 0 is the head line, y = 0 the centre line, the treble side up; true size on the face.",
        f"{with_unit(head.thickness, unit)} thick, square to the face; the head line lies at x "
        f"{with_unit(head.x_line, unit)} from the nut",
    ]
    for tuner in layout.tuners:
        x = along(tuner.on_face[0])
        sketch.circle(layers.TUNERS, (x, tuner.on_face[1]), tuner.hole / 2)
        hole = f"hole {with_unit(tuner.hole, unit)} in diameter, through, square to the face"
        lines.append(
            f"{layers.plain(tuner.name)}: x {with_unit(x, unit)}, y {with_unit(tuner.on_face[1], unit)}, {hole}"
        )
    return _with_notes(sketch, f"{titles.name} head", lines, (along(head.x_far), -max(far[1], head.near / 2)))


ORIGIN = "x = 0 is the nut's fretboard-side face, y = 0 the centre line, the treble side up; true size."
TOP = "Depths count from the glue plane (z = 0), which is the upper face from the head line on toward the body."


def _heading(titles: Titles, what: str) -> str:
    return f"{titles.name}: {what}; {titles.mark}. {titles.verdict.says}"


def _depths(layout: Layout, unit: str) -> list[str]:
    lines = []
    for step in layout.steps:
        wide = with_unit(step.width, unit)
        reach = f"x {with_unit(step.x_start, unit)} to {with_unit(step.x_end, unit)}"
        lines.append(f"{layers.plain(step.name)}: {_deep(step, unit)}; {wide} wide, {reach}")
    return lines


def _deep(step: Step, unit: str) -> str:
    return f"{floor_words(step, unit)} deep"


def _with_notes(sketch: Sketch, title: str, lines: list[str], corner: tuple[float, float]) -> Drawing:
    lines = [*lines, cautions.FIRST, "Trial cut in scrap, and measure it."]
    sketch.lines(layers.NOTES, (corner[0], corner[1] - PITCH - 4.0), lines, LETTERS, PITCH)
    low_x, low_y, high_x, high_y = sketch.bounds()
    return sketch.drawing(title, (low_x - EDGE, low_y - EDGE, high_x + EDGE, high_y + EDGE))
