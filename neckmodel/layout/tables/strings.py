"""Tables of frets, strings, string height and fretboard."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.strings.frets import fret_at
from neckmodel.layout.tables.table import Row, Table, Voice
from neckmodel.lengths import mm
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def frets(layout: Layout, voice: Voice) -> Table:
    """The frets along the centre line; of a fretless neck its lines, or the positions."""
    rows, before, slots = [], 0.0, layout.fretboard.slots
    below = [slot.wood_below for slot in slots]
    for k, fret in enumerate(layout.fretted):
        rows.append((str(fret.number), *voice.row(fret.x, fret.x - before, *below[k : k + 1])))
        before = fret.x
    names = ("fret", "x", "from the last", voice.pick("wood under its fret slot", "wood under slot"))
    what = {None: "Frets", "lined": "Lines", "plain": "Positions"}[layout.design.fretboard.fretless]
    return Table(f"{what}, from the nut on the centre line", names if slots else names[:3], tuple(rows), text=0)


def slanted_frets(layout: Layout, voice: Voice) -> Table:
    """Where slanted frets meet the outer strings and the fretboard's edges; no rows where no fret is slanted."""
    rows = []
    for fret in (fret_at(layout.frets.spans, 0), *layout.frets.frets):
        (bass, _), (treble, _) = layout.fretboard.line(fret.x, fret.slope)
        name = "nut" if fret.number == 0 else str(fret.number)
        rows.append((name, *voice.row(bass, fret.x_bass, fret.x_treble, treble)))
    names = ("fret", "x at bass edge", "at bass string", "at treble string", "at treble edge")
    slanted = any(fret.slope for fret in layout.fretted)
    return Table("Lines of the nut and the frets", names, tuple(rows) if slanted else ())


def strings(layout: Layout, voice: Voice) -> Table:
    """The strings at nut and bridge. A terminal has no room for the sounding length; where lengths differ it stands in
    the table of trueness."""
    rows, across = [], layout.across
    for line in layout.frets.strings:
        own = (line.diameter,) if voice.terse else (line.diameter, line.length)
        places = (across(line.y_nut), across(line.y_bridge), line.x_bridge, line.z_nut, line.z_12)
        rows.append((str(line.number), *voice.row(*own, *places)))
    own_names = ("diameter",) if voice.terse else ("diameter", "length")
    names = ("string", *own_names, "y at nut", "y at bridge", "x at bridge", "z at nut", "z at fret 12")
    of = voice.pick(", from the glue plane", "")
    return Table(f"Strings, bass first; z is of the underside{of}", names, tuple(rows), text=0)


def string_marks(layout: Layout, voice: Voice) -> Table:
    """Where each string crosses the nut and the saddle."""
    lines, board = layout.frets.strings, layout.fretboard
    rows = []
    for line in lines:
        saddle = math.hypot(line.x_bridge - lines[0].x_bridge, line.y_bridge - lines[0].y_bridge)
        along = None if line.fret else line.along_nut(board.start, board.slope_start)
        rows.append((str(line.number), *voice.row(along, saddle)))
    names = ("string", "along the nut, from its bass end", "along the saddle, from string 1")
    return Table("Marks for nut and saddle", names, tuple(rows), text=0)


def trueness(layout: Layout, voice: Voice) -> Table:
    """How far the worst fret of each string is off; no rows with one scale length, where no fret is."""
    rows = []
    for line in layout.frets.strings:
        off = mm(from_mm(line.worst.mm, voice.unit), 3 if voice.unit == "mm" else 4)
        ends = voice.row(line.x_nut, line.length)
        rows.append((str(line.number), *ends, str(line.worst.fret), off, mm(line.worst.cents)))
    names = ("string", "x at nut", "scale length", "worst fret", "off by", "cent")
    spans = layout.frets.spans
    shown = tuple(rows) if spans.bass != spans.treble else ()
    return Table("How true the frets are under each string", names, shown, text=0)


def action(layout: Layout, voice: Voice) -> Table:
    """String height and neck angle."""
    found, write = layout.action, voice.write
    over, line, tops = "frets", "line of the frets", "frets' tops"
    if layout.fretless:
        over, line, tops = "fretboard", "line of the fretboard", "fretboard"
    rows: list[Row] = [
        (f"strings over the {over} at the nut", write(found.at_nut)),
        (voice.pick(f"strings over the {over} at fret 12", "  at fret 12"), write(found.at_12)),
        (voice.pick(f"strings over the {line} at the bridge", "  at the bridge"), write(found.at_bridge)),
        (f"{tops} over the body at the joint", write(found.over_body)),
        ("strings over the body at the bridge, for a neck without angle", write(found.level)),
    ]
    if found.bridge is not None and found.angle is not None:
        stated = voice.pick("strings over the body at the bridge, as stated", "  as stated")
        rows.append((stated, write(found.bridge)))
        rows.append(("angle of the neck, positive tilts the head back", f"{found.angle:.2f} deg"))
    return Table("String height", ("what", "value"), tuple(rows))


def over_nut(layout: Layout, voice: Voice) -> Table:
    """How far each string bends over the nut; no rows where there are more or fewer tuners than strings."""
    rows = []
    for way in layout.head_ways:
        held = "tree" if len(way.points) > 2 else "post" if layout.slots is None else "roller"
        height = voice.row(way.points[1][2])[0]
        rows.append((str(way.string), way.tuner, held, height, f"{way.fall:.2f} deg", f"{way.bend:.2f} deg"))
    names = ("string", "tuner", "first held by its", "z there", "falls by", "bends over the nut by")
    return Table("Strings over the nut to their tuners", names, tuple(rows), text=3)


def fretboard(layout: Layout, voice: Voice) -> Table:
    """The fretboard's sizes."""
    board, write = layout.fretboard, voice.write
    rows = []
    places = [("nut", board.x_start), ("end", board.x_end)]
    if board.later is not None:
        places[1:1] = [("step starts", board.later.x_from), ("step ends", board.later.x_to)]
    for name, x in places:
        radius = "flat" if math.isinf(board.radius(x)) else write(board.radius(x))
        thick = voice.row(board.thickness, board.edge_thickness(x))
        rows.append((name, *voice.row(x, 2 * board.half_width(x)), radius, *thick))
    names = ("x", "width", "crown radius", "thick at centre", "thick at edge")
    return Table("Fretboard", (voice.pick("fretboard at", "fretboard"), *names), tuple(rows))
