"""Moves the cutter along the real sled: where the carriage's own feet stand on the rails' own curve, and what it cuts
there.

From the plan it takes the depth setting of the cutter only, and which facets are which.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.findings import WARN, Finding, Place, yes_no_finding
from neckmodel.geometry.types import Floats
from neckmodel.jigs.kinds.routing.bush import thickness, union, wood_of
from neckmodel.jigs.kinds.routing.ride import Ride, ride_of
from neckmodel.jigs.regions import level_section
from neckmodel.limits import BASE_THICKNESS, POCKET_DEPTH, POCKET_VOLUME
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.channel import OVER, step_path, tool
from neckmodel.solids.kernel.shapes import upright

if TYPE_CHECKING:
    from neckmodel.jigs.kinds.routing.rails import SledPlan
    from neckmodel.jigs.kinds.routing.sled import SledPieces
    from neckmodel.layout import Layout

SPACING = 2.0  # mm between the places of the carriage: the floor is then off by `4/(8 R)` at most
ROUND = 48  # corners of the cutter, four of them across and along the cut
CHORDS = 500  # of the floor's arc
FINE = 0.005  # mm, deflection of meshes whose measured parts have no curve
SHARED = 0.5  # mm3 that the meshes of carriage and rails may share where they touch
Check = Callable[[], list[Finding]]


@dataclass(frozen=True)
class _MadeSled:
    """A sled as its pieces are. How its carriage rides is measured when the first check asks."""

    plan: SledPlan
    pieces: SledPieces

    @cached_property
    def ride(self) -> Ride:
        return ride_of(self.plan, self.pieces)


def sled_checks(layout: Layout, plan: SledPlan, pieces: SledPieces) -> tuple[Check, ...]:
    """The checks of a sled, each for one finding. How the carriage rides is measured once for all."""
    made = _MadeSled(plan, pieces)
    return (
        lambda: [_cut(layout, plan, made.ride)],
        lambda: [_floor(plan, made.ride)],
        lambda: [_stops(plan, made.ride)],
        lambda: [_fit(layout, plan, pieces, made.ride)],
        lambda: [_reach(plan)],
    )


def _cut(layout: Layout, plan: SledPlan, ride: Ride) -> Finding:
    """Compares what the cutter takes out of the blank with the channel, this step's floor being an arc. The wood that
    the leaning, round cutter leaves at the step's ends is counted separately."""
    step, wood = plan.setting.step, wood_of(layout)
    swept = wood ^ _swept(plan, ride)
    arc = _arc_tool(plan)
    others = [
        to_manifold(mesh_of(tool(layout, other).solid, FINE), other.name) for other in layout.steps if other != step
    ]
    channel = wood ^ union([arc, *others])
    inner = [pose.point(0.0, 0.0)[0] for pose in (plan.first, plan.last)]
    upper = [pose.at_height(0.0, 0.0) for pose in (plan.first, plan.last)]
    whole = (
        max(inner[0], upper[0]),
        min(inner[1], upper[1]),
    )  # between the cutter's axes at both ends the step is cut in full
    room = manifold3d.Manifold.cube((whole[1] - whole[0], 400.0, 400.0)).translate((whole[0], -200.0, -200.0))
    excess, missing, rest = swept - channel, (wood ^ arc ^ room) - swept, channel - swept - union(others)
    volume, depth = excess.volume() + missing.volume(), max(thickness(excess), thickness(missing))
    crown = _crown(plan) * (whole[1] - whole[0]) * step.width
    good = volume < POCKET_VOLUME + crown and depth < POCKET_DEPTH
    return yes_no_finding(
        check="jig/sled",
        part=_part(plan),
        good=good,
        says=f"the cutter on the sled leaves the channel with an arc for its floor to {volume:.3f} mm3 and {depth:.4f} "
        f"mm; {rest.volume():.1f} mm3 stay at the ends for the chisel",
        measured=volume,
        limit=POCKET_VOLUME + crown,
        held=(None, POCKET_VOLUME + crown),
        unit="mm3",
        basis="the planned channel, its floor as an arc; and what a flat-ended cutter leaves beside its middle",
        more={
            "depth": depth,
            "crown": crown,
            "corners": rest.volume(),
            "excess": excess.volume(),
            "channel": channel.volume(),
        },
    )


def _crown(plan: SledPlan) -> float:
    """Mean height left beside the middle of a valley's floor, mm, where the cutter's flat end is shorter. At y outside
    the play g it cuts `(|y| - g)**2/(2 R)` less deep, on the mean `r**3/(6 R (r + g))`."""
    return max(plan.tip.curvature, 0.0) * plan.radius**3 / (6 * (plan.radius + plan.play))


def _swept(plan: SledPlan, ride: Ride) -> manifold3d.Manifold:
    """The cutter's sweep from each place of the carriage to the next, to both sides as far as the carriage's skirts
    allow.

    In a valley and on a slope it sweeps the hull of both places. Over a hill such a hull would dig in, for the edges of
    the flat end stand off the floor there: only its widest line, across the cut, goes all the way.
    """
    turn = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
    cutter = np.column_stack([np.cos(turn), np.sin(turn)]) * plan.radius
    widest = np.array([(0.0, -plan.radius), (0.0, plan.radius)])
    places = ride.places(SPACING)
    over_hill = places[-1][2] < places[0][2]
    solids = [_solid_at(plan, ride, cutter, place) for place in places]
    moving = [_solid_at(plan, ride, widest, place) for place in places] if over_hill else solids
    swept = [manifold3d.Manifold.hull_points(np.vstack(pair)) for pair in pairwise(moving)]
    return union([*swept, *(manifold3d.Manifold.hull_points(solids[end]) for end in (0, -1))])


def _solid_at(plan: SledPlan, ride: Ride, outline: Floats, place: tuple[float, float, float]) -> Floats:
    """(n, 3) corners of a solid with that outline, (m, 2) of u and y, at both ends of the play, from the tip up out of
    the wood."""
    (x, z, slope), high = place, plan.setting.step.depth + 2 * OVER
    u = np.tile(ride.axis + outline[:, 0], 2)
    y = plan.setting.step.y + np.concatenate([outline[:, 1] + side * ride.play for side in (-1, 1)])
    cosine, sine = np.cos(slope), np.sin(slope)
    return np.vstack([np.column_stack([x + u * cosine - v * sine, y, z + u * sine + v * cosine]) for v in (0.0, high)])


def _arc_tool(plan: SledPlan) -> manifold3d.Manifold:
    """The step in plan, over the arc through its floor's start, middle and end."""
    step = plan.setting.step
    x = np.linspace(plan.x_from - 1.0, plan.x_to + 1.0, CHORDS)
    lift = np.hypot(1 / plan.tip.curvature, plan.radius) - 1 / plan.tip.curvature if plan.tip.curvature > 0 else 0.0
    floor = plan.tip.parallel(-float(lift))
    points = [(float(at), floor.height(float(at))) for at in x]
    ring = np.array([*points, (x[-1], OVER), (x[0], OVER)])
    side = manifold3d.CrossSection([ring], manifold3d.FillRule.EvenOdd)
    over = manifold3d.Manifold.extrude(side, 2 * step.width).rotate((90.0, 0.0, 0.0)).translate((0.0, step.width, 0.0))
    plan_of = upright(step_path(step), -2 * step.depth, OVER, "step in plan")
    return over.translate((0.0, step.y, 0.0)) ^ to_manifold(mesh_of(plan_of, FINE), step.name)


def _floor(plan: SledPlan, ride: Ride) -> Finding:
    """Compares the lowest point of the cutter's flat end over each x with the planned floor."""
    step, places = plan.setting.step, np.array(ride.places(SPACING))
    x = np.linspace(places[0, 0], places[-1, 0], 701)
    away = x[:, None] - (places[:, 0] + ride.axis * np.cos(places[:, 2]))
    z = places[:, 1] + ride.axis * np.sin(places[:, 2]) + away * np.tan(places[:, 2])
    z[np.abs(away) > plan.radius * np.cos(places[:, 2])] = np.inf
    off = z.min(axis=1) + [step.depth_at(float(at)) for at in x]
    worst, limit = float(np.abs(off).max()), plan.sled.off + POCKET_DEPTH
    at = int(np.abs(off).argmax())
    return yes_no_finding(
        check="jig/sled-floor",
        part=_part(plan),
        good=worst <= limit,
        says=f"the floor comes out within {worst:.4f} mm of the planned one, of which the arc takes "
        f"{plan.sled.off:.4f} mm",
        measured=worst,
        limit=limit,
        held=(None, limit),
        basis="the planned floor; an arc for a parabola",
        at=Place(float(x[at]), step.y, -step.depth_at(float(x[at])), None),
        more={"arc": plan.sled.off},
    )


def _stops(plan: SledPlan, ride: Ride) -> Finding:
    """How far short of the step's ends the cutter stays where the carriage meets its stops."""
    short = []
    for way, pose, end in ((-1, ride.first, plan.x_from), (1, ride.last, plan.x_to)):
        u = ride.axis + way * plan.radius
        short.append(way * end - max(way * pose.point(u, 0.0)[0], way * pose.at_height(u, 0.0)))
    good = all(abs(gap) <= POCKET_DEPTH for gap in short)
    return yes_no_finding(
        check="jig/stops",
        part=_part(plan),
        good=good,
        says=f"at its stops the cutter is {short[0]:.3f} and {short[1]:.3f} mm short of the cut's ends",
        measured=max(map(abs, short)),
        limit=POCKET_DEPTH,
        held=(None, POCKET_DEPTH),
        basis="the planned channel",
    )


def _fit(layout: Layout, plan: SledPlan, pieces: SledPieces, ride: Ride) -> Finding:
    """The rails against the blank's sides, and the carriage free of the rails wherever it goes."""
    from shapely import unary_union
    from shapely.geometry import box

    rails = [to_manifold(mesh_of(piece.solid, FINE), piece.name) for piece in pieces.rails]
    clasp = unary_union([level_section(rail, -1.0) for rail in rails])
    half, (x0, _, x1, _) = layout.blank_half_width, clasp.bounds
    blank = box(x0, -half, x1, half)
    gap = max(blank.distance(part) for part in getattr(clasp, "geoms", [clasp]))
    biting = blank.intersection(clasp).area
    shared = max(
        sum((ride.carriage_at(pose) ^ rail).volume() for rail in rails) for pose in (ride.first, ride.middle, ride.last)
    )
    good = gap < POCKET_DEPTH and biting < 0.1 and shared < SHARED
    return yes_no_finding(
        check="jig/fit",
        part=_part(plan),
        good=good,
        says=f"the rails lie on the blank's sides with {gap:.3f} mm between; the carriage slides free of them with "
        f"{ride.play:.3f} mm at each side",
        measured=gap,
        limit=POCKET_DEPTH,
        held=(None, POCKET_DEPTH),
        basis="rails are clamped on, so there is no fit; the carriage's play makes the cut as wide as the step",
        more={"play": ride.play, "shared": shared},
    )


def _reach(plan: SledPlan) -> Finding:
    cutting, step = plan.setting.cutting, plan.setting.step
    return yes_no_finding(
        check="jig/reach",
        part=_part(plan),
        good=plan.reaches,
        says=f"through {BASE_THICKNESS:g} mm of base, the carriage and rails of at least {plan.rail_height:.1f} mm to "
        f"{step.depth:.2f} mm deep takes {plan.need:.2f} mm of the cutter's {cutting.stick_out:.2f} mm",
        measured=plan.need,
        limit=cutting.stick_out,
        held=(None, cutting.stick_out),
        basis="workshop.cutters; the base's thickness by common practice, no source",
    )


def too_steep(plan: SledPlan) -> list[Finding]:
    """A finding for a ramp so steep that a sled for it would lift the router beyond the cutter's reach: no piece is
    made."""
    step, slope = plan.setting.step, abs(np.degrees(plan.tip.slope))
    return [
        yes_no_finding(
            check="jig/reach",
            part=_part(plan),
            good=False,
            otherwise=WARN,
            says=f"no sled for the {step.name}: at {slope:.1f} degrees it would take {plan.need:.2f} mm of the "
            f"cutter's {plan.setting.cutting.stick_out:.2f} mm; cut this ramp by hand, down to a line at "
            "each of its sides",
            measured=plan.need,
            limit=plan.setting.cutting.stick_out,
            held=(None, plan.setting.cutting.stick_out),
            basis="workshop.cutters, workshop.router_base",
        )
    ]


def _part(plan: SledPlan) -> str:
    return f"jig-routing-template-{plan.name}-sled"
