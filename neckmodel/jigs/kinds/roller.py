"""Drilling guides for a slotted head: one for each side, which lies on the head's face and against the blank's edge,
and leads the drill square to the edge. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.findings import Finding, yes_no_finding
from neckmodel.jigs.regions import level_section, region
from neckmodel.jigs.shaping import box, placed, prism
from neckmodel.jigs.types import ON_ITS_BASS_SIDE, ON_ITS_TREBLE_SIDE, Bare, Draft, JigError, Label, Pose
from neckmodel.layout.hardware.slots import in_frame
from neckmodel.layout.sides import SIGNS, Side
from neckmodel.limits import HOLE_OFF
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut, fuse
from neckmodel.solids.kernel.turned import rod_of

if TYPE_CHECKING:
    import cadquery as cq

    from neckmodel.geometry.types import Point, Point3
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.slots import Roller

# mm; common practice, no source
LEAD = 20.0  # of the block beside the edge, which leads the drill
PLATE, ON = 6.0, 28.0  # the plate on the face: how thick, and how far in from the edge it lies
BEYOND = 14.0  # by which both reach past the farthest hole
RISE = 18.0  # by which the block stands over the plate: a hold for the hand, and room for the label
UNDER = 1.0  # by which the block stays above the head's back, so that the head can lie flat
SIGHT = 1.5  # half width of the notch on the head line's end


@dataclass(frozen=True)
class Plan:
    """edge: distance of the blank's edge from the centre line. far: the guide's far end along the face. fit: gap at the
    edge, and beside a drill."""

    side: Side
    sign: int
    edge: float
    far: float
    thickness: float
    fit: float
    rollers: tuple[Roller, ...]

    @property
    def across(self) -> Point:
        """y of the block's two faces, the inner one first, mm."""
        inner = self.edge + self.fit
        return self.sign * inner, self.sign * (inner + LEAD)


def refuse(layout: Layout) -> None:
    """Raises JigError where the head has no slots, or no tuners, or where its edges are of wings of unlike width."""
    plans_of(layout)


def head_edges(layout: Layout) -> tuple[float, float]:
    """Distance of the head's stock from the centre line on the bass and on the treble side, its wings included, mm."""
    found = []
    for _, sign in SIGNS:
        wings = [p for p in layout.pieces if p.name.startswith("wing-") and p.seam is not None and p.seam * sign > 0]
        outer = [abs(piece.seam or 0.0) + piece.stock[1] for piece in wings]
        found.append(max(outer, default=layout.blank_half_width))
    return found[0], found[1]


def plans_of(layout: Layout) -> tuple[Plan, ...]:
    """One for each side that has tuners, bass side first. Raises JigError where there are none to bore for."""
    pair = layout.slots
    if pair is None:
        raise JigError("roller-guide: the head has no slots; state head.slots if it is to have them")
    if not pair.rollers:
        raise JigError("roller-guide: no tuners are stated; state head.tuners")
    for wing in layout.design.head.wings:
        if wing.length < -pair.near and wing.length < layout.head.length + pair.near:
            raise JigError("roller-guide: a wing ends beside the slots, so that the head's edge is not straight there")
    fit, found = layout.design.workshop.printer.fit_per_side, []
    for (side, sign), edge in zip(SIGNS, head_edges(layout), strict=True):
        rollers = tuple(one for one in pair.rollers if one.side == side)
        if rollers:
            far = min(one.along - one.hole / 2 for one in rollers) - BEYOND
            found.append(Plan(side, sign, edge, far, pair.thickness, fit, rollers))
    return tuple(found)


def draft(layout: Layout) -> Draft:
    """A guide for each side."""
    plans = plans_of(layout)
    solids = [guide_solid(plan) for plan in plans]
    rows, at = to_place(layout)
    undo = Pose(rows).undone
    pieces = tuple(
        Bare(
            str(plan.side),
            f"on the head's face and its {plan.side} edge, its straight end at the head line",
            placed(solid, rows, at),
            (ON_ITS_BASS_SIDE if plan.sign < 0 else ON_ITS_TREBLE_SIDE).after(undo),
            _label(layout, plan),
        )
        for plan, solid in zip(plans, solids, strict=True)
    )
    checks = tuple(
        (lambda plan=plan, solid=solid: findings(plan, solid)) for plan, solid in zip(plans, solids, strict=True)
    )
    return Draft(pieces, (), checks, remarks(plans))


def remarks(plans: tuple[Plan, ...]) -> tuple[str, ...]:
    """How they are used, and where each drill stops."""
    said = []
    for plan in plans:
        for one in plan.rollers:
            deep = abs(plan.across[1]) - one.sign * one.y_end
            said.append(
                f"{plan.side} side, {one.name.replace('-', ' ')}: a drill of {one.hole:.2f} mm, stopped {deep:.2f} mm "
                "from the guide's outer face."
            )
    return (
        "Use it while the head's edges are straight and before the slots are cut: its plate flat on the face, its "
        "block against the edge, its straight end at the head line, clamped at two places.",
        *said,
    )


def to_place(layout: Layout) -> tuple[tuple[Point3, Point3, Point3], Point3]:
    """From the face's frame (along it, across, out of it) to the neck's: rows of a rotation, and a shift, mm."""
    turn = math.radians(layout.head.angle)
    c, s = math.cos(turn), math.sin(turn)
    return ((c, 0.0, -s), (0.0, 1.0, 0.0), (s, 0.0, c)), in_frame(layout.head, 0.0, 0.0, 0.0)


def guide_solid(plan: Plan) -> cq.Solid:
    """In the face's frame: the block beside the edge, the plate over it and on the face, the holes."""
    name, (inner, outer) = "roller guide", plan.across
    y_on = plan.sign * (plan.edge - ON)
    block = box((plan.far, 0.0), _pair(inner, outer), (UNDER - plan.thickness, PLATE + RISE), name)
    plate = box((plan.far, 0.0), _pair(y_on, outer), (0.0, PLATE), name)
    solid = fuse(block, [plate], name)
    tools = [
        rod_of(
            (one.along, inner - plan.sign, -one.below),
            (one.along, outer + plan.sign, -one.below),
            one.hole + 2 * plan.fit,
            name,
        )
        for one in plan.rollers
    ]
    middle = (y_on + inner) / 2
    notch = [(1.0, middle - SIGHT - 1.0), (-SIGHT, middle), (1.0, middle + SIGHT + 1.0)]
    return cut(solid, [*tools, prism(notch, -1.0, PLATE + 1.0, "notch at the head line")], name)


def _pair(a: float, b: float) -> Point:
    return (a, b) if a < b else (b, a)


def _label(layout: Layout, plan: Plan) -> Label:
    """On the block's outer face, over its holes."""
    rows, at = to_place(layout)
    told = (plan.far / 2, plan.across[1], (PLATE + RISE) / 2)
    x, y, z = (sum(a * b for a, b in zip(row, told, strict=True)) + o for row, o in zip(rows, at, strict=True))
    along = (-plan.sign * rows[0][0], 0.0, -plan.sign * rows[2][0])
    up = (rows[0][2], 0.0, rows[2][2])
    return Label((str(plan.side), "up"), (x, y, z), along, up, -plan.far - 8.0, PLATE + RISE - 2.0)


def findings(plan: Plan, solid: cq.Solid) -> list[Finding]:
    """Where each hole lies and how wide it is, near both ends of its lead, and the gap between block and edge."""
    from shapely.geometry import Point as At
    from shapely.geometry import box as rectangle

    part = f"jig-roller-guide-{plan.side}"
    # turned so that y is the height: (along, over, y); a level section is then square to the drills
    body = to_manifold(
        mesh_of(placed(solid, ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)), (0.0, 0.0, 0.0)), 0.005), part
    )
    inner, outer = plan.across
    heights = [inner + 0.1 * (outer - inner), inner + 0.9 * (outer - inner)]
    found = []
    for one in plan.rollers:
        off, width = 0.0, 0.0
        for height in heights:
            holes = [region([ring]) for ring in body.slice(height).to_polygons()]
            own = min(
                (h for h in holes if h.area < 4000.0), key=lambda h: h.centroid.distance(At(one.along, one.below))
            )
            off = max(off, own.centroid.distance(At(one.along, one.below)))
            width = 2 * float(own.area / np.pi) ** 0.5
        wanted = one.hole + 2 * plan.fit
        says = f"{one.name}: {width:.2f} mm wide for a drill of {one.hole:.2f} mm, {off:.4f} mm beside its place"
        good = off <= HOLE_OFF and abs(width - wanted) <= HOLE_OFF
        found.append(
            yes_no_finding(
                check="jig/hole",
                part=part,
                good=good,
                says=says,
                measured=off,
                limit=HOLE_OFF,
                held=(None, HOLE_OFF),
                basis="the layout",
                more={"width": width, "drill": one.hole},
            )
        )
    level = level_section(to_manifold(mesh_of(solid, 0.005), part), -plan.thickness / 2)
    wood = rectangle(2 * plan.far, -plan.edge, 0.0, plan.edge)
    gap = float(level.distance(wood))
    found.append(
        yes_no_finding(
            check="jig/fit",
            part=part,
            good=abs(gap - plan.fit) < HOLE_OFF,
            says=f"its block stands {gap:.2f} mm off the head's edge",
            measured=gap,
            limit=plan.fit,
            held=(plan.fit - HOLE_OFF, plan.fit + HOLE_OFF),
            basis="workshop.printer.fit_per_side",
        )
    )
    return found
