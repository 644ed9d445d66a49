"""A drilling guide for the body: it sits in the neck's own mortise or pocket, its flange on the body's top, and leads
the drill along the key's axis toward the soundhole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.findings import Finding, yes_no_finding
from neckmodel.geometry.types import Point
from neckmodel.jigs.regions import level_section
from neckmodel.jigs.shaping import placed, prism
from neckmodel.jigs.types import ON_ITS_SIDE, Bare, Draft, JigError, Label
from neckmodel.layout import Layout
from neckmodel.layout.access.soundhole import Bore
from neckmodel.limits import BORE_OFF
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import common, cut, fuse
from neckmodel.solids.kernel.shapes import sideways
from neckmodel.solids.kernel.turned import rod_of
from neckmodel.solids.neck.outline import heel_path
from neckmodel.work.soundhole import drill_for

# isort: split
import cadquery as cq

if TYPE_CHECKING:
    from shapely.geometry import Polygon

# mm; common practice, no source
OUT = 25.0  # that it stands out of the mortise, to lead a long drill
FLANGE, BESIDE, ON = 8.0, 22.0, 12.0  # the flange's thickness, and how far it lies on the body's top round about
PLATE, RISE = 6.0, 38.0  # the plate at its outer end, which it prints on: how thick, how far over the flange
UNDER = 5.0  # under the hole
LEAST_WALL = 2.0  # beside a hole off the centre line
PER_ARC = 17
SIGHT = 1.5  # half width of the notches at the centre line


@dataclass(frozen=True)
class Plan:
    """wood: the neck's outline beyond the joint, in plan, from the bass side to the treble side. half: its half width
    at the joint. x_out, x_in, x_on: where the guide's outer face lies, where it ends in the mortise, and where its
    flange on the top ends. low: z of its underside. drill: of its hole. ys: y of each hole."""

    bore: Bore
    wood: tuple[Point, ...]
    half: float
    x_joint: float
    x_out: float
    x_in: float
    x_on: float
    low: float
    drill: float
    fit: float
    slope: float
    z_top: float
    ys: tuple[float, ...]

    def top(self, x: float) -> float:
        """z of the body's top at x."""
        return self.z_top - (x - self.x_joint) * self.slope

    @property
    def hole(self) -> float:
        """Radius of the hole: the drill's, and the fit."""
        return self.drill / 2 + self.fit


def refuse(layout: Layout) -> None:
    """Raises JigError where no key enters through the soundhole, or where two bores leave the guide no wall."""
    if layout.soundhole_way is None:
        raise JigError(
            'bore-guide: no key enters through the soundhole; state adjusting_key.enters = "soundhole" if it does'
        )

    for plan in plans_of(layout):
        wall = plan.half - plan.fit - max(abs(y) for y in plan.ys) - plan.hole
        if wall < LEAST_WALL:
            says = f"bore-guide: the hole for the {plan.bore.what} would lie {wall:.2f} mm from the guide's side"
            raise JigError(f"{says}, at least {LEAST_WALL:g} mm must stay; lay the rods nearer together")


def draft(layout: Layout) -> Draft:
    """A guide for each diameter of the bore."""
    plans = plans_of(layout)
    solids = [guide_solid(plan) for plan in plans]
    pieces = tuple(
        Bare(
            plan.bore.what,
            f"in the body's pocket for the neck, its flange on the top: for the {plan.bore.what}'s bore",
            solid,
            ON_ITS_SIDE,
            _label(plan),
        )
        for plan, solid in zip(plans, solids, strict=True)
    )

    def check() -> list[Finding]:
        return [
            found
            for plan, solid in zip(plans, solids, strict=True)
            for found in findings(plan, solid, f"jig-bore-guide-{plan.bore.what}")
        ]

    said = [
        f"{plan.bore.what}: a drill of {plan.drill:.2f} mm, to x {plan.bore.x_end:.2f} mm {_line(layout)}, "
        f"{plan.bore.x_end - plan.x_out:.1f} mm from the guide's outer end; set a stop on the drill."
        for plan in plans[::-1]
    ]
    return Draft(
        pieces,
        (),
        (check,),
        (
            "Clamp its flange flat on the body's top, its notch and its plate's middle on the centre line. Back each "
            "brace with scrap.",
            *said,
            *(["Bore for the key first, through everything, then for the adjuster."] if len(plans) > 1 else []),
        ),
    )


def _line(layout: Layout) -> str:
    """Where a bore runs, in words."""
    if not layout.paired:
        return "on the centre line"
    return f"on either rod's line, {layout.rods[1].y:.2f} mm from the centre line"


def plans_of(layout: Layout) -> tuple[Plan, ...]:
    """One for each diameter of the bore, from the neck on; none without a way from the soundhole."""
    way, heel, fit = layout.soundhole_way, layout.heel, layout.design.workshop.printer.fit_per_side
    if way is None:
        return ()
    wood = _wood(layout)
    slope = math.tan(math.radians(way.top.angle))
    x_in, found = heel.x_end - fit, []
    for bore in way.bores:
        drill = drill_for(bore)
        ends = (heel.x_joint - OUT, x_in)
        deepest = max(bore.axis(x) for x in ends) + drill / 2 + fit + UNDER
        low = -min(deepest, heel.depth_at(heel.x_end) - fit)
        half = min(abs(y) for x, y in wood if x <= heel.x_joint + 1e-6)
        found.append(
            Plan(
                bore=bore,
                wood=wood,
                half=half,
                x_joint=heel.x_joint,
                x_out=heel.x_joint - OUT,
                x_in=x_in,
                x_on=heel.x_end + ON,
                low=low,
                drill=drill,
                fit=fit,
                slope=slope,
                z_top=way.top.over(heel.x_joint),
                ys=tuple(rod.y for rod in layout.rods),
            )
        )
    return tuple(found)


def _wood(layout: Layout) -> tuple[Point, ...]:
    """The outline in plan of the neck's wood beyond the joint, closed by the joint's line."""
    heel = layout.heel
    if heel.tenon is not None:
        root, end = heel.tenon.half_at(heel.x_joint), heel.tenon.half_at(heel.x_end)
        return (heel.x_joint, -root), (heel.x_end, -end), (heel.x_end, end), (heel.x_joint, root)
    path = heel_path(layout.outside).polyline(PER_ARC)
    return tuple((float(x), float(y)) for x, y in path[::-1])


def _in_mortise(plan: Plan) -> Polygon:
    """What of the guide goes into the mortise, in plan, its fit taken off, and what stands out before it."""
    from shapely.geometry import Polygon, box

    far = 2 * OUT
    whole = Polygon([*plan.wood, (plan.x_joint - far, plan.half), (plan.x_joint - far, -plan.half)]).buffer(0)
    inside = whole.buffer(-plan.fit, join_style="mitre").intersection(box(plan.x_out, -1e3, plan.x_in, 1e3))
    return inside.simplify(1e-4)


def guide_solid(plan: Plan) -> cq.Solid:
    """In its place on the neck, right-handed."""
    operation = "bore guide"
    body = _in_mortise(plan)
    corners = [(float(x), float(y)) for x, y in body.exterior.coords[:-1]]
    upper = max(plan.top(plan.x_out), plan.top(plan.x_on)) + FLANGE + 1.0
    wide = plan.half + BESIDE + 20.0
    xs = (plan.x_out - 1.0, plan.x_on + 1.0)
    under = [(xs[0], plan.low), (xs[1], plan.low), (xs[1], plan.top(xs[1]) + FLANGE / 2)]
    under.append((xs[0], plan.top(xs[0]) + FLANGE / 2))
    cheeks = common(
        prism(corners, plan.low - 1.0, upper, operation), [sideways(under, -wide, wide, operation)], operation
    )
    ends = (plan.x_out, plan.x_on)
    flange = [*((x, plan.top(x)) for x in ends), *((x, plan.top(x) + FLANGE) for x in ends[::-1])]
    broad = _broad(plan)
    plate = [(x, z) for x in (plan.x_out, plan.x_out + PLATE) for z in (plan.low, plan.top(plan.x_out) + FLANGE + RISE)]
    end = [plate[0], plate[2], plate[3], plate[1]]
    added = [sideways(profile, -broad, broad, operation) for profile in (flange, end)]
    solid = fuse(cheeks, added, operation)
    x0, x1 = plan.x_out - 1.0, plan.x_on + 1.0
    depths = plan.bore.axis(x0), plan.bore.axis(x1)
    drilled = [rod_of((x0, y, -depths[0]), (x1, y, -depths[1]), 2 * plan.hole, "hole of the guide") for y in plan.ys]
    notch = [(plan.x_on + 1.0, -SIGHT - 1.0), (plan.x_on - SIGHT, 0.0), (plan.x_on + 1.0, SIGHT + 1.0)]
    return cut(solid, [*drilled, prism(notch, plan.low - 1.0, upper, "notch at the centre line")], operation)


def _broad(plan: Plan) -> float:
    """Half width of flange and plate."""
    return max(abs(y) for _, y in plan.wood) + BESIDE


def _label(plan: Plan) -> Label:
    """On the plate's outer face, over the flange."""
    z = plan.top(plan.x_out) + FLANGE
    words = (plan.bore.what, f"{plan.drill:.1f}", "top up")
    at = (plan.x_out, 0.0, z + RISE / 2)
    return Label(words, at, (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), 2 * _broad(plan) - 4.0, RISE)


def findings(plan: Plan, solid: cq.Solid, part: str) -> list[Finding]:
    """Where the hole comes out, by sections square to x near both ends, and the gap between cheeks and mortise."""
    from shapely.geometry import Polygon, box

    upright = placed(solid, ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)), (0.0, 0.0, 0.0))  # x as height
    body = to_manifold(mesh_of(upright, 0.005), part)
    places = (plan.x_out + 3.0, plan.x_in - 3.0)
    off, width = 0.0, 0.0
    for x, y in product(places, plan.ys):
        ring = _ring(body.slice(x).to_polygons(), (y, -plan.bore.axis(x)))
        (y0, z0), (y1, z1) = ring.min(axis=0), ring.max(axis=0)
        width = float(y1 - y0)
        off = max(off, math.hypot(float(y0 + y1) / 2 - y, float(z0 + z1) / 2 + plan.bore.axis(x)))
    good = off <= BORE_OFF and abs(width - 2 * plan.hole) <= BORE_OFF
    says = f"{plan.bore.what}: {width:.2f} mm wide for a drill of {plan.drill:.2f} mm, {off:.4f} mm beside its axis"
    more = {"width": width, "drill": plan.drill}
    found = [
        yes_no_finding(
            check="jig/hole",
            part=part,
            good=good,
            says=says,
            measured=off,
            limit=BORE_OFF,
            held=(None, BORE_OFF),
            basis="the layout",
            more=more,
        )
    ]
    level = level_section(to_manifold(mesh_of(solid, 0.005), part), (plan.low + plan.top(plan.x_in)) / 2)
    wood = Polygon(plan.wood)
    inside = level.intersection(box(plan.x_joint + 1.0, -1e3, plan.x_on, 1e3))
    sides = wood.boundary.difference(box(plan.x_joint - 1.0, -1e3, plan.x_joint + 0.5, 1e3))
    gap, shared = float(inside.distance(sides)), float(inside.difference(wood).area)
    fits = shared < 1e-6 and abs(gap - plan.fit) < BORE_OFF
    says = f"it goes into the neck's pocket with {gap:.2f} mm at each side"
    basis = "workshop.printer.fit_per_side"
    fit = yes_no_finding(
        check="jig/fit",
        part=part,
        good=fits,
        says=says,
        measured=gap,
        limit=plan.fit,
        held=(plan.fit - BORE_OFF, plan.fit + BORE_OFF),
        basis=basis,
    )
    return [*found, fit]


def _ring(rings: list[np.ndarray], at: Point) -> np.ndarray:
    """The ring round a point, the smallest that holds it."""
    from shapely.geometry import Point as At
    from shapely.geometry import Polygon

    holding = [ring for ring in map(np.asarray, rings) if Polygon(ring).contains(At(at))]
    return min(holding, key=lambda ring: Polygon(ring).area)
