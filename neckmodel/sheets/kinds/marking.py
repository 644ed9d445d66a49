"""The marking-out sheet: plan and side view of the blank, true to size, with every station from one datum."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.sides import Side, Toward
from neckmodel.layout.workshop.router import router_settings
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.dimensions import Dimension, lane_height, note_lanes, running_lane
from neckmodel.sheets.marks.display import Drawing
from neckmodel.sheets.marks.lettering import LETTERS, width, wrap
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.block import title_block
from neckmodel.sheets.pages.cover import draw_cover
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.tiles import grid, pages_of
from neckmodel.sheets.views.holes import label_holes
from neckmodel.sheets.views.plan import blank_reach, draw_plan, plan_half
from neckmodel.sheets.views.side import draw_elevation, side_notes
from neckmodel.sheets.views.strips import strip_words
from neckmodel.work.words import datum_words, side_mark_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.stations import Station
    from neckmodel.sheets.pages.titles import Titles

EDGE = 5.0  # mm round the drawing
BETWEEN = 5.0  # mm between the parts of the drawing
READ = 150.0  # mm that a line of words over the plan may take: beside it stand the frets' labels
PITCH = 3.2  # mm from line to line of them
NOTE = 28.0  # mm that a note under the side view may take: it must stand whole on a sheet
NEAR = 1e-6  # mm; places nearer to each other are one


def draw_marking(layout: Layout, titles: Titles) -> Drawing:
    """The whole drawing on one page: x of the drawing is x of the neck, y = 0 the centre line in plan."""
    sketch, top = _core(layout)
    x0, left = blank_reach(layout)[0], sketch.bounds()[0]
    lines = _reading(layout)
    first = min((fret.x for fret in fret_dimensions(layout)), default=math.inf)
    if x0 + max(width(line, LETTERS) for line in lines) > first - 2 * PITCH:
        top += PITCH * len(lines)  # without a head there is no room for them left of the first fret's size
    for k, line in enumerate(lines):
        sketch.text(layers.TEXT, (x0, top - LETTERS - PITCH * k), line, LETTERS)
    used = sketch.drawing("", (0.0, 0.0, 0.0, 0.0)).layers()
    title_block(sketch, layout, titles, left - BETWEEN, top, "marking-out sheet, 1:1", used)
    return _boxed(sketch, titles)


def draw_marking_pages(layout: Layout, titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """The drawing on sheets of paper: a first sheet of words, then the drawing in windows."""
    sketch, _ = _core(layout)
    way = grid(_boxed(sketch, titles), paper)
    cover = draw_cover(layout, titles, way, "marking-out", _reading(layout))
    return (*cover, *pages_of(way, titles, len(cover)))


def _core(layout: Layout) -> tuple[Sketch, float]:
    """Plan, side view and every label; and the height above which words may stand."""
    sketch = Sketch()
    x0, x1 = blank_reach(layout)
    half = layout.blank_half_width
    length, _, thickness = layout.board or (x1 - x0, 2 * half, 0.0)
    over = max((length - (x1 - x0)) / 2, 4.0)
    low_edge, room = plan_half(layout), (x0 - over, max(x1 + over, layout.fretboard.x_last))
    draw_plan(sketch, layout)
    frets, others = fret_dimensions(layout), station_dimensions(layout)
    running_lane(sketch, frets, low_edge, True, LETTERS, room, low_edge - half + 2.0)
    running_lane(sketch, others, -low_edge, False, LETTERS, room, low_edge - half + 2.0)
    top = low_edge + lane_height(frets, LETTERS) + 4.0
    label_holes(sketch, layout, (room[0], -low_edge - lane_height(others, LETTERS), room[1], top))
    over_side = max(layout.fretboard.thickness, layout.nut.z_seat + layout.nut.height) + 4.0
    z0 = -low_edge - lane_height(others, LETTERS) - BETWEEN - over_side
    draw_elevation(sketch, layout, z0)
    low = z0 - max(thickness, -min(z for _, z in layout.blank_profile)) - 2.0
    note_lanes(sketch, side_notes(layout, z0), low, LETTERS, room, NOTE)
    return sketch, top


def _boxed(sketch: Sketch, titles: Titles) -> Drawing:
    low_x, low_y, high_x, high_y = sketch.bounds()
    return sketch.drawing(f"{titles.name} marking-out", (low_x - EDGE, low_y - EDGE, high_x + EDGE, high_y + EDGE))


def fret_dimensions(layout: Layout) -> list[Dimension]:
    """The size of every fret on the centre line; where it is slanted, at both outer strings too."""
    unit = layout.design.design.units
    dimensions = []
    for fret in layout.fretted:
        name = f"fret {fret.number}" if fret.number else "zero fret"
        says = f"{name}: {with_unit(fret.x, unit)}"
        if max(abs(fret.x_bass - fret.x), abs(fret.x_treble - fret.x)) > NEAR:
            says += f"; bass {with_unit(fret.x_bass, unit)}, treble {with_unit(fret.x_treble, unit)}"
        dimensions.append(Dimension(fret.x, says, layers.FRETS))
    return dimensions


def station_dimensions(layout: Layout) -> list[Dimension]:
    """The size of every other station. Stations at one place share a label; stop blocks on the blank come last at their
    place."""
    unit, (x0, x1) = layout.design.design.units, blank_reach(layout)
    named = [(s.x, _name(layout, s)) for s in layout.stations if not s.name.startswith("fret ")]
    named += [(x0, "blank starts"), (x1, "blank ends"), *_slanted_ends(layout)]
    named += [
        (x, f"body's cut-out {word}")
        for hole in layout.body.cut_outs
        for x, word in ((hole.x_from, "begins"), (hole.x_to, "ends"))
        if x0 <= x <= x1
    ]
    stops = []
    for setting in router_settings(layout):
        for x, end in ((setting.stop_start, Toward.HEAD), (setting.stop_end, Toward.BODY)):
            if x is not None and x0 <= x <= x1:
                stops.append((x, f"stop {plain(setting.step.name)}, {layout.side(end)}"))
    dimensions = []
    for group, layer in ((named, layers.STATIONS), (stops, layers.STOPS)):
        places: dict[float, list[str]] = {}
        for x, name in sorted(group):
            if name not in (there := places.setdefault(round(x, 4), [])):
                there.append(name)
        for x, names in places.items():
            dimensions += [
                Dimension(x, f"{'; '.join(two)}: {with_unit(x, unit)}", layers.DATUM if x == 0 else layer)
                for two in _by_two(names)
            ]
    return dimensions


def _reading(layout: Layout) -> list[str]:
    """Sentences on how to read the drawing, above the plan."""
    edge = "upper" if layout.left_handed else "lower"
    hand = " Left-handed." if layout.left_handed else ""
    marks = side_mark_words(layout)
    slanted = " Frets are marked where they cross the centre line." if layout.frets.slope(0) else ""
    return [
        f"Seen from above, {layout.side_up} side up.{hand} x = 0 is {datum_words(layout)}.",
        "Mark every station from x = 0, never one from another." + slanted,
        f"The {edge} edge is the reference edge (bass side): fence and square always there.",
        *(wrap(marks, LETTERS, READ) if marks else ()),
        *(wrap(strips, LETTERS, READ) if (strips := strip_words(layout)) else ()),
    ]


def _slanted_ends(layout: Layout) -> list[tuple[float, str]]:
    """Corners of a nut and of a fretboard's ends that are not square to the centre line."""
    board, nut = layout.fretboard, layout.nut
    back_bass, front_bass, front_treble, back_treble = (x for x, _ in nut.corners)
    found = []
    if abs(nut.slope) > 0:
        found += [(front_bass, "nut's front, bass edge"), (back_bass, "nut's back, bass edge")]
        found += [(front_treble, "nut's front, treble edge"), (back_treble, "nut's back, treble edge")]
    if abs(board.slope_end) > 0:
        found += [(x, f"fretboard's end, {side} edge") for (x, _), side in zip(board.end, Side, strict=True)]
    return found


def _name(layout: Layout, station: Station) -> str:
    """A station in plain words, a bar told apart from its longer channel."""
    for bar in layout.bars:
        if station.name.startswith(f"{bar.name} ") and min(abs(station.x - x) for x in (bar.x_start, bar.x_end)) > NEAR:
            return plain(station.name.replace(bar.name, f"{bar.name} channel"))
    return plain(station.name)


def _by_two(names: list[str]) -> list[list[str]]:
    return [names[k : k + 2] for k in range(0, len(names), 2)]
