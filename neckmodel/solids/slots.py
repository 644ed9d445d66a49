"""What is cut out of a slotted head: its slots with their ramps, and the holes of its rollers. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import replace

from neckmodel.geometry.paths import pocket, polygon
from neckmodel.layout.hardware.slots import PAST_SIDE, Roller, SlotPair, in_frame
from neckmodel.layout.layout import Layout
from neckmodel.layout.neck.outside import Head
from neckmodel.layout.sides import SIGNS
from neckmodel.solids.kernel.gate import fuse, gate
from neckmodel.solids.kernel.shapes import arc_edge, line_edge, plane_face, polygon_face, swept, wire
from neckmodel.solids.kernel.turned import rod_of
from neckmodel.solids.parts import Tool

# isort: split
import cadquery as cq

OVER = 2.0  # mm by which a tool reaches over the face and under the back
INTO = 1.0  # mm by which a ramp's tool goes on into the open slot, so that the two share more than a wall


def slot_tools(layout: Layout) -> tuple[Tool, ...]:
    """Both slots, bass side first, each with its ramp; then the hole of every roller. () for other heads."""
    pair = layout.slots
    if pair is None:
        return ()
    slots = [Tool(f"head-slot-{k + 1}", _slot(layout.head, pair, sign)) for k, (_, sign) in enumerate(SIGNS)]
    return (*slots, *(Tool(r.name, rod_of(r.start, r.end, r.hole, r.name)) for r in pair.rollers))


def bare_slots(layout: Layout) -> tuple[Tool, ...]:
    """Both slots without their ramps, bass side first; () for other heads."""
    pair = layout.slots
    if pair is None:
        return ()
    bare = replace(pair, ramp=None)
    return tuple(Tool(f"head-slot-{k + 1}", _slot(layout.head, bare, sign)) for k, (_, sign) in enumerate(SIGNS))


def roller_solid(layout: Layout, roller: Roller) -> cq.Solid:
    """The roller, which fills its hole from its inner end to a little beyond the head's side."""
    y = roller.sign * (layout.head.widest + PAST_SIDE)
    return rod_of((roller.start[0], y, roller.start[2]), roller.end, roller.hole, roller.name)


def _slot(head: Head, pair: SlotPair, sign: int) -> cq.Solid:
    name, middle = "slot in the head", sign * pair.middle
    plan = pocket(pair.far, pair.near, pair.width, pair.radius > 0, pair.radius > 0)
    bottom = -pair.thickness - OVER
    edges = []
    for start, step in plan.pieces():
        a, b = (in_frame(head, along, y + middle, bottom) for along, y in (start, step.end))
        if step.through is None:
            edges.append(line_edge(a, b))
        else:
            along, y = step.through
            edges.append(arc_edge(a, in_frame(head, along, y + middle, bottom), b))
    turn, tall = math.radians(head.angle), pair.thickness + 2 * OVER
    up = (-tall * math.sin(turn), 0.0, tall * math.cos(turn))
    slot = gate(swept(plane_face(wire(edges, name), (), name), up, name), name, abs(plan.area()) * tall)
    return slot if pair.ramp is None else fuse(slot, [_ramp(head, pair, sign)], name)


def _ramp(head: Head, pair: SlotPair, sign: int) -> cq.Solid:
    """Before the slot and through its rounded end, as wide as the slot."""
    name, fall = "ramp before a slot", math.tan(math.radians(0.0 if pair.ramp is None else pair.ramp[1]))
    end = pair.near - pair.radius - INTO
    low = -(pair.ramp_start - end) * fall
    corners = [(pair.ramp_start + OVER / fall, OVER), (end, OVER), (end, low)]
    y = sorted((sign * pair.inner, sign * pair.outer))
    face = polygon_face([in_frame(head, along, y[0], over) for along, over in corners], name)
    area = abs(polygon(corners).area())
    return gate(swept(face, (0.0, y[1] - y[0], 0.0), name), name, area * (y[1] - y[0]))
