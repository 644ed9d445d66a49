"""The layout as tables: frets, strings, outlines, sections, rod, channel, holes, stations."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.frets import fret_at
from neckmodel.lengths import NONE, mm, with_unit
from neckmodel.report.html import Html, el, joined, section
from neckmodel.report.html import table as html_table

if TYPE_CHECKING:
    from neckmodel.layout import Layout

Row = tuple[str, ...]
Write = Callable[[float | None], str]


@dataclass(frozen=True)
class Table:
    """text: how many columns, from the left, are words; the others hold numbers."""

    title: str
    columns: Row
    rows: tuple[Row, ...]
    text: int = 1


def tables_section(layout: Layout) -> Html:
    side = "bass" if layout.left_handed else "treble"
    says = (
        "Derived from the design. x counts from the nut toward the body, y from the centre line toward the "
        f"{side} side, z from the glue plane toward the strings."
    )
    shown = [html_table(each.title, each.columns, each.rows, each.text) for each in layout_tables(layout)]
    return section("tables", "The layout in numbers", el("p", says, class_="small"), joined(shown))


def layout_tables(layout: Layout) -> tuple[Table, ...]:
    """Every table that has rows; each length with its unit, that of the design."""
    unit = layout.design.design.units

    def write(value: float | None) -> str:
        return with_unit(value, unit)

    makers = (_stations, _frets, _slanted, _strings, _marks, _action, _fretboard, _sections, _ends, _rod, _bounds)
    more = (_bars, _channel, _cutting, _screws, _tuners, _key, _recesses)
    found = [make(layout, write) for make in (*makers, *more)]
    return tuple(each for each in found if each.rows)


def _stations(layout: Layout, write: Write) -> Table:
    rows = tuple((station.name, write(station.x)) for station in layout.stations)
    return Table("Stations: mark all of them from the nut, never one from another", ("station", "x"), rows)


def _frets(layout: Layout, write: Write) -> Table:
    rows, before = [], 0.0
    for fret, slot in zip(layout.fretted, layout.fretboard.slots, strict=True):
        rows.append((str(fret.number), write(fret.x), write(fret.x - before), write(slot.wood_below)))
        before = fret.x
    names = ("fret", "x", "from the last", "wood under its fret slot")
    return Table("Frets, from the nut on the centre line", names, tuple(rows), text=0)


def _slanted(layout: Layout, write: Write) -> Table:
    """Where slanted frets meet the outer strings and the fretboard's edges; no rows where none is slanted."""
    rows = []
    for fret in (fret_at(layout.frets.spans, 0), *layout.frets.frets):
        (bass, _), (treble, _) = layout.fretboard.line(fret.x, fret.slope)
        across = (bass, fret.x_bass, fret.x_treble, treble)
        rows.append(("nut" if fret.number == 0 else str(fret.number), *(write(x) for x in across)))
    names = ("fret", "x at bass edge", "at bass string", "at treble string", "at treble edge")
    slanted = any(fret.slope for fret in layout.fretted)
    return Table("Lines of the nut and the frets", names, tuple(rows) if slanted else ())


def _strings(layout: Layout, write: Write) -> Table:
    rows, across = [], layout.across
    for line in layout.frets.strings:
        ends = (across(line.y_nut), across(line.y_bridge), line.x_bridge)
        sizes = (line.diameter, line.length, *ends, line.z_nut, line.z_12)
        rows.append((str(line.number), *(write(size) for size in sizes)))
    names = ("string", "diameter", "length", "y at nut", "y at bridge", "x at bridge", "z at nut", "z at fret 12")
    return Table("Strings, bass first; z is of the underside, from the glue plane", names, tuple(rows), text=0)


def _marks(layout: Layout, write: Write) -> Table:
    lines, board = layout.frets.strings, layout.fretboard
    rows = []
    for line in lines:
        saddle = math.hypot(line.x_bridge - lines[0].x_bridge, line.y_bridge - lines[0].y_bridge)
        places = (line.along_nut(board.start, board.slope_start), saddle)
        rows.append((str(line.number), *(write(place) for place in places)))
    names = ("string", "along the nut, from its bass end", "along the saddle, from string 1")
    return Table("Marks for nut and saddle", names, tuple(rows), text=0)


def _action(layout: Layout, write: Write) -> Table:
    action = layout.action
    rows: list[Row] = [
        ("strings over the frets at the nut", write(action.at_nut)),
        ("strings over the frets at fret 12", write(action.at_12)),
        ("strings over the line of the frets at the bridge", write(action.at_bridge)),
        ("frets' tops over the body at the joint", write(action.over_body)),
        ("strings over the body at the bridge, for a neck without angle", write(action.level)),
    ]
    if action.bridge is not None and action.angle is not None:
        rows.append(("strings over the body at the bridge, as stated", write(action.bridge)))
        rows.append(("angle of the neck, positive tilts the head back", f"{action.angle:.2f} deg"))
    return Table("String height", ("what", "value"), tuple(rows))


def _fretboard(layout: Layout, write: Write) -> Table:
    board = layout.fretboard
    rows = tuple(
        (
            name,
            write(x),
            write(2 * board.half_width(x)),
            "flat" if math.isinf(board.radius(x)) else write(board.radius(x)),
            write(board.thickness),
            write(board.edge_thickness(x)),
        )
        for name, x in (("nut", board.x_start), ("end", board.x_end))
    )
    names = ("fretboard at", "x", "width", "crown radius", "thick at centre", "thick at edge")
    return Table("Fretboard", names, rows)


def _sections(layout: Layout, write: Write) -> Table:
    back, heel = layout.back, layout.heel
    places = [
        ("nut", 0.0),
        *((f"fret {n}", layout.frets.x(n)) for n in (1, 5, 7, 9, 12)),
        ("heel's swell", heel.x_swell),
    ]
    rows = []
    for name, x in sorted(places, key=lambda place: place[1]):
        if x > heel.x_swell:
            continue
        section = back.section(x)
        sizes = (x, back.thickness(x), section.depth, 2 * section.half_width)
        rows.append(
            (name, *(write(size) for size in sizes), f"{section.exponent:.2f}", write(layout.across(section.apex)))
        )
    names = ("back at", "x", "thickness", "wood", "width", "fullness", "deepest at y")
    return Table("Back; the thickness includes the fretboard, not the frets", names, tuple(rows))


def _ends(layout: Layout, write: Write) -> Table:
    head, heel, nut = layout.head, layout.heel, layout.nut
    xs = [x for x, _ in layout.blank_profile]
    rows: list[Row] = [
        (f"{head.kind} head", "head line at x", write(head.x_line)),
        ("", "far end at x", write(head.x_far)),
        ("", "drop", write(head.drop)),
        ("", "angle", f"{head.angle:.2f} deg"),
        ("", "thickness", write(head.thickness)),
        ("", "length on the face", write(head.length)),
        ("", "width near, far", f"{write(head.near)}, {write(head.far)}"),
        ("nut", "from x, to x", f"{write(nut.x_start)}, {write(nut.x_end)}"),
        ("", "seat at z, height", f"{write(nut.z_seat)}, {write(nut.height)}"),
        (f"{heel.kind} heel", "joint at x", write(heel.x_joint)),
        ("", "wood ends at x", write(heel.x_end)),
        ("", "depth", write(heel.depth)),
        ("", "width at the end", write(2 * layout.outside.half_width(heel.x_end))),
        ("blank", "width", write(2 * layout.blank_half_width)),
        ("", "from x, to x", f"{write(min(xs))}, {write(max(xs))}"),
    ]
    return Table("Head, nut, heel, blank", ("part", "what", "value"), tuple(rows), text=2)


def _rod(layout: Layout, write: Write) -> Table:
    rod = layout.rod
    rows: tuple[Row, ...] = ()
    if rod is not None:
        none = "" if rod.x_min <= rod.x_max + 1e-6 else ": no place is left"
        rows = (
            ("adjuster's face at x", write(rod.x_adjuster)),
            ("rod's end at x", write(rod.x_anchor_end)),
            ("length over all", write(rod.length)),
            ("adjuster's axis below the glue plane", write(rod.axis)),
            ("adjuster's face may lie from x", write(rod.x_min)),
            ("to x", write(rod.x_max) + none),
            ("and up to x its block starts before fret 1", write(rod.x_span)),
        )
    return Table("Rod, measured with its adjuster backed right off", ("what", "value"), rows)


def _bounds(layout: Layout, write: Write) -> Table:
    rod = layout.rod
    sided = [] if rod is None else [("from", b) for b in rod.lower] + [("to", b) for b in rod.upper]
    rows = tuple((side, bound.reason, bound.key, write(bound.x)) for side, bound in sided)
    return Table("What bounds the adjuster's place", ("side", "because of", "moved by", "x"), rows, text=3)


def _bars(layout: Layout, write: Write) -> Table:
    rows = tuple(
        (
            bar.name,
            bar.material,
            *(write(value) for value in (bar.x_start, bar.x_end, layout.across(bar.y), bar.width, bar.height)),
            write(max(bound.x for bound in bar.lower)),
            write(min(bound.x for bound in bar.upper)),
        )
        for bar in layout.bars
    )
    names = ("bar", "material", "x from", "x to", "y", "width", "height", "may start at x", "to x")
    return Table("Bars", names, rows, text=2)


def _channel(layout: Layout, write: Write) -> Table:
    walls = {wall.step: wall for wall in layout.walls}
    rows = []
    for step in layout.steps:
        wall = walls.get(step.name)
        sizes = (step.x_start, step.x_end, layout.across(step.y), step.width, step.depth_start, step.depth_end)
        estimate = NONE if wall is None else f"{write(wall.wall)} at x {write(wall.x)}"
        rows.append((step.name, *(write(size) for size in sizes), estimate))
    names = ("step", "x from", "x to", "y", "width", "depth from", "depth to", "least wall, by section")
    return Table(
        "Channel; the walls here are estimates by cross-section, those of the findings measured", names, tuple(rows)
    )


def _cutting(layout: Layout, write: Write) -> Table:
    rows = tuple(
        (
            cutting.step,
            f"none: {cutting.says}" if cutting.diameter is None else write(cutting.diameter),
            str(cutting.lines),
            str(cutting.passes),
            write(cutting.pass_depth),
            write(cutting.reach),
            f"{mm(cutting.corners)} mm²",
        )
        for cutting in layout.cuttings
    )
    names = ("step", "cutter", "lines", "passes", "each deep", "stick-out needed", "left in corners")
    return Table("Cutting", names, rows)


def _screws(layout: Layout, write: Write) -> Table:
    rows = tuple(
        (s.name, s.kind, *(write(v) for v in (s.x, layout.across(s.y), s.diameter, s.hole, s.bite, s.z_point)))
        for s in layout.screws
    )
    names = ("screw", "kind", "x", "y", "diameter", "hole", "bite", "point at z")
    return Table("Heel screws", names, rows, text=2)


def _tuners(layout: Layout, write: Write) -> Table:
    rows = []
    for tuner in layout.tuners:
        x, y, z = tuner.on_face
        rows.append((tuner.name, *(write(value) for value in (x, layout.across(y), z, tuner.hole))))
    return Table("Tuners, on the head's face", ("tuner", "x", "y", "z", "hole"), tuple(rows))


def _key(layout: Layout, write: Write) -> Table:
    key = layout.key
    rows: tuple[Row, ...] = ()
    if key is not None:
        rows = (
            ("across flats, across corners", f"{write(key.size)}, {write(key.corners)}"),
            ("tip at x, engaged by", f"{write(key.x_tip)}, {write(key.engaged)}"),
            ("axis, floor of its slot below the glue plane", f"{write(key.axis)}, {write(key.floor)}"),
        )
    return Table(f"Adjusting key: {key.kind}" if key is not None else "Adjusting key", ("what", "value"), rows)


def _recesses(layout: Layout, write: Write) -> Table:
    rows = tuple(
        (
            recess.name,
            *(write(size) for size in (recess.x_start, recess.x_end, recess.width)),
            *(write(size) for size in (recess.depth, recess.depth_end, recess.below_top)),
        )
        for recess in layout.recesses
    )
    names = ("recess for the", "x from", "x to", "width", "depth from", "depth to", "below the body's top")
    return Table("Recesses in the body; depths count from the glue plane", names, rows)
