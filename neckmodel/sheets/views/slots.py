"""A slotted head in the drawings: its slots, the ramps before them and the holes of its rollers. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.contour import arc_points
from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.layout.hardware.slots import sides_at
from neckmodel.layout.sides import SIGNS
from neckmodel.lengths import tool_size, with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rectangle
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.sketch import Sketch

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.slots import Roller, SlotPair

SAME = 0.5  # mm; rollers nearer to each other along the head lie in one section
CROSS = 2.0  # mm that a hole's cross reaches beyond it


def slot_paths(layout: Layout, filled: bool = False) -> Iterator[Path]:
    """Both slots, true to size on the face, x from the head line; right-handed."""
    pair = layout.slots
    if pair is None:
        return
    for _, sign in SIGNS:
        y = sorted((sign * pair.inner, sign * pair.outer))
        radii = (pair.radius, pair.radius)
        yield rectangle(layers.HEAD_SLOTS, (pair.far, pair.near), (y[0], y[1]), radii, filled)


def bore_axes(layout: Layout) -> Iterator[tuple[Point, Point]]:
    """The axis of each bore from the head's side to its inner end; on the face, x from the head line."""
    for one in layout.rollers:
        edge = sides_at(layout.outside, one.middle[0])[one.sign > 0]
        yield (one.along, edge), (one.along, one.y_end)


def ramp_lines(pair: SlotPair) -> Iterator[tuple[Point, Point]]:
    """Where each ramp begins, and its two sides as far as the slot; on the face, x from the head line."""
    if pair.ramp is None:
        return
    for _, sign in SIGNS:
        yield (pair.ramp_start, sign * pair.inner), (pair.ramp_start, sign * pair.outer)
        for y in (pair.inner, pair.outer):
            yield (pair.ramp_start, sign * y), (pair.near - pair.radius, sign * y)


def draw_slots_plan(sketch: Sketch, layout: Layout) -> None:
    """Slots, ramps and bores as they are seen from above, on an inclined face."""
    pair, head = layout.slots, layout.head
    if pair is None:
        return

    def down(point: Point) -> Point:
        return head.on_face(point[0])[0], point[1]

    for path in slot_paths(layout):
        corners: list[Point] = []
        for start, end, bulge in path.stretches():
            bend = arc_points((*start, bulge), (*end, 0.0)) if bulge else np.array([end])
            corners += [(float(x), float(y)) for x, y in bend]
        sketch.area(layers.HEAD_SLOTS, [down(corner) for corner in corners])
    for start, end in ramp_lines(pair):
        sketch.line(layers.HEAD_SLOTS, down(start), down(end))
    for roller in pair.rollers:
        x, edge = roller.middle[0], sides_at(layout.outside, roller.middle[0])[roller.sign > 0]
        for side in (-roller.hole / 2, roller.hole / 2):
            sketch.line(layers.TUNERS, (x + side, roller.y_end), (x + side, edge))
        sketch.line(layers.TUNERS, (x - roller.hole / 2, roller.y_end), (x + roller.hole / 2, roller.y_end))
        sketch.line(layers.CENTRE, (x, roller.y_end - roller.sign * CROSS), (x, edge + roller.sign * 3 * CROSS))


def draw_slots_side(sketch: Sketch, layout: Layout, z0: float) -> None:
    """The bores as circles, and the slots' ends as hidden edges."""
    pair, head = layout.slots, layout.head
    if pair is None:
        return
    turn = math.radians(head.angle)
    for along in (pair.near, pair.far):
        x, z = head.on_face(along)
        foot = (x + pair.thickness * math.sin(turn), z0 + z - pair.thickness * math.cos(turn))
        sketch.line(layers.HIDDEN, (x, z0 + z), foot)
    if pair.ramp is not None:
        (x0, z_top), (x1, z1) = head.on_face(pair.ramp_start), head.on_face(pair.near)
        deep = pair.ramp[0] * math.tan(math.radians(pair.ramp[1]))
        low = (x1 + deep * math.sin(turn), z0 + z1 - deep * math.cos(turn))
        sketch.line(layers.HIDDEN, (x0, z0 + z_top), low)
    for x, z, hole in sorted({(r.middle[0], r.middle[2], r.hole) for r in pair.rollers}):
        sketch.circle(layers.TUNERS, (x, z0 + z), hole / 2, CROSS)


def rollers_at(layout: Layout, x: float) -> list[Roller]:
    """The rollers in the section at x."""
    return [roller for roller in layout.rollers if abs(layout.head.on_face(roller.along)[0] - x) < SAME]


def slot_words(layout: Layout, x: float, unit: str) -> list[str]:
    """The numbers beside a section of the head through its slots."""
    pair, facts = layout.slots, list[str]()
    if pair is None:
        return facts
    low, high = sides_at(layout.outside, x)
    least = with_unit(min(-low, high) - pair.outer, unit)
    facts.append(f"slots {with_unit(pair.width, unit)} wide, {with_unit(pair.core, unit)} between them")
    facts.append(f"wood outside them here: {least} at least")
    for one in rollers_at(layout, x):
        facts.append(
            f"{plain(one.name)}: hole {tool_size(one.hole, unit)} across, {with_unit(one.below, unit)} below the face, "
            f"from the {one.side} side to y {with_unit(layout.across(one.y_end), unit)}"
        )
    return facts


def face_words(layout: Layout, unit: str) -> list[str]:
    """Sentences on slots and bores for the sheet of the head's face."""
    pair, says = layout.slots, list[str]()
    if pair is None:
        return says
    says.append(
        f"slots: x {with_unit(pair.near, unit)} to {with_unit(pair.far, unit)}, between {with_unit(pair.inner, unit)} "
        f"and {with_unit(pair.outer, unit)} from the centre line on either side, through, square to the face"
    )
    if pair.ramp is not None:
        says.append(
            f"ramps: from x {with_unit(pair.ramp_start, unit)}, falling by {pair.ramp[1]:g} deg toward each slot"
        )
    for one in pair.rollers:
        says.append(
            f"{plain(one.name)}: bored from the {one.side} side, x {with_unit(one.along, unit)}, "
            f"{with_unit(one.below, unit)} below the face, hole {tool_size(one.hole, unit)} across, to y "
            f"{with_unit(layout.across(one.y_end), unit)}"
        )
    return says


def slot_cuts(layout: Layout) -> list[dict[str, object]]:
    """What a machine cuts from the face, and what is bored from the sides, as plain data in mm."""
    pair, cuts = layout.slots, list[dict[str, object]]()
    if pair is None:
        return cuts
    cuts.append({"layer": layers.HEAD_SLOTS.name, "through": True, "thickness": pair.thickness})
    if pair.ramp is not None:
        falls = {"from": pair.ramp_start, "to": pair.near, "angle": pair.ramp[1]}
        cuts.append({"layer": layers.RAMPS.name, **falls, "through": False})
    for one in pair.rollers:
        own = {
            "layer": layers.SIDE_BORES.name,
            "tuner": one.name,
            "x": one.along,
            "diameter": one.hole,
            "from": str(one.side),
        }
        cuts.append({**own, "below_face": one.below, "y_end": layout.across(one.y_end), "through": False})
    return cuts
