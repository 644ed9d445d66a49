"""The layout's tables of frets, strings and string height."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.cli.table import named_table
from neckmodel.layout.frets import fret_at
from neckmodel.lengths import length

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
    across = layout.across
    aslant = layout.frets.spans.bass != layout.frets.spans.treble
    rows = []
    for line in layout.frets.strings:
        sizes = (line.diameter, across(line.y_nut), across(line.y_bridge), line.x_bridge, line.z_nut, line.z_12)
        rows.append((str(line.number), *(length(value, unit) for value in sizes)))
    names = ("string", "diameter", "y at nut", "y at bridge", "x at bridge", "z at nut", "z at fret 12")
    named_table("Strings, bass first; z is of the underside", names, rows, text=0)
    if not aslant:
        return
    errors = [
        (
            str(line.number),
            *(length(value, unit) for value in (line.x_nut, line.length)),
            str(line.worst.fret),
            f"{line.worst.mm:.3f}",
            f"{line.worst.cents:.2f}",
        )
        for line in layout.frets.strings
    ]
    columns = ("string", "x at nut", "scale length", "worst fret", "off by mm", "off by cent")
    named_table("How true the frets are under each string", columns, errors, text=0)
