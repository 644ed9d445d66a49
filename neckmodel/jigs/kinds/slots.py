"""A router template for the slots of a slotted head: it lies on the head's face, its lips at both edges of the blank,
and leads a guide bush round both slots. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.findings import PASS, WARN, Finding, limit_finding, yes_no_finding
from neckmodel.geometry.types import Point
from neckmodel.jigs.kinds.roller import head_edges, to_place
from neckmodel.jigs.regions import level_section
from neckmodel.jigs.shaping import box, placed, prism
from neckmodel.jigs.types import UPSIDE_DOWN, Bare, Draft, JigError, Label, Pose
from neckmodel.layout.channel.cutters import LEAST_TEMPLATE
from neckmodel.layout.sides import SIGNS, Side
from neckmodel.layout.workshop.router import template_offset
from neckmodel.limits import BASE_THICKNESS, BED_MARGIN, HOLE_OFF, POCKET_DEPTH
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut, fuse
from neckmodel.solids.kernel.shapes import upright

if TYPE_CHECKING:
    import cadquery as cq
    from shapely.geometry import Polygon

    from neckmodel.geometry.paths import PlanPath
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.slots import SlotPair

# mm; common practice, no source
LIP, LIP_DEPTH = 8.0, 10.0  # beside the blank: thickness, and how far down it goes
BEYOND = 30.0  # of plate past the slots' far end, for the router to stand on and for the label
APART = 3.0  # least material between the two openings
MOST_PLATE = 18.0  # thickest plate that still leaves a cutter its reach
SIGHT = 1.5  # half width of the notch at the centre line
CHORDS = 64  # a quarter circle, where a bush is led round and a cutter follows
NEAR = 1e-9


@dataclass(frozen=True)
class Plan:
    """cutter, bush: diameters. larger: by which an opening stands outside its slot. edges: of the blank, from the
    centre line, bass side first. far: the plate's far end along the face. thickness: of the plate. stick_out: of the
    cutter."""

    pair: SlotPair
    cutter: float
    bush: float
    larger: float
    edges: Point
    far: float
    thickness: float
    stick_out: float
    fit: float

    @property
    def corner(self) -> float:
        """Radius that the cutter leaves in a slot's corners, mm."""
        return max(self.pair.radius, self.cutter / 2)


def refuse(layout: Layout) -> None:
    """Raises JigError where the head has no slots, or where bush, base or cutters are not stated or do not fit."""
    plan_of(layout)


def plan_of(layout: Layout) -> Plan:
    """The sizes of the template, mm. Raises JigError, with the reason, where it cannot be made."""
    pair, shop = layout.slots, layout.design.workshop
    if pair is None:
        raise JigError("slot-template: the head has no slots; state head.slots if it is to have them")
    if shop.guide_bush is None:
        raise JigError("slot-template: no guide bush is stated; set workshop.guide_bush, or work along fences")
    if shop.router_base is None:
        says = "the router's base is not stated; set workshop.router_base, from the cutter's middle to the base's edge"
        raise JigError(f"slot-template: {says}")
    bush = shop.guide_bush
    fits = [c for c in shop.cutters if c.diameter <= min(pair.width, bush) + NEAR]
    if not fits:
        raise JigError(f"slot-template: no cutter of the rack is as narrow as bush and slots, {pair.width:.2f} mm")
    chosen = max(fits, key=lambda c: (c.stick_out or 0.0, c.diameter))
    larger = template_offset(bush, chosen.diameter)
    if pair.core - 2 * larger < APART:
        says = f"the openings for a bush of {bush:.2f} mm would leave {pair.core - 2 * larger:.2f} mm between them"
        raise JigError(f"slot-template: {says}; a narrower workshop.guide_bush")
    overhang = max(pair.near - chosen.diameter / 2 + shop.router_base, 0.0)
    thickness = max(LEAST_TEMPLATE, math.ceil(overhang * math.tan(math.radians(layout.head.angle))) + 1.0)
    if thickness > MOST_PLATE:
        says = f"the router's base would reach {overhang:.1f} mm past the head line, over the rising shaft"
        raise JigError(f"slot-template: {says}; a smaller base, or slots that begin farther from the nut")
    plan = Plan(
        pair=pair,
        cutter=chosen.diameter,
        bush=bush,
        larger=larger,
        edges=head_edges(layout),
        far=pair.far - larger - BEYOND,
        thickness=thickness,
        stick_out=chosen.stick_out or 0.0,
        fit=shop.printer.fit_per_side,
    )
    room = max(shop.printer.bed[:2]) - 2 * BED_MARGIN
    if -plan.far > room:
        says = f"its plate is {-plan.far:.1f} mm long, and the printer's bed has room for {room:.1f} mm"
        raise JigError(f"slot-template: {says}; state a larger workshop.printer.bed, or mill it and state that size")
    return plan


def draft(layout: Layout) -> Draft:
    """The template in one piece."""
    plan = plan_of(layout)
    solid = template(plan)
    rows, at = to_place(layout)
    told = ((plan.far + plan.pair.far - plan.larger) / 2, 0.0, plan.thickness)
    x, y, z = (sum(a * b for a, b in zip(row, told, strict=True)) + o for row, o in zip(rows, at, strict=True))
    along, room = (rows[0][0], 0.0, rows[2][0]), BEYOND - 4.0
    label = Label((Side.TREBLE, "up"), (x, y, z), (0.0, -1.0, 0.0), along, sum(plan.edges), room)
    piece = Bare(
        "plate",
        "on the head's face, its lips at both edges of the blank, its straight end at the head line",
        placed(solid, rows, at),
        UPSIDE_DOWN.after(Pose(rows).undone),
        label,
    )
    return Draft((piece,), (), (lambda: findings(plan, solid),), remarks(plan))


def remarks(plan: Plan) -> tuple[str, ...]:
    """How it is used."""
    pair = plan.pair
    said = [
        f"For a guide bush of {plan.bush:.2f} mm and a cutter of {plan.cutter:.2f} mm. Bore for the tuners first, and "
        "take out the bulk of both slots with a drill.",
        "Clamp it at two places, flat on the face, its straight end at the head line, its notch on the centre line, "
        "with scrap under the head. Rout in light passes.",
    ]
    if plan.stick_out and reach_needed(plan) > plan.stick_out + NEAR:
        said.append(
            f"The cutter reaches {plan.stick_out - plan.thickness - BASE_THICKNESS:.1f} mm of the head's "
            f"{pair.thickness:.1f} mm. Rout the rest from the back with a cutter whose bearing follows the walls that "
            "are cut already."
        )
    if pair.radius < plan.cutter / 2 - NEAR:
        said.append(f"Square the ends with a chisel: the cutter leaves corners of {plan.cutter / 2:.2f} mm radius.")
    return tuple(said)


def reach_needed(plan: Plan) -> float:
    """How far the cutter must stand out to go through the head, mm."""
    return plan.thickness + plan.pair.thickness + BASE_THICKNESS


def _opening(plan: Plan, sign: int) -> PlanPath:
    """The opening for one slot, in plan on the face."""
    from neckmodel.geometry.paths import PlanPath, Step
    from neckmodel.solids.neck.outline import rounded

    pair, more = plan.pair, plan.larger
    x0, x1 = pair.far - more, pair.near + more
    y0, y1 = sorted((sign * pair.inner - sign * more, sign * pair.outer + sign * more))
    corners: list[Point] = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    radius = min(plan.corner + more, (y1 - y0) / 2 - 1e-6)
    steps: list[Step] = []
    for k, corner in enumerate(corners):
        steps += rounded(corners[k - 1], corner, corners[(k + 1) % 4], radius)
    return PlanPath(steps[-1].end, tuple(steps))


def template(plan: Plan) -> cq.Solid:
    """In the face's frame: the plate over the face, a lip at each edge, both openings."""
    name, (bass, treble) = "slot template", plan.edges
    inner = (-bass - plan.fit, treble + plan.fit)
    outer = (inner[0] - LIP, inner[1] + LIP)
    plate = box((plan.far, 0.0), outer, (0.0, plan.thickness), name)
    lips = [box((plan.far, 0.0), _pair(inner[k], outer[k]), (-LIP_DEPTH, plan.thickness / 2), name) for k in range(2)]
    tools = [upright(_opening(plan, sign), -1.0, plan.thickness + 1.0, name) for _, sign in SIGNS]
    notch = [(1.0, -SIGHT - 1.0), (-SIGHT, 0.0), (1.0, SIGHT + 1.0)]
    tools.append(prism(notch, -1.0, plan.thickness + 1.0, "notch at the centre line"))
    return cut(fuse(plate, lips, name), tools, name)


def _pair(a: float, b: float) -> Point:
    return (a, b) if a < b else (b, a)


def slot_outline(pair: SlotPair, sign: int, corner: float) -> Polygon:
    """One slot on the face, its corners as a cutter leaves them."""
    from shapely.geometry import LineString
    from shapely.geometry import box as rectangle

    if corner >= pair.width / 2 - NEAR:
        half, y = pair.width / 2, sign * pair.middle
        return LineString([(pair.far + half, y), (pair.near - half, y)]).buffer(half, quad_segs=CHORDS)
    y0, y1 = _pair(sign * pair.inner, sign * pair.outer)
    whole = rectangle(pair.far, y0, pair.near, y1)
    return whole.buffer(-corner, join_style="mitre").buffer(corner, quad_segs=CHORDS)


def findings(plan: Plan, solid: cq.Solid) -> list[Finding]:
    """What the bush, led round both openings, lets the cutter take away, against the slots; the gap at the blank's
    edges; the cutter's reach."""
    from shapely.geometry import box as rectangle

    part, (bass, treble) = "jig-slot-template-plate", plan.edges
    body = to_manifold(mesh_of(solid, 0.005), part)
    plate = level_section(body, plan.thickness * 0.75)
    x0, y0, x1, y1 = plate.bounds
    open_ = rectangle(x0, y0, x1 - 2 * SIGHT, y1).difference(plate)
    swept = open_.buffer(-plan.bush / 2, quad_segs=CHORDS).buffer(plan.cutter / 2, quad_segs=CHORDS)
    wanted = slot_outline(plan.pair, -1, plan.corner).union(slot_outline(plan.pair, 1, plan.corner))
    off = float(swept.hausdorff_distance(wanted))
    lips = level_section(body, -LIP_DEPTH / 2)
    gap = float(lips.distance(rectangle(x0, -bass, x1, treble)))
    found = [
        yes_no_finding(
            check="jig/pocket",
            part=part,
            good=off <= POCKET_DEPTH,
            says=f"led round both openings, the cutter keeps to the slots' outlines to {off:.4f} mm",
            measured=off,
            limit=POCKET_DEPTH,
            held=(None, POCKET_DEPTH),
            basis="geometry",
        ),
        yes_no_finding(
            check="jig/fit",
            part=part,
            good=abs(gap - plan.fit) < HOLE_OFF,
            says=f"its lips stand {gap:.2f} mm off the blank at each side",
            measured=gap,
            limit=plan.fit,
            held=(plan.fit - HOLE_OFF, plan.fit + HOLE_OFF),
            basis="workshop.printer.fit_per_side",
        ),
    ]
    if plan.stick_out:
        need = reach_needed(plan)
        through = plan.stick_out >= need - NEAR
        says = f"the cutter stands out {plan.stick_out:.2f} mm; {need:.2f} mm go through base, plate and head"
        found.append(
            limit_finding(
                check="jig/reach",
                part=part,
                verdict=PASS if through else WARN,
                says=says + ("" if through else ": the rest is routed from the back"),
                measured=plan.stick_out,
                limit=need,
                basis=f"geometry; {BASE_THICKNESS:g} mm of base plate is common practice, no source",
            )
        )
    return found
