"""The layout's tables of frets, strings and string height."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.cli.table import named_table
from neckmodel.layout.frets import fret_at
from neckmodel.lengths import length, mm
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def show_frets(layout: Layout, unit: str) -> None:
    """Where each fret lies; of slanted frets also where they meet the outer strings and leave the fretboard."""
    rows, before = [], 0.0
    for fret, slot in zip(layout.fretted, layout.fretboard.slots, strict=True):
        places = (fret.x, fret.x - before, slot.wood_below)
        rows.append((str(fret.number), *(length(value, unit) for value in places)))
        before = fret.x
    names = ("fret", "x", "from the last", "wood under slot")
    named_table("Frets, from the nut on the centre line", names, rows, text=0)
    if not any(fret.slope for fret in layout.fretted):
        return
    slanted = []
    for fret in (fret_at(layout.frets.spans, 0), *layout.frets.frets):
        (bass, _), (treble, _) = layout.fretboard.line(fret.x, fret.slope)
        across = (bass, fret.x_bass, fret.x_treble, treble)
        slanted.append(("nut" if fret.number == 0 else str(fret.number), *(length(x, unit) for x in across)))
    edges = ("fret", "x at bass edge", "at bass string", "at treble string", "at treble edge")
    named_table("Lines of the nut and the frets", edges, slanted)


def show_strings(layout: Layout, unit: str) -> None:
    """Each string's place at nut and saddle; with two scale lengths how true the frets are under it."""
    lines, board, across = layout.frets.strings, layout.fretboard, layout.across
    rows, marks, errors = [], [], []
    for line in lines:
        number = str(line.number)
        sizes = (line.diameter, across(line.y_nut), across(line.y_bridge), line.x_bridge, line.z_nut, line.z_12)
        rows.append((number, *(length(value, unit) for value in sizes)))
        saddle = math.hypot(line.x_bridge - lines[0].x_bridge, line.y_bridge - lines[0].y_bridge)
        places = (line.along_nut(board.start, board.slope_start), saddle)
        marks.append((number, *(length(value, unit) for value in places)))
        off = mm(from_mm(line.worst.mm, unit), 3 if unit == "mm" else 4)
        ends = (length(line.x_nut, unit), length(line.length, unit))
        errors.append((number, *ends, str(line.worst.fret), off, mm(line.worst.cents)))
    names = ("string", "diameter", "y at nut", "y at bridge", "x at bridge", "z at nut", "z at fret 12")
    named_table("Strings, bass first; z is of the underside", names, rows, text=0)
    names_of_marks = ("string", "along the nut, from its bass end", "along the saddle, from string 1")
    named_table("Marks for nut and saddle", names_of_marks, marks, text=0)
    if layout.frets.spans.bass != layout.frets.spans.treble:
        columns = ("string", "x at nut", "scale length", "worst fret", "off by", "cent")
        named_table("How true the frets are under each string", columns, errors, text=0)


def show_action(layout: Layout, unit: str) -> None:
    """String height, and the angle of the neck that the bridge asks for."""
    action = layout.action
    rows = [
        ("strings over the frets at the nut", length(action.at_nut, unit)),
        ("  at fret 12", length(action.at_12, unit)),
        ("  at the bridge", length(action.at_bridge, unit)),
        ("frets' tops over the body at the joint", length(action.over_body, unit)),
        ("strings over the body at the bridge, for a neck without angle", length(action.level, unit)),
    ]
    if action.bridge is not None and action.angle is not None:
        rows.append(("  as stated", length(action.bridge, unit)))
        rows.append(("angle of the neck, positive tilts the head back", f"{action.angle:.2f} deg"))
    named_table("String height", ("what", "value"), rows)
