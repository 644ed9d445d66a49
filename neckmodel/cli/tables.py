"""The layout as tables: frets, strings, outlines, sections, rod, channel, stations."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.cli.built import show_built
from neckmodel.cli.fret_tables import show_action, show_frets, show_strings
from neckmodel.cli.out import say
from neckmodel.cli.table import named_table, show_lines
from neckmodel.lengths import NONE, length, mm

if TYPE_CHECKING:
    from neckmodel.layout import Layout

Rows = list[tuple[str, ...]]


def show_layout(layout: Layout) -> None:
    """Print every table. Lengths are in the unit of the design's file."""
    unit = layout.design.design.units
    say(f"{layout.name}: {layout.design.design.remark}" if layout.design.design.remark else layout.name)
    side = "bass" if layout.left_handed else "treble"
    show_lines(
        f"Lengths in {'mm' if unit == 'mm' else 'inches, the nearest 1/64 in brackets'}. x counts from the nut toward "
        f"the body, y from the centre line toward the {side} side, z from the glue plane toward the strings."
    )
    tables = (
        show_frets,
        show_strings,
        show_action,
        _outline,
        _sections,
        _ends,
        _rod,
        _bars,
        _channel,
        _cutting,
        _holes,
        _stations,
        show_built,
    )
    for show in tables:
        show(layout, unit)


def _outline(layout: Layout, unit: str) -> None:
    board = layout.fretboard
    rows = [
        (
            name,
            length(x, unit),
            length(2 * board.half_width(x), unit),
            "flat" if math.isinf(board.radius(x)) else length(board.radius(x), unit),
            length(board.thickness, unit),
            length(board.edge_thickness(x), unit),
        )
        for name, x in (("nut", board.x_start), ("end", board.x_end))
    ]
    names = ("fretboard", "x", "width", "crown radius", "thick at centre", "thick at edge")
    named_table("Fretboard", names, rows)


def _sections(layout: Layout, unit: str) -> None:
    back, heel = layout.back, layout.heel
    places = [("nut", 0.0), ("fret 1", back.x_1), ("fret 5", layout.frets.x(5)), ("fret 7", layout.frets.x(7))]
    places += [("fret 9", layout.frets.x(9)), ("fret 12", back.x_12), ("heel's swell", heel.x_swell)]
    rows = []
    for name, x in sorted(places, key=lambda place: place[1]):
        if x > heel.x_swell:
            continue
        section = back.section(x)
        rows.append(
            (
                name,
                length(x, unit),
                length(back.thickness(x), unit),
                length(section.depth, unit),
                length(2 * section.half_width, unit),
                f"{section.exponent:.2f}",
                length(layout.across(section.apex), unit),
            )
        )
    names = ("back at", "x", "thickness", "wood", "width", "fullness", "deepest at y")
    named_table("Back: thickness includes the fretboard, not the frets", names, rows)


def _ends(layout: Layout, unit: str) -> None:
    head, heel, nut = layout.head, layout.heel, layout.nut
    rows: Rows = [
        (f"{head.kind} head", "head line x", length(head.x_line, unit)),
        ("", "far end x", length(head.x_far, unit)),
        ("", "drop", length(head.drop, unit)),
        ("", "angle", f"{head.angle:.2f} deg"),
        ("", "thickness", length(head.thickness, unit)),
        ("", "length on the face", length(head.length, unit)),
        ("", "width near, far", f"{length(head.near, unit)}, {length(head.far, unit)}"),
        ("nut", "from x, to x", f"{length(nut.x_start, unit)}, {length(nut.x_end, unit)}"),
        ("", "seat z, height", f"{length(nut.z_seat, unit)}, {length(nut.height, unit)}"),
        (f"{heel.kind} heel", "joint x", length(heel.x_joint, unit)),
        ("", "wood ends at x", length(heel.x_end, unit)),
        ("", "depth", length(heel.depth, unit)),
        ("", "width at the end", length(2 * layout.outside.half_width(heel.x_end), unit)),
        ("blank", "width", length(2 * layout.blank_half_width, unit)),
        ("", "from x, to x", ", ".join(length(x, unit) for x in _reach(layout))),
    ]
    if layout.board is not None:
        rows.append(("board", "length, width, thickness", ", ".join(length(size, unit) for size in layout.board)))
    named_table("Head, nut, heel, blank", ("part", "what", "value"), rows, text=2)


def _reach(layout: Layout) -> tuple[float, float]:
    xs = [x for x, _ in layout.blank_profile]
    return min(xs), max(xs)


def _rod(layout: Layout, unit: str) -> None:
    rod = layout.rod
    if rod is None:
        return
    fits = rod.x_min <= rod.x_max + 1e-6
    face, before = ("rod's nut-side end", "it begins") if rod.at_heel else ("adjuster's face", "its block starts")
    rows: Rows = [
        ("adjuster's face at x", length(rod.x_adjuster, unit)),
        ("rod's end at x", length(rod.x_anchor_end, unit)),
        ("length over all", length(rod.length, unit)),
        ("adjuster's axis below the glue plane", length(rod.axis, unit)),
        (f"{face} may lie from x", length(rod.x_min, unit)),
        ("  to x", length(rod.x_max, unit) if fits else f"{length(rod.x_max, unit)}: no place is left"),
        (f"  and up to here {before} before fret 1", length(rod.x_span, unit)),
        ("rods that would fit: from a length of", length(rod.fitting_from, unit)),
        ("  to a length of", length(rod.fitting_to, unit)),
    ]
    named_table("Rod, measured with its adjuster backed right off", ("what", "value"), rows)
    bounds = [("from", bound) for bound in rod.lower] + [("to", bound) for bound in rod.upper]
    named_table(
        "What bounds the adjuster's place",
        ("", "because of", "moved by", "x"),
        [(side, bound.reason, bound.key, length(bound.x, unit)) for side, bound in bounds],
        text=3,
    )


def _bars(layout: Layout, unit: str) -> None:
    rows = [
        (
            bar.name,
            bar.material,
            *(length(value, unit) for value in (bar.x_start, bar.x_end, layout.across(bar.y), bar.width, bar.height)),
            length(max(bound.x for bound in bar.lower), unit),
            length(min(bound.x for bound in bar.upper), unit),
        )
        for bar in layout.bars
    ]
    names = ("bar", "material", "x from", "x to", "y", "width", "height", "may start at", "to")
    named_table("Bars", names, rows, text=2)


def _channel(layout: Layout, unit: str) -> None:
    walls = {wall.step: wall for wall in layout.walls}
    rows = []
    for step in layout.steps:
        wall = walls.get(step.name)
        sizes = (step.x_start, step.x_end, layout.across(step.y), step.width, step.depth_start, step.depth_end)
        estimate = NONE if wall is None else f"{length(wall.wall, unit)} at {length(wall.x, unit)}"
        rows.append((step.name, *(length(size, unit) for size in sizes), estimate))
    names = ("step", "x from", "x to", "y", "width", "depth from", "depth to", "least wall at x")
    named_table("Channel; the wall is an estimate by cross-sections, `check` measures it", names, rows)


def _cutting(layout: Layout, unit: str) -> None:
    rows = [
        (
            cutting.step,
            NONE if cutting.diameter is None else length(cutting.diameter, unit),
            str(cutting.lines),
            str(cutting.passes),
            length(cutting.pass_depth, unit),
            length(cutting.reach, unit),
            mm(cutting.corners),
        )
        for cutting in layout.cuttings
    ]
    names = ("step", "cutter", "lines", "passes", "each deep", "reach needed", "corners left, mm2")
    named_table("Cutting", names, rows)
    for cutting in layout.cuttings:
        if cutting.diameter is None:
            show_lines(f"{cutting.step}: {cutting.says}", indent=2, hang=2)


def _holes(layout: Layout, unit: str) -> None:
    screws = [
        (
            screw.name,
            screw.kind,
            *(length(v, unit) for v in (screw.x, layout.across(screw.y), screw.diameter, screw.bite, screw.z_point)),
        )
        for screw in layout.screws
    ]
    named_table("Heel screws", ("screw", "kind", "x", "y", "diameter", "bite", "point at z"), screws, text=2)
    tuners = [
        (
            tuner.name,
            *(
                length(value, unit)
                for value in (tuner.on_face[0], layout.across(tuner.on_face[1]), tuner.on_face[2], tuner.hole)
            ),
        )
        for tuner in layout.tuners
    ]
    named_table("Tuners, on the head's face", ("tuner", "x", "y", "z", "hole"), tuners)
    key = layout.key
    if key is not None:
        rows: Rows = [
            ("across flats, across corners", f"{length(key.size, unit)}, {length(key.corners, unit)}"),
            ("tip at x, engaged by", f"{length(key.x_tip, unit)}, {length(key.engaged, unit)}"),
            ("axis, floor of its slot below the glue plane", f"{length(key.axis, unit)}, {length(key.floor, unit)}"),
        ]
        named_table(f"Adjusting key: {key.kind}", ("what", "value"), rows)


def _stations(layout: Layout, unit: str) -> None:
    rows = [(station.name, length(station.x, unit)) for station in layout.stations]
    named_table("Stations: mark all of them from the nut, never one from another", ("station", "x"), rows)
