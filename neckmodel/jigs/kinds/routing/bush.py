"""Moves guide bush, cutter and router's base through the real templates, and compares the cut with the blank."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.findings import Finding, Place, yes_no_finding
from neckmodel.jigs.regions import level_section
from neckmodel.limits import BASE_THICKNESS, POCKET_DEPTH, POCKET_VOLUME
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.channel import OVER, step_path, tool
from neckmodel.solids.kernel.gate import cut
from neckmodel.solids.kernel.shapes import sideways, upright

if TYPE_CHECKING:
    import cadquery as cq
    from shapely.geometry.base import BaseGeometry

    from neckmodel.jigs.kinds.routing.opening import Template
    from neckmodel.jigs.types import Bare
    from neckmodel.layout import Layout

TRUE = 0.002  # mm, deflection of the meshes that are compared
EASE = 2 * TRUE
PLAY = 5e-3  # mm by which a gap may miss the stated fit
ARC = 96  # chords a quarter circle
Check = Callable[[], list[Finding]]


def checks(layout: Layout, plans: tuple[Template, ...], pieces: tuple[Bare, ...]) -> tuple[Check, ...]:
    """The checks of all templates, as one function that gives their findings."""

    def swept() -> list[Finding]:
        own = {plan.name: [p for p in pieces if _belongs(p, plan)] for plan in plans}
        paths = {plan.name: bush_places(plan, own[plan.name]) for plan in plans}
        found = [_pocket(layout, plans, paths)]
        for plan in plans:
            found += [_fit(layout, plan, own[plan.name]), _reach(plan), _stops(layout, plan, paths[plan.name])]
        return found

    return (swept,)


def _belongs(piece: Bare, plan: Template) -> bool:
    rest = piece.name.removeprefix(plan.name)
    return rest == "" or (rest != piece.name and rest.split("-")[1].isdigit() and plan.name + rest == piece.name)


def plan_at(pieces: list[Bare], z: float) -> BaseGeometry:
    """The section of the pieces, put together, at a height."""
    from shapely import unary_union

    return unary_union([level_section(to_manifold(mesh_of(p.solid, TRUE), p.name), z) for p in pieces])


def bush_places(plan: Template, pieces: list[Bare]) -> BaseGeometry:
    """Where the middle of the bush can be inside the opening as built.

    The opening counts EASE larger all round: the chords of its mesh would otherwise keep out a bush as wide as it is.
    """
    from shapely.geometry import Point, box

    material = plan_at(pieces, plan.thickness / 2)
    setting = plan.setting
    bush = setting.cutter + 2 * (setting.larger or 0.0)
    open_to = box(*material.bounds).difference(material).buffer(-bush / 2 + EASE, quad_segs=ARC)
    middle = Point((plan.cut.x_start + plan.cut.x_end) / 2, plan.cut.y)
    parts = list(getattr(open_to, "geoms", [open_to]))
    return min(parts, key=lambda part: part.distance(middle))


def _prism(shape: BaseGeometry, z_from: float, z_to: float) -> manifold3d.Manifold:
    rings = [np.asarray(ring.coords)[:-1] for ring in (shape.exterior, *shape.interiors)]
    section = manifold3d.CrossSection(rings, manifold3d.FillRule.EvenOdd)
    return manifold3d.Manifold.extrude(section, z_to - z_from).translate((0.0, 0.0, z_from))


def union(solids: list[manifold3d.Manifold]) -> manifold3d.Manifold:
    """The union of solids."""
    return manifold3d.Manifold.batch_boolean(solids, manifold3d.OpType.Add)


def wood_of(layout: Layout, solid: cq.Solid | None = None) -> manifold3d.Manifold:
    """The blank, by default sawn to its side profile with nothing cut yet, without the wood beyond its end."""
    half = layout.blank_half_width
    left = layout.head.x_far - layout.design.allowance.ends
    kept = manifold3d.Manifold.cube((layout.heel.x_end - left, 4 * half, 400.0)).translate((left, -2 * half, -399.0))
    return to_manifold(mesh_of(solid or sawn(layout), TRUE), "blank") ^ kept


def sawn(layout: Layout) -> cq.Solid:
    """The blank before its channel is cut."""
    return sideways(layout.blank_profile, -layout.blank_half_width, layout.blank_half_width, "blank")


def _pocket(layout: Layout, plans: tuple[Template, ...], paths: dict[str, BaseGeometry]) -> Finding:
    """Compares the cutter's sweep with the blank's channel; the corners that a round cutter leaves are counted
    separately."""
    tools = [tool(layout, plan.setting.step).solid for plan in plans]
    wood = wood_of(layout)
    channel = wood - wood_of(layout, cut(sawn(layout), tools, "cutting the blank"))
    swept = wood ^ union(
        [
            _prism(paths[p.name].buffer(p.setting.cutter / 2 - EASE, quad_segs=ARC), -p.setting.step.depth, OVER)
            for p in plans
        ]
    )
    meant = wood ^ union(
        [
            to_manifold(mesh_of(upright(step_path(p.cut), -p.setting.step.depth, OVER, "cut"), TRUE), p.name)
            for p in plans
        ]
    )
    excess, rest, missing = swept - channel, channel - swept, meant - swept
    volume = excess.volume() + missing.volume()
    depth = max(thickness(excess), thickness(missing))
    good = volume < POCKET_VOLUME and depth < POCKET_DEPTH
    return yes_no_finding(
        check="jig/pocket",
        part="jig-routing-template",
        good=good,
        says=f"bush and cutter through the templates leave the planned channel to {volume:.3f} mm3 and {depth:.4f} mm; "
        f"{rest.volume():.1f} mm3 stay in corners for the chisel",
        measured=volume,
        limit=POCKET_VOLUME,
        held=(None, POCKET_VOLUME),
        unit="mm3",
        basis="the planned channel",
        more={"depth": depth, "corners": rest.volume(), "excess": excess.volume(), "channel": channel.volume()},
    )


def thickness(solid: manifold3d.Manifold) -> float:
    """Mean thickness of the thickest piece, mm."""
    return max((2 * p.volume() / p.surface_area() for p in solid.decompose() if p.volume() > 1e-3), default=0.0)


def _fit(layout: Layout, plan: Template, pieces: list[Bare]) -> Finding:
    """The fit of the blank between the fences, at half the height of the fences."""
    from shapely.geometry import box

    fences = plan_at(pieces, -1.0)
    x0, _, x1, _ = fences.bounds
    half, fit = layout.blank_half_width, layout.design.workshop.printer.fit_per_side
    blank = box(x0, -half, x1, half)
    gaps = [blank.distance(part) for part in getattr(fences, "geoms", [fences])]
    shared = blank.intersection(fences).area
    good = shared < 1e-6 and all(abs(gap - fit) < PLAY for gap in gaps)
    return yes_no_finding(
        check="jig/fit",
        part=f"jig-routing-template-{plan.name}",
        good=good,
        says=f"the blank slides in with {min(gaps):.2f} mm at each side",
        measured=min(gaps),
        limit=fit,
        held=(fit - PLAY, fit + PLAY),
        basis="workshop.printer.fit_per_side",
    )


def _reach(plan: Template) -> Finding:
    cutting = plan.setting.cutting
    need = plan.setting.step.depth + plan.thickness + BASE_THICKNESS
    good, deep = need <= cutting.stick_out + 1e-6, plan.setting.step.depth
    return yes_no_finding(
        check="jig/reach",
        part=f"jig-routing-template-{plan.name}",
        good=good,
        says=f"through {BASE_THICKNESS:g} mm of base and {plan.thickness:.1f} mm of template to {deep:.2f} mm deep "
        f"takes {need:.2f} mm of the cutter's {cutting.stick_out:.2f} mm",
        measured=need,
        limit=cutting.stick_out,
        held=(None, cutting.stick_out),
        basis="workshop.cutters; the base's thickness by common practice, no source",
        at=Place((plan.cut.x_start + plan.cut.x_end) / 2, plan.cut.y, -plan.setting.step.depth, None),
    )


def _stops(layout: Layout, plan: Template, path: BaseGeometry) -> Finding:
    """Compares the router's base at both ends of the cut with the stop bars."""
    base = plan.base
    fit = layout.design.workshop.printer.fit_per_side
    x0, _, x1, _ = path.bounds
    gaps = (x0 + EASE - base - plan.stops[0], plan.stops[1] - x1 + EASE - base)
    good = min(gaps) >= -PLAY and max(gaps) <= fit + PLAY
    return yes_no_finding(
        check="jig/stops",
        part=f"jig-routing-template-{plan.name}",
        good=good,
        says=f"the router's base stops {gaps[0]:.2f} and {gaps[1]:.2f} mm short of the bars when the bush is at "
        "its ends",
        measured=max(gaps),
        limit=fit,
        held=(-PLAY, fit + PLAY),
        basis="workshop.router_base, workshop.printer.fit_per_side",
    )
