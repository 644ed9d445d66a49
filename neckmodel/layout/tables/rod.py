"""Tables of what lies in the neck: rod, bars, channel, cutting, key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.rod.lengths import too_long_or_short
from neckmodel.layout.rod.rod import together
from neckmodel.layout.rod.way import LIES
from neckmodel.layout.tables.table import Row, Table, Voice
from neckmodel.lengths import NONE, mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace

NEAR = 1e-6  # mm


def rod(layout: Layout, voice: Voice) -> Table:
    """The rod's place and its bounds. A terminal also gets the lengths of rod that would fit; a page has them among its
    materials."""
    found, write = together(layout.rods), voice.write
    rows: list[Row] = []
    if found is not None:
        rows = [
            *([("two rods, at y", " and ".join(write(layout.across(rod.y)) for rod in layout.rods))] * layout.paired),
            ("adjuster's face at x", write(found.x_adjuster)),
            ("rod's end at x", write(found.x_anchor_end)),
            ("length over all", write(found.length)),
            ("adjuster's axis below the glue plane", write(found.axis)),
            *([("flat bar", LIES[found.bar])] if found.bar is not None else []),
            *_room(found, voice, layout.design.limits.cover_run),
        ]
        if voice.terse:
            rows += _lengths(found, voice, layout.design.limits.cover_run)
    return Table("Rod, measured with its adjuster backed right off", ("what", "value"), tuple(rows))


def _room(found: RodPlace, voice: Voice, cover: float) -> list[Row]:
    """The interval of places, and the limits reported apart from it; or by how much the rod does not fit."""
    face = "rod's nut-side end" if found.at_heel else "adjuster's face"
    low = max([*found.lower, found.wheel_bound], key=lambda bound: bound.x)
    high = min(found.upper, key=lambda bound: bound.x)
    if low.x > high.x + NEAR:
        wrong = too_long_or_short(low, high).rpartition(" mm ")[2]
        says = f"no place for this rod: it is {wrong} by" if wrong else "no place for a rod of any length: lacking"
        return [(says, voice.write(low.x - high.x))]
    rows: list[Row] = [
        (f"{face} may lie from x", voice.least(found.x_min)),
        (voice.pick("to x", "  to x"), voice.most(found.x_max)),
    ]
    since, until = voice.pick("and from x", "  and from here"), voice.pick("and up to x", "  and up to here")
    if found.x_wheel > found.x_min + NEAR:
        rows.append((f"{since} its wheel is clear of the fretboard", voice.least(found.x_wheel)))
    if found.x_well_covered < found.x_max - NEAR:
        says = f"{until} {voice.write(cover)} of fretboard reach past its channel"
        rows.append((says, voice.most(found.x_well_covered)))
    if not found.at_heel:
        rows.append((f"{until} its block ends before fret 1", voice.most(found.x_span)))
    return rows


def _lengths(found: RodPlace, voice: Voice, cover: float) -> list[Row]:
    if found.fitting_from > found.fitting_to + NEAR:
        return [("rods that would fit: none; lacking", voice.write(found.fitting_from - found.fitting_to))]
    rows: list[Row] = [
        ("rods that would fit: from a length of", voice.least(found.fitting_from)),
        ("  to a length of", voice.most(found.fitting_to)),
    ]
    if found.fitting_to_well_covered < found.fitting_to - NEAR:
        says = f"  to a length of, with {voice.write(cover)} of fretboard past it"
        rows.append((says, voice.most(found.fitting_to_well_covered)))
    return rows


def bounds(layout: Layout, voice: Voice) -> Table:
    """Every bound on the rod's place, with what it comes from."""
    rows = []
    for rod in layout.rods:
        of = f", rod {rod.number}" if rod.number else ""
        sided = [("from", b) for b in rod.lower] + [("to", b) for b in rod.upper]
        rows += [(side, f"{bound.reason}{of}", bound.key, voice.write(bound.x)) for side, bound in sided]
    names = (voice.pick("side", ""), "because of", "moved by", "x")
    return Table("What bounds the adjuster's place", names, tuple(rows), text=3)


def bars(layout: Layout, voice: Voice) -> Table:
    """The bars and their places."""
    rows = []
    for bar in layout.bars:
        sizes = (bar.x_start, bar.x_end, layout.across(bar.y), bar.width, bar.height)
        reach = (max(bound.x for bound in bar.lower), min(bound.x for bound in bar.upper))
        rows.append((bar.name, bar.material, *voice.row(*sizes), voice.least(reach[0]), voice.most(reach[1])))
    bound_names = (voice.pick("may start at x", "may start at"), voice.pick("to x", "to"))
    names = ("bar", "material", "x from", "x to", "y", "width", "height", *bound_names)
    return Table("Bars", names, tuple(rows), text=2)


def channel(layout: Layout, voice: Voice) -> Table:
    """The steps of the channel, with the least wall round each by cross-sections."""
    walls, write, at = {wall.step: wall for wall in layout.walls}, voice.write, voice.pick("at x", "at")
    rows = []
    routed = [step.from_face for step in layout.steps]
    bent = any(step.depth > max(step.depth_start, step.depth_end) for step in routed)
    for step in routed:
        wall = walls.get(step.name)
        depths = (step.depth_start, step.depth_end, *([step.depth] if bent else []))
        sizes = (step.x_start, step.x_end, layout.across(step.y), step.width, *depths)
        estimate = NONE if wall is None else f"{write(wall.wall)} {at} {write(wall.x)}"
        rows.append((step.name, *voice.row(*sizes), estimate))
    least = voice.pick("least wall, by section", "least wall at x")
    names = ("step", "x from", "x to", "y", "width", "depth from", "depth to", *(["deepest"] if bent else []), least)
    title = voice.pick(
        "Channel; the walls here are estimates by cross-section, those of the findings measured",
        "Channel; the wall is an estimate by cross-sections, `check` measures it",
    )
    if layout.back_strip is not None:
        face = next(step.face for step in layout.steps if step.behind)
        title += f"; depths from the level back, {write(face)} below plane z = 0"
    return Table(title, names, tuple(rows))


def cutting(layout: Layout, voice: Voice) -> Table:
    """How each step is cut. Where no cutter fits, a page gives the reason in the cell, a terminal under the table."""
    rows: list[Row] = []
    for found in layout.cuttings:
        if found.diameter is None:
            rows.append((found.step, voice.pick(f"none: {found.says}", NONE), *(NONE,) * 7))
            continue
        sizes = voice.row(found.width, found.pass_depth, found.reach)
        left = f"{mm(found.corners)}{voice.pick(' mm²', '')}" if found.corners_at else NONE
        row = (found.step, voice.write(found.diameter), str(found.lines), sizes[0], str(found.passes), sizes[1])
        rows.append((*row, found.way, sizes[2], left))
    last = (voice.pick("stick-out needed", "needs stick-out"), voice.pick("left in corners", "corners, mm2"))
    names = ("step", "cutter", "lines", "wide as cut", "passes", "each deep", "guided by", *last)
    return Table("Cutting", names, tuple(rows))


def corners(layout: Layout, voice: Voice) -> Table:
    """The corners that round cutters leave, by step and end."""
    rows = []
    for found in layout.cuttings:
        for corner in found.corners_at:
            area = f"{mm(corner.area)}{voice.pick(' mm²', '')}"
            rows.append((found.step, corner.end, *voice.row(corner.x, corner.deep_from, corner.deep_to), area))
    names = ("step", "end", "x", "depth from", "depth to", voice.pick("area in plan", "mm2 in plan"))
    return Table("Corners that the cutters leave for the chisel", names, tuple(rows), text=2)


def key(layout: Layout, voice: Voice) -> Table:
    """The adjusting key in its socket."""
    found = layout.key
    rows: tuple[Row, ...] = ()
    way = "floor of its slot below the glue plane"
    if layout.back_strip is not None:
        way = "lowest line of its bore below plane z = 0"
    if found is not None:
        rows = (
            ("across flats, across corners", ", ".join(voice.row(found.size, found.corners))),
            ("tip at x, engaged by", ", ".join(voice.row(found.x_tip, found.engaged))),
            (f"axis, {way}", ", ".join(voice.row(found.axis, found.floor))),
        )
    return Table(f"Adjusting key: {found.kind}" if found is not None else "Adjusting key", ("what", "value"), rows)
