"""The body's wings. A recess for an adjuster at the heel is narrower than the neck, so that it never reaches them."""

from __future__ import annotations

from neckmodel.geometry.paths import polygon
from neckmodel.layout import Layout
from neckmodel.layout.body.wings import BodyWing
from neckmodel.solids.colours import colour_of
from neckmodel.solids.kernel.gate import common
from neckmodel.solids.kernel.shapes import sideways, upright
from neckmodel.solids.parts import Part

# isort: split
import cadquery as cq

PAST = 1.0  # mm that the body's outline stands over and under the wings' stock


def body_wing_parts(layout: Layout) -> tuple[Part, ...]:
    """One part for each wing: its stock, cut to the body's outline where one is drawn."""
    outline = layout.body.outline
    plan = None if outline is None else [(float(x), float(y)) for x, y in outline]
    return tuple(Part(wing.name, _wing(wing, plan), colour_of(wing.name), "wood") for wing in layout.body_wings)


def _wing(wing: BodyWing, plan: list[tuple[float, float]] | None) -> cq.Solid:
    x0, x1, low, top = wing.x_start, wing.x_end, wing.z_low, wing.z_top
    stock = sideways([(x0, low), (x1, low), (x1, top), (x0, top)], wing.y_from, wing.y_to, wing.name)
    if plan is None:
        return stock
    body = upright(polygon(plan), low - PAST, top + PAST, "outline of the body")
    return common(body, [stock], f"outline of {wing.name}")
