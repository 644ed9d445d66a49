"""Tables of the wood: stations, back, head and heel, holes, recesses in the body."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.heel.dovetail import Dovetail
from neckmodel.layout.tables.table import Row, Table, Voice

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SHOWN_FRETS = (1, 5, 7, 9, 12)


def stations(layout: Layout, voice: Voice) -> Table:
    """Every station from the datum."""
    rows = tuple((station.name, voice.write(station.x)) for station in layout.stations)
    return Table("Stations: mark all of them from the nut, never one from another", ("station", "x"), rows)


def back(layout: Layout, voice: Voice) -> Table:
    """The back's sections at frets and joint."""
    heel, write = layout.heel, voice.write
    places = [("nut", 0.0), *((f"fret {n}", layout.frets.x(n)) for n in SHOWN_FRETS), ("heel's swell", heel.x_swell)]
    rows = []
    for name, x in sorted(places, key=lambda place: place[1]):
        if x > heel.x_swell:
            continue
        section = layout.back.section(x)
        sizes = voice.row(x, layout.back.thickness(x), section.depth, 2 * section.half_width)
        rows.append((name, *sizes, f"{section.exponent:.2f}", write(layout.across(section.middle + section.apex))))
    names = ("back at", "x", "thickness", "wood", "width", "fullness", "deepest at y")
    includes = voice.pick("; the thickness includes", ": thickness includes")
    return Table(f"Back{includes} the fretboard, not the frets", names, tuple(rows))


def ends(layout: Layout, voice: Voice) -> Table:
    """Head or nut end, nut, heel and blank. A terminal also gets the board; a page has it among its materials."""
    head, heel, nut, write = layout.head, layout.heel, layout.nut, voice.write
    xs, at = [x for x, _ in layout.blank_profile], voice.pick("at ", "")
    rows: list[Row] = [
        *(_nut_end(layout, voice) if head.is_none else _head(layout, voice)),
        ("nut", "from x, to x", f"{write(nut.x_start)}, {write(nut.x_end)}"),
        ("", f"seat {at}z, height", f"{write(nut.z_seat)}, {write(nut.height)}"),
        (f"{heel.kind} heel", f"joint {at}x", write(heel.x_joint)),
        ("", "wood ends at x", write(heel.x_end)),
        ("", "depth", write(heel.depth)),
        ("", "width at the end", write(2 * layout.outside.half_width(heel.x_end))),
        *_glued_in(layout, voice),
        ("blank", "width", write(2 * layout.blank_half_width)),
        ("", "from x, to x", f"{write(min(xs))}, {write(max(xs))}"),
    ]
    if voice.terse and layout.board is not None:
        rows.append(("board", "length, width, thickness", ", ".join(voice.row(*layout.board))))
    first = "Nut end" if head.is_none else "Head"
    return Table(f"{first}, nut, heel, blank", ("part", "what", "value"), tuple(rows), text=2)


def _head(layout: Layout, voice: Voice) -> list[Row]:
    head, write, at = layout.head, voice.write, voice.pick("at ", "")
    return [
        (f"{head.kind} head", f"head line {at}x", write(head.x_line)),
        ("", f"far end {at}x", write(head.x_far)),
        ("", "drop", write(head.drop)),
        ("", "angle", f"{head.angle:.2f} deg"),
        ("", "thickness", write(head.thickness)),
        ("", "length on the face", write(head.length)),
        ("", "width near, far", f"{write(head.near)}, {write(head.far)}"),
    ]


def _nut_end(layout: Layout, voice: Voice) -> list[Row]:
    """The nut end of a neck without a head, and the clamp on it."""
    head, clamp, write, at = layout.head, layout.clamp, voice.write, voice.pick("at ", "")
    rows: list[Row] = [
        ("nut end", f"neck's end {at}x", write(head.x_far)),
        ("", "thickness", write(head.thickness)),
        ("", "width", write(head.near)),
    ]
    if clamp is not None:
        rows.append(("clamp", "from x, to x", f"{write(clamp.x_start)}, {write(clamp.x_end)}"))
        rows.append(("", "width, height", f"{write(2 * clamp.half_width)}, {write(clamp.height)}"))
        rows += [
            (s.name, "x, y, hole, depth", ", ".join(voice.row(s.x, layout.across(s.y), s.diameter, s.depth)))
            for s in clamp.screws
        ]
    return rows


def _glued_in(layout: Layout, voice: Voice) -> list[Row]:
    """Of a heel that narrows, of a dovetail, and of a heel's cap."""
    heel, tenon, cap, write = layout.heel, layout.heel.tenon, layout.heel_cap, voice.write
    rows: list[Row] = []
    if heel.half_bottom is not None:
        top = 2 * layout.outside.half_width(heel.x_joint)
        rows.append(("", "width at the joint, at the bottom", f"{write(top)}, {write(2 * heel.half_bottom)}"))
    if isinstance(tenon, Dovetail):
        for name, x in (("end", heel.x_end), ("root", heel.x_joint)):
            both = ", ".join(voice.row(2 * tenon.half_at(x), 2 * tenon.half_at(x, tenon.depth)))
            rows.append(("dovetail" if name == "end" else "", f"width at its {name}, top and bottom", both))
        rows.append(("", "depth", write(tenon.depth)))
        rows.append(("", "flare, taper", f"{tenon.flare:.2f} deg, {tenon.taper:.2f} deg"))
        rows.append(("", "least shoulder beside it", write(heel.shoulder()[0])))
    if cap is not None:
        rows.append(("heel cap", "length, width, thickness", ", ".join(voice.row(*cap.size))))
    return rows


def screws(layout: Layout, voice: Voice) -> Table:
    """The heel's screws, inserts and dowels."""
    rows = []
    for screw in layout.screws:
        hole = () if voice.terse else (screw.hole,)
        sizes = (screw.x, layout.across(screw.y), screw.diameter, *hole, screw.bite, screw.z_point)
        rows.append((screw.name, screw.kind, *voice.row(*sizes)))
    hole_name = () if voice.terse else ("hole",)
    names = ("screw", "kind", "x", "y", "diameter", *hole_name, "bite", "point at z")
    return Table("Heel screws", names, tuple(rows), text=2)


def tuners(layout: Layout, voice: Voice) -> Table:
    """The tuners' holes."""
    rows = []
    for tuner in layout.tuners:
        x, y, z = tuner.on_face
        rows.append((tuner.name, *voice.row(x, layout.across(y), z, tuner.hole)))
    return Table("Tuners, on the head's face", ("tuner", "x", "y", "z", "hole"), tuple(rows))


def recesses(layout: Layout, voice: Voice) -> Table:
    """The pockets that the body needs for an adjuster at the heel and its key."""
    rows = []
    for recess in layout.recesses:
        y = (layout.across(recess.y),) if layout.paired else ()
        sizes = (recess.x_start, recess.x_end, *y, recess.width, recess.depth, recess.depth_end, recess.below_top)
        rows.append((recess.name, *voice.row(*sizes)))
    y_name = ("y",) if layout.paired else ()
    names = ("recess for the", "x from", "x to", *y_name, "width", "depth from", "depth to", "below the body's top")
    return Table("Recesses in the body; depths count from the glue plane", names, tuple(rows))
