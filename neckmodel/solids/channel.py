"""The solids that cut the channel and the holes: one for each step of the layout, reaching above the wood."""

from __future__ import annotations

import math

import numpy as np

from neckmodel.geometry.paths import PlanPath
from neckmodel.geometry.paths import Step as Stretch
from neckmodel.geometry.types import Point
from neckmodel.layout import Layout
from neckmodel.layout.channel.behind import GROOVE
from neckmodel.layout.channel.step import EndKind, Step
from neckmodel.layout.hardware.clamp import ClampScrew
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.memory.remembered import remembered
from neckmodel.solids.behind import bored, opened, room, strip_region
from neckmodel.solids.hardware.compression import floor_edge
from neckmodel.solids.kernel.gate import common, gate, solid_bytes
from neckmodel.solids.kernel.shapes import sideways_over, upright
from neckmodel.solids.neck.outline import rounded
from neckmodel.solids.parts import Tool
from neckmodel.solids.slots import slot_tools

# isort: split
import cadquery as cq
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

OVER = 2.0  # mm by which a tool reaches above the glue plane, and past the wood at an open end
NEAR = 1e-6  # mm, an end this near to the wood's lies at it
FULL_ROUND = 1e-9  # mm; corners this near to half the width make a half circle


def step_path(step: Step, past_start: float = 0.0, past_end: float = 0.0) -> PlanPath:
    """Closed plan outline of a step, its corners as the cutter leaves them."""
    x0, x1, half = step.x_start - past_start, step.x_end + past_end, step.width / 2
    y0, y1 = step.y - half, step.y + half
    corners = (
        ((x1, y0), step.corner_end),
        ((x1, y1), step.corner_end),
        ((x0, y1), step.corner_start),
        ((x0, y0), step.corner_start),
    )
    points = [corner for corner, _ in corners]
    stretches: list[Stretch] = []
    for k, (corner, radius) in enumerate(corners):
        before, after = points[k - 1], points[(k + 1) % 4]
        stretches += rounded(before, corner, after, min(radius, half))
    start = stretches[-1].end
    kept: list[Stretch] = []
    here: Point = start
    for stretch in stretches:  # a half circle leaves no straight stretch between its two corners
        if math.dist(here, stretch.end) > FULL_ROUND:
            kept.append(stretch)
            here = stretch.end
    return PlanPath(start, tuple(kept))


def _past(layout: Layout, step: Step) -> tuple[float, float]:
    """How far a step's tool reaches past the wood's edge at its open ends, mm."""
    at_head = step.end_start == EndKind.OPEN and step.x_start <= layout.head.x_top + NEAR
    at_heel = step.end_end == EndKind.OPEN and step.x_end >= layout.heel.x_end - NEAR
    return OVER if at_head else 0.0, OVER if at_heel else 0.0


def plan_of(layout: Layout, step: Step) -> PlanPath:
    """The plan outline of a step's tool, past the wood's edge at an open end."""
    return step_path(step, *_past(layout, step))


def tool(layout: Layout, step: Step) -> Tool:
    """The solid that a step takes out of the wood. At an open end it reaches past the wood's edge."""
    if step.bored:
        return Tool(step.name, bored(layout, step))
    path, operation = plan_of(layout, step), f"{step.name} tool"
    if step.behind:
        return Tool(step.name, room(step, path, operation))
    past_start, past_end = _past(layout, step)
    if step.is_level:
        return Tool(step.name, upright(path, -step.depth, OVER, operation))
    x0, x1 = step.x_start - past_start, step.x_end + past_end
    solid = _over_floor(step, x0, x1, operation)
    if step.corner_start > 0 or step.corner_end > 0:
        floor = step.floor.between(x0, x1)
        solid = common(solid, [upright(path, -floor.extremes()[1] - OVER, OVER + 1.0, operation)], operation)
    return Tool(step.name, solid)


@remembered(solid_bytes)
def _over_floor(step: Step, x0: float, x1: float, operation: str) -> cq.Solid:
    """The space over a sloping or curved floor, exactly: the floor is a straight line or a Bezier curve of degree 2."""
    y0, y1 = step.y - step.width / 2, step.y + step.width / 2
    floor = step.floor.between(x0, x1)
    volume = (floor.mean() + OVER) * (x1 - x0) * step.width
    return gate(sideways_over(floor_edge(floor, y0), y0, y1, OVER, operation), operation, volume)


@remembered(solid_bytes)
def screw_hole(screw: Screw) -> cq.Solid:
    """The hole drilled for a screw, dowel or insert, from below the heel to its point."""
    length = screw.z_point - screw.z_bottom + OVER
    return cq.Solid.makeCylinder(screw.hole / 2, length, cq.Vector(screw.x, screw.y, screw.z_bottom - OVER))


@remembered(solid_bytes)
def tuner_hole(tuner: TunerPlace) -> cq.Solid:
    """The hole through the head, square to its face. Its seam lies toward the far end, away from the neck's skin: a
    STEP file with a hole that meets the skin at its seam is read back broken."""
    axis = np.array(tuner.axis)
    bottom = np.array(tuner.on_face) - axis * (tuner.head_thickness + OVER)
    length = tuner.head_thickness + 2 * OVER
    place = gp_Ax2(gp_Pnt(*bottom.tolist()), gp_Dir(*tuner.axis), gp_Dir(-1.0, 0.0, 0.0))
    return cq.Solid(BRepPrimAPI_MakeCylinder(place, tuner.hole / 2, length).Solid())


def clamp_hole(screw: ClampScrew) -> cq.Solid:
    """The hole drilled for a clamp's screw, from above the glue plane down to its flat bottom."""
    return cq.Solid.makeCylinder(screw.diameter / 2, screw.depth + OVER, cq.Vector(screw.x, screw.y, -screw.depth))


def peg_holes(layout: Layout) -> tuple[Tool, ...]:
    """The hole for the peg of a string that starts later, from outside the skin to its end; () without one. It is
    bored when the neck is carved, and so is not in the blank."""
    peg = layout.peg
    if peg is None:
        return ()
    along = np.subtract(peg.end, peg.mouth) / peg.depth
    start = np.array(peg.mouth) - along * (peg.hole + OVER)
    length = peg.depth + peg.hole + OVER
    solid = cq.Solid.makeCylinder(peg.hole / 2, length, cq.Vector(*start.tolist()), cq.Vector(*along.tolist()))
    return (Tool(peg.name, solid),)


def tools(layout: Layout) -> tuple[Tool, ...]:
    """The cutting solid of every step, in the order of the steps."""
    return tuple(tool(layout, step) for step in layout.steps)


def routed(layout: Layout) -> tuple[cq.Solid, ...]:
    """What is taken out of the blank for the channel: the steps' tools, or of a channel cut from the back all that
    lies open behind its floor, and the groove of its strip."""
    found = [
        opened(layout, step, plan_of(layout, step)) if step.behind else tool(layout, step).solid
        for step in layout.steps
    ]
    strip = layout.back_strip
    if strip is not None and strip.groove is not None:
        found.append(opened(layout, strip.groove, plan_of(layout, strip.groove)))
    return tuple(found)


def back_strip_region(layout: Layout) -> tuple[Tool, ...]:
    """The region of the strip behind a channel cut from the back; () without one."""
    strip = layout.back_strip
    if strip is None:
        return ()
    paths = {step.name: plan_of(layout, step) for step in layout.steps if step.behind}
    if strip.groove is not None:
        paths[GROOVE] = plan_of(layout, strip.groove)
    region = strip_region(layout, paths)
    return () if region is None else (region,)


def holes(layout: Layout) -> tuple[Tool, ...]:
    """The solid of every hole for screws, tuners and a clamp's screws, and of the slots in a slotted head."""
    screws = tuple(Tool(s.name, screw_hole(s)) for s in layout.screws)
    if layout.clamp is not None:
        screws += tuple(Tool(s.name, clamp_hole(s)) for s in layout.clamp.screws)
    return screws + tuple(Tool(t.name, tuner_hole(t)) for t in layout.tuners) + slot_tools(layout)
