"""Drawings for machines: closed contours of the pockets, of a router's templates, the fretboard and the head's face."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.contour import arc_points
from neckmodel.layout.router import router_settings
from neckmodel.lengths import with_unit
from neckmodel.sheets import cautions, layers
from neckmodel.sheets.contours import head_plan, rectangle, rounded_path, step_contour, template_opening
from neckmodel.sheets.display import Drawing, Path
from neckmodel.sheets.handed import as_built, datum_words, side_up
from neckmodel.sheets.plan import blank_reach, fret_line, wing_boxes
from neckmodel.sheets.rods import floor_words
from neckmodel.sheets.sketch import Sketch
from neckmodel.sheets.titles import Titles

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

LETTERS = 2.5
PITCH = 4.5
EDGE = 6.0


def draw_pockets(layout: Layout, titles: Titles) -> Drawing:
    """The blank from above: one closed contour for each step, its depth in words on the layer `notes`."""
    sketch, (x0, x1), half = Sketch(), blank_reach(layout), layout.blank_half_width
    sketch.add(rectangle(layers.BLANK, (x0, x1), (-half, half)))
    sketch.line(layers.CENTRE, (x0, 0.0), (x1, 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    cuts = [step_contour(layers.of_step(step.name), step) for step in layout.steps]
    sketch.add(*as_built(layout, cuts))
    unit = titles.unit
    lines = [_heading(titles, "pockets in the blank's upper face"), origin(layout), TOP, *_depths(layout, unit)]
    return _with_notes(sketch, f"{titles.name} pockets", lines, (x0, -half))


def draw_templates(layout: Layout, titles: Titles) -> Drawing:
    """The openings of a template for a guide bush; no opening where no bush or no cutter is stated."""
    sketch, half = Sketch(), layout.blank_half_width
    bush = layout.design.workshop.guide_bush
    sketch.line(layers.CENTRE, (blank_reach(layout)[0], 0.0), (blank_reach(layout)[1], 0.0))
    sketch.line(layers.DATUM, (0.0, -half), (0.0, half))
    lines = [_heading(titles, "openings of router templates"), origin(layout)]
    if bush is None:
        lines.append("No guide bush is stated under [workshop]: there are no templates.")
    for setting in router_settings(layout):
        if bush is None:
            break
        name = setting.step.name
        opening = template_opening(layers.of_template(name), setting.step, setting.cutter, bush)
        sketch.add(*as_built(layout, [opening]))
        deep = _deep(setting.step, titles.unit)
        cutter, outside = with_unit(setting.cutter, titles.unit), with_unit(bush, titles.unit)
        ends = [side for side, stop in (("head", setting.stop_start), ("body", setting.stop_end)) if stop is None]
        leaves = f"; run its {'- and '.join(ends)}-side end out of the template" if ends else ""
        if setting.sled is not None:
            leaves += "; its floor is not level: see the sled of the routing-template jig"
        lines.append(f"template {layers.plain(name)}: cutter {cutter}, bush {outside} outside, cut {deep}{leaves}")
    lines.append("Openings may overlap: one template for each.")
    return _with_notes(sketch, f"{titles.name} templates", lines, (blank_reach(layout)[0], -half))


def draw_fretboard(layout: Layout, titles: Titles) -> Drawing:
    """The fretboard from above: its outline, and each fret slot as the middle line of a saw's or cutter's way."""
    sketch, board, unit = Sketch(), layout.fretboard, titles.unit
    plan, strip = Sketch(), layout.nut_strip
    plan.add(rounded_path(layers.FRETBOARD, [(corner, 0.0) for corner in (*board.start, *board.end[::-1])]))
    if strip is not None:
        plan.add(rounded_path(layers.STRIP, [(corner, 0.0) for corner in (*strip.start, *strip.end[::-1])]))
    plan.line(layers.CENTRE, (board.x_start, 0.0), (board.x_end, 0.0))
    for fret in layout.fretted:
        plan.line(layers.SLOTS, *fret_line(layout, fret))
    sketch.add(*as_built(layout, plan.marks))
    floor = "its floor follows the crown" if board.slot_floor == "curved" else "its floor is flat"
    radius = (
        "flat crown"
        if math.isinf(board.radius_nut)
        else f"crown radius {with_unit(board.radius_nut, unit)} at the nut, "
        f"{with_unit(board.radius_end, unit)} at the end"
    )
    lines = [
        _heading(titles, "fretboard and fret slots"),
        origin(layout),
        f"each fret slot: {with_unit(board.slot_width, unit)} wide, {with_unit(board.slot_depth, unit)} deep, {floor}",
        f"{with_unit(board.thickness, unit)} thick at the centre line, {radius}",
    ]
    if strip is not None:
        lines.append("the strip beyond the nut's groove is fretboard wood too: its crown is as at the nut")
    corner = (sketch.bounds()[0], sketch.bounds()[1])
    return _with_notes(sketch, f"{titles.name} fretboard", lines, corner)


def draw_head(layout: Layout, titles: Titles) -> Drawing:
    """The head's face, true to size on the face itself: x from the head line, toward the far end negative."""
    sketch, head, unit = Sketch(), layout.head, titles.unit
    slant = math.cos(math.radians(head.angle))

    def along(x: float) -> float:
        return (x - head.x_line) / slant

    flat = Sketch()
    flat.add(_on_face(layout, head_plan(layers.HEAD, layout)))
    for wing in wing_boxes(layout):
        inner = min(wing.y_from, wing.y_to, key=abs)
        flat.line(layers.SEAMS, (along(wing.x_from), inner), (along(wing.x_to), inner))
    flat.line(layers.CENTRE, (along(head.x_far), 0.0), (0.0, 0.0))
    for tuner in layout.tuners:
        flat.circle(layers.TUNERS, (along(tuner.on_face[0]), tuner.on_face[1]), tuner.hole / 2)
    sketch.add(*as_built(layout, flat.marks))
    lines = [
        _heading(titles, "head, on its face"),
        f"x = 0 is the head line, y = 0 the centre line, the {side_up(layout)} side up; true size on the face.",
        f"{with_unit(head.thickness, unit)} thick, square to the face; the head line lies at x "
        f"{with_unit(head.x_line, unit)} from the nut",
    ]
    for tuner in layout.tuners:
        x = along(tuner.on_face[0])
        at = f"x {with_unit(x, unit)}, y {with_unit(layout.across(tuner.on_face[1]), unit)}"
        hole = f"hole {with_unit(tuner.hole, unit)} in diameter, through, square to the face"
        lines.append(f"{layers.plain(tuner.name)}: {at}, {hole}")
    corner = (sketch.bounds()[0], sketch.bounds()[1])
    return _with_notes(sketch, f"{titles.name} head", lines, corner)


def _on_face(layout: Layout, plan: Path) -> Path:
    """An outline in plan, true to size on the head's face; arcs seen aslant become chords."""
    head = layout.head
    slant = math.cos(math.radians(head.angle))
    points, bulges = [], []
    for start, end, bulge in plan.stretches():
        points.append(start)
        bulges.append(bulge if head.angle == 0 else 0.0)
        if bulge and head.angle > 0:
            inner = arc_points((*start, bulge), (*end, 0.0))[:-1]
            points += [(float(x), float(y)) for x, y in inner]
            bulges += [0.0] * len(inner)
    return Path(plan.layer, tuple(((x - head.x_line) / slant, y) for x, y in points), tuple(bulges), True)


TOP = "Depths count from the glue plane (z = 0), which is the upper face from the head line on toward the body."


def origin(layout: Layout) -> str:
    """Where x and y count from."""
    return f"x = 0 is {datum_words(layout)}, y = 0 the centre line, the {side_up(layout)} side up; true size."


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
