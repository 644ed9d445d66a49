"""Solids with known walls, and two necks without any: shared by the tests of the measuring engine."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cadquery as cq
import numpy as np

from neckmodel.solids.parts import Opening

TOP = (Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -1000.0, 1000.0),)
NECK_OPENINGS = (
    Opening("glue plane", (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), -6.0, 470.0),
    Opening("head face", (0.0, 0.0, -10.0), (0.0, 0.0, 1.0), -170.0, -6.0),
    Opening("step", (-6.0, 0.0, -5.0), (-1.0, 0.0, 0.0), -6.0, -6.0),
)


def pocket(x0: float, x1: float, width: float, depth: float, y: float = 0.0) -> cq.Solid:
    """A square-ended tool from `depth` below the glue plane to 2 above it."""
    return cq.Solid.makeBox(x1 - x0, width, depth + 2.0, cq.Vector(x0, y - width / 2, -depth))


def round_ended(x0: float, x1: float, width: float, depth: float) -> cq.Solid:
    plan = cq.Workplane().center((x0 + x1) / 2, 0).slot2D(x1 - x0, width)
    return plan.extrude(depth + 2.0).translate((0, 0, -depth)).val()


def block(x0: float, x1: float, width: float, depth: float) -> cq.Solid:
    return cq.Solid.makeBox(x1 - x0, width, depth, cq.Vector(x0, -width / 2, -depth))


def below_top(solid: cq.Solid) -> cq.Solid:
    """What of a solid lies below z = 0."""
    return solid.cut(cq.Solid.makeBox(800, 800, 400, cq.Vector(-400, -400, 0))).Solids()[0]


def half_cylinder(radius: float, length: float) -> cq.Solid:
    return below_top(cq.Solid.makeCylinder(radius, length, cq.Vector(0, 0, 0), cq.Vector(1, 0, 0)))


def half_cone(radius: float, taper: float, length: float) -> cq.Solid:
    end = radius + taper * length
    return below_top(cq.Solid.makeCone(radius, end, length, cq.Vector(0, 0, 0), cq.Vector(1, 0, 0)))


def half_ball(radius: float) -> cq.Solid:
    return below_top(cq.Workplane().sphere(radius).val())


def wedge(half_width: float, depth: float, length: float) -> cq.Solid:
    profile = cq.Workplane("YZ").polyline([(-half_width, 0), (half_width, 0), (0, -depth)]).close()
    return profile.extrude(length).val()


def hollowed(radius: float, crest: float) -> cq.Solid:
    """A block 100 x 60 x 40 with a round hollow along its underside, whose crest lies at z = -crest."""
    void = cq.Solid.makeCylinder(radius, 140, cq.Vector(-20, 0, -crest - radius), cq.Vector(1, 0, 0))
    return block(0, 100, 60, 40).cut(void).Solids()[0]


def dimple(x: float, y: float, radius: float, crest: float) -> cq.Solid:
    """A ball to cut a hollow with, whose highest point is at z = -crest. Its poles lie level."""
    ball = cq.Workplane().sphere(radius).rotate((0, 0, 0), (1, 0, 0), 90)
    return ball.rotate((0, 0, 0), (0, 1, 0), 11).translate((x, y, -crest - radius)).val()


@dataclass(frozen=True, eq=False)
class Case:
    """A solid, a tool in it, and the wall between them in closed form."""

    carved: cq.Solid
    tool: cq.Solid
    wall: float


def closed_cases() -> dict[str, Case]:
    """The walls below follow from the distance of the tool's floor corner (or floor) to a plane, circle or ball."""
    radius, half, depth, aside = 22.0, 3.0, 11.0, 5.0
    ball_corner = math.hypot(10.0, half, depth)
    slant = math.hypot(26.0, 24.0)
    cone_small = 20.0 + 0.08 * 30.0
    return {
        "box": Case(block(0, 100, 50, 22), pocket(20, 80, 6, 11), 22 - 11),
        "cylinder": Case(
            half_cylinder(radius, 100), pocket(20, 80, 2 * half, depth, aside), radius - math.hypot(aside + half, depth)
        ),
        "wedge": Case(wedge(26, 24, 100), pocket(20, 80, 8, 9), (26 * 24 - 24 * 4 - 26 * 9) / slant),
        "cone": Case(
            half_cone(20, 0.08, 200),
            pocket(30, 120, 2 * half, depth),
            (cone_small - math.hypot(half, depth)) * math.cos(math.atan(0.08)),
        ),
        "ball": Case(half_ball(30), pocket(-10, 8, 2 * half, depth), 30 - ball_corner),
    }


def neck(exponent: float) -> cq.Solid:
    """A neck-like solid: lofted spline back with a section of the given superellipse exponent, stepped head, heel."""

    def section(x: float) -> cq.Wire:
        half, deep = 21 + (x + 40) / 480 * 7, 14.5 + (x + 40) / 480 * 3.5
        turn = np.linspace(0, np.pi, 25)[1:-1]
        reach = (np.abs(np.cos(turn)) ** exponent + np.abs(np.sin(turn)) ** exponent) ** (-1 / exponent)
        back = [(half * np.cos(t) * r, -deep * np.sin(t) * r) for t, r in zip(turn, reach, strict=True)]
        plane = cq.Workplane(cq.Plane(origin=(x, 0, 0), xDir=(0, 1, 0), normal=(1, 0, 0)))
        return plane.moveTo(half, 0).spline([*back, (-half, 0)], includeCurrent=True).close().wire().val()

    shaft = cq.Solid.makeLoft([section(x) for x in np.linspace(-40, 440, 9)])
    heel = cq.Workplane(obj=block(400, 470, 57, 19)).edges("|Z and >X").fillet(6).val()
    air = cq.Solid.makeBox(100, 100, 100, cq.Vector(-106, -50, -10))
    head = cq.Solid.makeBox(164, 46, 14, cq.Vector(-170, -23, -24))
    return shaft.fuse(heel).cut(air).fuse(head).Solids()[0]


def neck_tools() -> dict[str, cq.Solid]:
    return {
        "run": round_ended(30, 400, 6, 10),
        "anchor": pocket(385, 402, 9, 12),
        "block": pocket(22, 40, 8, 11.5),
        "adjuster": pocket(3, 24, 10, 12),
        "access-slot": pocket(-30, 5, 6, 8.5),
    }
