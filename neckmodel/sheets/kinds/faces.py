"""Contours for machines: the fretboard with its fret slots, and the head's face with its tuner holes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.geometry.contour import arc_points
from neckmodel.layout.channel.step import plain
from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets.kinds.contours import Contours
from neckmodel.sheets.kinds.machine import heading, origin
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.titles import Titles
from neckmodel.sheets.views.hand import as_built
from neckmodel.sheets.views.outlines import head_plan
from neckmodel.sheets.views.plan import fret_line, wing_boxes
from neckmodel.sheets.views.slots import bore_axes, face_words, ramp_lines, slot_cuts, slot_paths
from neckmodel.work.words import side_mark_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def fretboard(layout: Layout, titles: Titles) -> Contours:
    """The fretboard from above: its outline, and the middle line of each fret slot, along which the saw or cutter
    goes."""
    board, unit = layout.fretboard, titles.unit
    plan, strip = Sketch(), layout.nut_strip
    plan.add(rounded_path(layers.FRETBOARD_CUT, [(corner, 0.0) for corner in board.outline]))
    if strip is not None:
        plan.add(rounded_path(layers.STRIP, [(corner, 0.0) for corner in (*strip.start, *strip.end[::-1])]))
    plan.line(layers.CENTRE, (board.x_start, 0.0), (board.x_end, 0.0))
    for fret in layout.sawn:
        plan.line(layers.SLOTS, *fret_line(layout, fret))
    floor = "its floor follows the crown" if board.slot_floor == "curved" else "its floor is flat"
    radius = (
        "flat crown"
        if math.isinf(board.radius_nut)
        else f"crown radius {with_unit(board.radius_nut, unit)} at the nut, "
        f"{with_unit(board.radius_end, unit)} at the end"
    )
    slots = [
        f"each fret slot: {with_unit(board.slot_width, unit)} wide, {with_unit(board.slot_depth, unit)} deep, {floor}"
    ]
    says = [
        heading(titles, "fretboard and fret slots" if layout.sawn else "fretboard"),
        origin(layout),
        *(slots if layout.sawn else []),
        *filter(None, [side_mark_words(layout)]),
        f"{with_unit(board.thickness, unit)} thick at the centre line, {radius}",
    ]
    if strip is not None:
        says.append("the strip beyond the nut's groove is fretboard wood too: its crown is as at the nut")
    cuts: list[dict[str, object]] = [
        {"layer": layers.FRETBOARD_CUT.name, "through": True, "thickness": board.thickness}
    ]
    if strip is not None:
        cuts.append({"layer": layers.STRIP.name, "through": True, "thickness": strip.thickness})
    if layout.sawn:
        cuts.append(
            {
                "layer": layers.SLOTS.name,
                "count": len(layout.sawn),
                "width": board.slot_width,
                "depth": board.slot_depth,
                "floor": board.slot_floor,
                "through": False,
            }
        )
    marks = tuple(as_built(layout, plan.marks))
    return Contours(f"{titles.name} fretboard", marks, tuple(says), tuple(cuts))


def head(layout: Layout, titles: Titles) -> Contours:
    """The head's face, true to size on the face itself: x from the head line, toward the far end negative."""
    place, unit = layout.head, titles.unit
    slant = math.cos(math.radians(place.angle))

    def along(x: float) -> float:
        return (x - place.x_line) / slant

    flat = Sketch()
    flat.add(_on_face(layout, head_plan(layers.HEAD, layout)))
    for wing in wing_boxes(layout):
        inner = min(wing.y_from, wing.y_to, key=abs)
        flat.line(layers.SEAMS, (along(wing.x_from), inner), (along(wing.x_to), inner))
    flat.line(layers.CENTRE, (along(place.x_far), 0.0), (0.0, 0.0))
    says = [
        heading(titles, "head, on its face"),
        f"x = 0 is the head line, y = 0 the centre line, the {layout.side_up} side up; true size on the face.",
        f"{with_unit(place.thickness, unit)} thick, square to the face; the head line lies at x "
        f"{with_unit(place.x_line, unit)} from the nut",
    ]
    cuts: list[dict[str, object]] = [{"layer": layers.HEAD.name, "through": True, "thickness": place.thickness}]
    for tuner in layout.tuners:
        x, y = along(tuner.on_face[0]), layout.across(tuner.on_face[1])
        flat.circle(layers.TUNERS, (x, tuner.on_face[1]), tuner.hole / 2)
        at = f"x {with_unit(x, unit)}, y {with_unit(y, unit)}"
        hole = f"hole {tool_size(tuner.hole, unit)} across, through, square to the face"
        says.append(f"{plain(tuner.name)}: {at}, {hole}")
        own = {"tuner": tuner.name, "x": x, "y": y, "diameter": tuner.hole}
        cuts.append({"layer": layers.TUNERS.name, **own, "through": True, "thickness": tuner.head_thickness})
    flat.add(*slot_paths(layout))
    for start, end in () if layout.slots is None else ramp_lines(layout.slots):
        flat.line(layers.RAMPS, start, end)
    for start, end in bore_axes(layout):
        flat.line(layers.SIDE_BORES, start, end)
    says += face_words(layout, unit)
    cuts += slot_cuts(layout)
    return Contours(f"{titles.name} head", tuple(as_built(layout, flat.marks)), tuple(says), tuple(cuts))


def _on_face(layout: Layout, plan: Path) -> Path:
    """An outline in plan, true to size on the head's face. Arcs seen at a slant become chords."""
    place = layout.head
    slant = math.cos(math.radians(place.angle))
    points, bulges = [], []
    for start, end, bulge in plan.stretches():
        points.append(start)
        bulges.append(bulge if place.angle == 0 else 0.0)
        if bulge and place.angle > 0:
            inner = arc_points((*start, bulge), (*end, 0.0))[:-1]
            points += [(float(x), float(y)) for x, y in inner]
            bulges += [0.0] * len(inner)
    return Path(plan.layer, tuple(((x - place.x_line) / slant, y) for x, y in points), tuple(bulges), True)
