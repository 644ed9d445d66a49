"""A section of the head square to its face, through a row of tuner holes. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.layout.hardware.slots import sides_at
from neckmodel.layout.hardware.tuners import HOUSING_HEIGHT
from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Box, Layer
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.hand import as_built
from neckmodel.sheets.views.slots import rollers_at, slot_words
from neckmodel.sheets.views.strips import draw_strips

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.tuners import TunerPlace

SAME = 0.5  # mm; tuners nearer to each other along the head lie in one section
OVER = 2.0  # mm that a hole's axis is drawn beyond the wood


def head_places(layout: Layout, findings: Findings | None) -> tuple[tuple[str, float], ...]:
    """(names of the tuners, x) of the sections shown: nearest to the nut, farthest from it, and where the checks found
    the least wood round a hole."""
    rows: list[tuple[list[str], float]] = []
    places = [(tuner.on_face[0], tuner.name) for tuner in layout.tuners]
    places += [(layout.head.on_face(roller.along)[0], roller.name) for roller in layout.rollers]
    for x, name in ((x, plain(name)) for x, name in sorted(places, key=lambda place: -place[0])):
        if rows and rows[-1][1] - x < SAME:
            rows[-1][0].append(name)
        else:
            rows.append(([name], x))
    chosen = {0, len(rows) - 1} if rows else set()
    for found in findings.findings if findings is not None else ():
        if found.check == "wall/tuner" and found.at is not None and rows:
            where = found.at.x
            chosen.add(min(range(len(rows)), key=lambda k: abs(rows[k][1] - where)))
    return tuple(("; ".join(rows[k][0]), rows[k][1]) for k in sorted(chosen))


def tuners_at(layout: Layout, x: float) -> list[TunerPlace]:
    """The tuners in the section at x."""
    return [tuner for tuner in layout.tuners if abs(tuner.on_face[0] - x) < SAME]


def head_sides(layout: Layout, x: float) -> Point:
    """y of the head's edge on the bass and on the treble side at x, right-handed, mm; the blank's edge where the head
    has none."""
    return sides_at(layout.outside, x)


def draw_head_section(sketch: Sketch, layout: Layout, x: float, at: Point, scale: float) -> None:
    """Draws the section as seen from the head, like every section. at: the middle of the face."""
    flat, thick = Sketch(), layout.head.thickness
    low, high = head_sides(layout, x)

    def box(layer: Layer, found: Box, filled: bool = False) -> None:
        y0, z0, y1, z1 = found
        corners = [(at[0] - y * scale, at[1] + z * scale) for y, z in ((y0, z0), (y1, z0), (y1, z1), (y0, z1))]
        flat.add(rounded_path(layer, [(corner, 0.0) for corner in corners], filled))

    box(layers.WOOD, (low, -thick, high, 0.0), True)
    if layout.strips:
        skin = np.array([(low, 0.0), (low, -thick), (high, -thick), (high, 0.0)])
        draw_strips(flat, layout, skin, lambda point: (at[0] - point[0] * scale, at[1] + point[1] * scale))
        box(layers.WOOD, (low, -thick, high, 0.0))
    if (pair := layout.slots) is not None and layout.head.on_face(pair.far)[0] < x < layout.head.on_face(pair.near)[0]:
        for y0, y1 in ((-pair.outer, -pair.inner), (pair.inner, pair.outer)):
            box(layers.HOLE_CUT, (y0, -thick, y1, 0.0), True)
    for roller in rollers_at(layout, x):
        y0, y1 = sorted((roller.y_end, low if roller.sign < 0 else high))
        box(layers.HOLE_CUT, (y0, -roller.below - roller.hole / 2, y1, -roller.below + roller.hole / 2), True)
        ends = [(at[0] - y * scale, at[1] - roller.below * scale) for y in (y0 - OVER, y1 + OVER)]
        flat.line(layers.CENTRE, *ends)
    for tuner in tuners_at(layout, x):
        y, half, wide = tuner.on_face[1], tuner.hole / 2, tuner.housing_width / 2
        box(layers.HOLE_CUT, (y - half, -thick, y + half, 0.0), True)
        box(layers.HOUSING, (y - wide, -thick - HOUSING_HEIGHT, y + wide, -thick))
        ends = [(at[0] - y * scale, at[1] + z * scale) for z in (OVER, -thick - HOUSING_HEIGHT - OVER)]
        flat.line(layers.CENTRE, *ends)
    sketch.add(*as_built(layout, flat.marks, at[0]))


def head_words(layout: Layout, x: float, unit: str) -> list[str]:
    """The numbers beside the section."""
    head = layout.head
    low, high = head_sides(layout, x)
    along = (head.x_line - x) / math.cos(math.radians(head.angle))
    facts = [
        f"x {with_unit(x, unit)}, {with_unit(along, unit)} from the head line along the face",
        f"head {with_unit(head.thickness, unit)} thick, {with_unit(high - low, unit)} wide",
    ]
    for tuner in tuners_at(layout, x):
        y = tuner.on_face[1]
        side = min(y - low, high - y) - tuner.hole / 2
        across = f"y {with_unit(layout.across(y), unit)}, {tool_size(tuner.hole, unit)} across"
        facts.append(f"{plain(tuner.name)}: {across}")
        facts.append(f"wood from its hole to the head's side: {with_unit(side, unit)}")
    return [*facts, *slot_words(layout, x, unit)]
