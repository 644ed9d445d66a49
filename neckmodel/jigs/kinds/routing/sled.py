"""A router's sled for a floor that is not level: two rails that clasp the blank's sides, and a carriage that slides on
them. The rails are printed lying on their outer sides, so that their curve is drawn in the printer's plane."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point, Point3
from neckmodel.jigs.kinds.routing.opening import APART, FENCE_DEPTH, PIN
from neckmodel.jigs.kinds.routing.rails import FOOT, MARK, SKIRT, SKIRT_DEEP, SledPlan
from neckmodel.jigs.shaping import box, cylinder, placed, prism, turned
from neckmodel.jigs.split import REACH, Joint, clearance, joint_places, split
from neckmodel.jigs.types import ON_ITS_BASS_SIDE, ON_ITS_TREBLE_SIDE, UPSIDE_DOWN, Bare, Label, Pose, Whole
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side
from neckmodel.solids.kernel.gate import cut, fuse, gate
from neckmodel.solids.kernel.shapes import arc_edge, line_edge, plane_face, swept, wire

# isort: split
import cadquery as cq

if TYPE_CHECKING:
    from neckmodel.design.tables.workshop import Printer

SURE = 0.98  # of the steepest slope that prints without support; keeps the pins' holes off that limit
LONG_SIDES = ((Side.BASS, -1.0, ON_ITS_BASS_SIDE), (Side.TREBLE, 1.0, ON_ITS_TREBLE_SIDE))


@dataclass(frozen=True)
class SledPieces:
    """The pieces of one sled, and the wholes that were split into pieces."""

    rails: tuple[Bare, ...]
    carriage: Bare
    wholes: tuple[Whole, ...]


def draft_sled(layout: Layout, plan: SledPlan) -> SledPieces:
    """Both rails, in pieces where the bed requires it, and the carriage, half way along them."""
    rails: list[Bare] = []
    wholes = []
    for side, way, pose in LONG_SIDES:
        pieces, whole = _rail(layout, plan, side, way, pose)
        rails += pieces
        wholes += [whole] if len(pieces) > 1 else []
    return SledPieces(tuple(rails), _carriage(plan), tuple(wholes))


def _rail(layout: Layout, plan: SledPlan, side: Side, way: float, pose: Pose) -> tuple[list[Bare], Whole]:
    name, fit = f"{plan.name}-rail-{side}", layout.design.workshop.printer.fit_per_side
    solid = _rail_solid(layout, plan, way)
    joints = _joints(layout, plan, pose)
    printed = turned(solid, pose)
    cuts = split(printed, joints, fit, name)
    names = [name if not joints else f"{name}-{one.name}" for one in cuts]
    pieces = [
        Bare(each, f"{side} rail of the {plan.name}'s sled", turned(one.solid, pose.undone), pose, label)
        for each, one, label in zip(names, cuts, _labels(plan, side, way, joints), strict=True)
    ]
    return pieces, Whole(name, solid, tuple(names), clearance(printed, joints, fit, "joints' fit") if joints else 0.0)


def _rail_solid(layout: Layout, plan: SledPlan, way: float) -> cq.Solid:
    operation = f"rail of the {plan.name}'s sled"
    ledge = sorted((way * plan.inner, way * (plan.side + 1.0)))
    fence = sorted((way * plan.side, way * plan.outer))
    body = fuse(
        _under_track(plan, 0.0, (ledge[0], ledge[1]), operation),
        [_under_track(plan, -FENCE_DEPTH, (fence[0], fence[1]), operation)],
        operation,
    )
    printer = layout.design.workshop.printer
    flat = printer.nozzle + 0.1  # half the width of holes and notches at their tips, which would otherwise print closed
    tools = [_pin_hole(plan, at, printer) for at in plan.pins if way * at[1] > 0]
    for _, x in plan.marks:
        tip, edge = way * (plan.inner + MARK), way * (plan.inner - 1.0)
        wide = MARK + 1.0 + flat
        outline = [(x - wide, edge), (x + wide, edge), (x + flat, tip), (x - flat, tip)]
        tools.append(prism(outline, -1.0, _over(plan), "station's notch"))
    return cut(body, tools, operation)


def _pin_hole(plan: SledPlan, at: Point, printer: Printer) -> cq.Solid:
    """A pin's hole across the layers: a diamond round the pin, its upper sides as steep as the printer needs, its tips
    cut off."""
    (x, y), lean, flat = at, math.radians(SURE * printer.overhang), printer.nozzle + 0.1
    reach = PIN / 2 + printer.fit_per_side
    along, tip = reach / math.cos(lean), reach / math.sin(lean) - flat / math.tan(lean)
    half = [(x + flat, y - tip), (x + along, y), (x + flat, y + tip)]
    outline = [*half, *((2 * x - a, b) for a, b in reversed(half))]
    return prism(outline, -1.0, _over(plan), "pin's hole")


def _over(plan: SledPlan) -> float:
    """A level above all of the rails."""
    return max(plan.first.point(0.0, 2 * plan.top)[1], plan.last.point(0.0, 2 * plan.top)[1]) + 10.0


def _under_track(plan: SledPlan, bottom: float, y: Point, operation: str) -> cq.Solid:
    """The material under the rails' top, stops included, down to a level."""
    (head, body), (x0, x1) = stop_faces(plan), plan.x_range
    outline = [(x0, head[1][1]), (x0, bottom), (x1, bottom), (x1, body[1][1]), body[1], body[0]]

    def at(point: Point) -> Point3:
        return point[0], y[0], point[1]

    middle = (head[0][0] + body[0][0]) / 2
    through = at((middle, plan.rail.height(middle)))
    straight = plan.rail.curvature == 0
    top = line_edge(at(body[0]), at(head[0])) if straight else arc_edge(at(body[0]), through, at(head[0]))
    sides = [line_edge(at(a), at(b)) for a, b in pairwise(outline)]
    last = [line_edge(at(head[0]), at(head[1])), line_edge(at(head[1]), at(outline[0]))]
    face = plane_face(wire([*sides, top, *last], operation))
    return gate(swept(face, (0.0, y[1] - y[0], 0.0), operation), operation)


def stop_faces(plan: SledPlan) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """(foot, top) of the stop's face on the head side, and of the one on the body side: the carriage's own ends where
    it meets them."""
    faces = []
    for pose, u in ((plan.first, -plan.half_length), (plan.last, plan.half_length)):
        v = plan.down
        for _ in range(20):  # a carriage on its inner edges stands clear of the rails at its ends
            x, z = pose.point(u, v)
            v -= z - plan.rail.height(x)
        faces.append((pose.point(u, v), pose.point(u, plan.stop_top)))
    return faces[0], faces[1]


def _joints(layout: Layout, plan: SledPlan, pose: Pose) -> tuple[Joint, ...]:
    """Keys in the plane of the rail's side, at half height where the rail is low."""
    bed, (x0, x1), (head, body) = layout.design.workshop.printer.bed, plan.x_range, stop_faces(plan)
    avoid = [(x0, max(point[0] for point in head) + APART), (min(point[0] for point in body) - APART, x1)]
    avoid += [(x - PIN - APART, x + PIN + APART) for x, _ in plan.pins]
    avoid += [(x - 2 * MARK, x + 2 * MARK) for _, x in plan.marks]
    joints = []
    for x in joint_places(x0, x1, max(bed[0], bed[1]), avoid):
        middle = (plan.rail.lowest(x, x + REACH) - FENCE_DEPTH) / 2
        joints.append(Joint(x, (pose.turn((x, 0.0, middle))[1],)))
    return tuple(joints)


def _labels(plan: SledPlan, side: Side, way: float, joints: tuple[Joint, ...]) -> list[Label]:
    """On each piece's outer side, between its joints."""
    x0, x1 = plan.x_range
    starts = [x0 + APART / 2, *(joint.x + REACH + APART / 2 for joint in joints)]
    ends = [*(joint.x - APART / 2 for joint in joints), x1 - APART / 2]
    labels = []
    for k, (start, end) in enumerate(zip(starts, ends, strict=True)):
        high = plan.rail.lowest(start, end)
        words = (plan.name, f"{k + 1}/{len(starts)}", side, "up")
        at = ((start + end) / 2, way * plan.outer, (high - FENCE_DEPTH) / 2)
        room = (end - start, high + FENCE_DEPTH - 1.0)
        labels.append(Label(words, at, (-way, 0.0, 0.0), (0.0, 0.0, 1.0), *room))
    return labels


def _carriage(plan: SledPlan) -> Bare:
    """The carriage, drawn level with the cutter's tip at (0, 0, 0), then put on the rails."""
    bush, name = plan.bush, f"carriage of the {plan.name}'s sled"
    long, under = plan.half_length, plan.down + plan.foot
    inside = plan.outer + plan.play
    wide = inside + SKIRT
    body = box((-long, long), (-wide, wide), (under, plan.top), name)
    below = []
    for way in (-1.0, 1.0):
        skirt = sorted((way * inside, way * wide))
        below.append(box((-long, long), (skirt[0], skirt[1]), (plan.down - SKIRT_DEEP, under + 1.0), name))
        for end in (-1.0, 1.0):
            u = sorted((end * (long - FOOT), end * long))
            y = sorted((way * plan.inner, way * inside))
            below.append(box((u[0], u[1]), (y[0], y[1]), (plan.down, under + 1.0), name))
    hole = cylinder((0.0, plan.setting.step.y, plan.down - 1.0), bush / 2, plan.top - plan.down + 2.0)
    pose = plan.tip.at(0.0)
    cosine, sine = math.cos(pose.slope), math.sin(pose.slope)
    turn = Pose(((cosine, 0.0, -sine), (0.0, 1.0, 0.0), (sine, 0.0, cosine)))
    solid = placed(cut(fuse(body, below, name), [hole], name), turn.rows, (pose.x, 0.0, pose.z))
    room = (bush / 2 + APART, long - APART)
    x, z = pose.point(sum(room) / 2, plan.top)
    label = Label(
        (plan.name, "carriage", "body side", "up"),
        (x, 0.0, z),
        turn.turn((0.0, -1.0, 0.0)),
        turn.turn((1.0, 0.0, 0.0)),
        2 * (wide - APART),
        room[1] - room[0],
    )
    says = f"carriage of the {plan.name}'s sled, for the router to stand on"
    return Bare(f"{plan.name}-carriage", says, solid, UPSIDE_DOWN.after(turn.undone), label)


def usage(plan: SledPlan) -> list[str]:
    """How to set up the sled and work with it."""
    cutting, set_to = plan.setting.cutting, plan.top
    said = [
        f"{plan.name}: clamp both rails against the blank's sides, their ledges down on the glue plane, a clamp at "
        "each end below the carriage's skirts; pins go flush with the ledges.",
        f"{plan.name}: the router stands on the carriage, its bush in the hole: ease the hole until the bush just "
        "turns, and tape or screw the base down. Slide the carriage from stop to stop, pressed to one side, then to "
        "the other, so that the cutter always works against the feed; lift it only when the cutter stands still.",
        f"{plan.name}: cutter {plan.setting.cutter:.2f} mm; at full depth its tip stands {set_to:.2f} mm below the "
        f"router's base; {cutting.passes} passes, each {cutting.pass_depth:.2f} mm deeper, so begin at "
        f"{set_to - cutting.pass_depth * (cutting.passes - 1):.2f} mm.",
    ]
    if plan.tip.curvature != 0:
        side = "outer" if plan.tip.curvature > 0 else "inner"
        said.append(
            f"{plan.name}: the carriage bears on the {side} edges of its feet only; keep these sharp. On rails of "
            f"radius {abs(1 / plan.rail.curvature):.1f} mm the floor comes out with a radius of {plan.sled.radius:.1f} "
            f"mm, at most {plan.sled.off:.4f} mm off the planned curve."
        )
    return said
