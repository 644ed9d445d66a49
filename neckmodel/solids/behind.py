"""A channel cut from the back: the room that the rod keeps, the opening behind it, and the key's bore. Lengths mm."""

from __future__ import annotations

import math

from neckmodel.geometry.curve import Curve
from neckmodel.geometry.paths import PlanPath
from neckmodel.layout import Layout
from neckmodel.layout.channel.behind import GROOVE
from neckmodel.layout.channel.step import Step
from neckmodel.solids.hardware.compression import floor_edge
from neckmodel.solids.kernel.gate import common, cut, fuse
from neckmodel.solids.kernel.shapes import sideways_over, upright
from neckmodel.solids.kernel.turned import rod_of
from neckmodel.solids.parts import Tool

# isort: split
import cadquery as cq

PAST = 2.0  # mm by which a tool reaches past the wood
OVER = 5.0  # mm by which the space over a curve reaches above it


def room(step: Step, path: PlanPath, operation: str) -> cq.Solid:
    """The room that a step keeps once its strip is glued in: from its floor down to the strip."""
    if step.ceiling is None or (step.is_level and step.ceiling.sag == 0.0 and step.ceiling.start == step.ceiling.end):
        return upright(path, -step.depth, -step.top, operation)
    x0, x1 = step.x_start, step.x_end
    between = cut(_over(step, step.floor.between(x0, x1), operation), [_over(step, step.ceiling, operation)], operation)
    return _ended(step, between, path, operation)


def bored(layout: Layout, step: Step) -> cq.Solid:
    """The key's bore, past the wood at its open end, and into the adjuster's pocket until it opens all round where it
    leans."""
    half, slope = step.width / 2, (step.depth_end - step.depth_start) / (step.x_end - step.x_start)
    rise, into = math.hypot(1.0, slope), half * abs(slope)
    at_head = layout.rod is None or not layout.rod.at_heel
    x0, x1 = step.x_start - (PAST if at_head else into), step.x_end + (into if at_head else PAST)
    axis = Curve(step.x_start, step.x_end, step.depth_start - half * rise, step.depth_end - half * rise)
    return rod_of((x0, step.y, -axis.at(x0)), (x1, step.y, -axis.at(x1)), step.width, f"{step.name} tool")


def opened(layout: Layout, step: Step, path: PlanPath) -> cq.Solid:
    """What the router takes out for a step: from its floor down past the blank's back."""
    return _below(layout, step, path, 0.0)


def strip_region(layout: Layout, paths: dict[str, PlanPath]) -> Tool | None:
    """The region of the strip: all that is open behind the rod's room, from half way into it; None without a strip.
    paths: the plan of each step, and of the strip's own groove."""
    strip = layout.back_strip
    if strip is None:
        return None
    steps = [step for step in layout.steps if step.behind]
    solids = [_below(layout, step, paths[step.name], 0.5) for step in steps]
    if strip.groove is not None:
        solids.append(_below(layout, strip.groove, paths[GROOVE], 0.0))
    return Tool(GROOVE, fuse(solids[0], solids[1:], f"region of {GROOVE}") if solids[1:] else solids[0])


def _below(layout: Layout, step: Step, path: PlanPath, share: float) -> cq.Solid:
    """All space below a step, from its floor on, or from a share of the way to the strip."""
    operation, bottom = f"{step.name} from the back", min(z for _, z in layout.blank_profile) - PAST
    bottom = min(bottom, -step.face - PAST)
    if step.ceiling is None:
        return upright(path, bottom, -step.depth, operation)
    x0, x1 = step.x_start, step.x_end
    upper, lower = step.ceiling.between(x0, x1), step.floor.between(x0, x1)
    at = [u + share * (low - u) for u, low in ((upper.start, lower.start), (upper.end, lower.end))]
    middle = None
    if upper.middle is not None and lower.middle is not None:
        middle = upper.middle + share * (lower.middle - upper.middle)
    edge = Curve(x0, x1, at[0], at[1], middle)
    if edge.sag == 0.0 and edge.start == edge.end:
        return upright(path, bottom, -edge.start, operation)
    prism = upright(path, bottom, OVER, operation)
    return cut(prism, [_over(step, edge, operation, PAST)], operation)


def _over(step: Step, floor: Curve, operation: str, past: float = 0.0) -> cq.Solid:
    """The space over a sloping or curved floor, exactly; past: how far beyond the step's sides and ends, mm."""
    half = step.width / 2 + past
    longer = floor.between(step.x_start - past, step.x_end + past)
    return sideways_over(floor_edge(longer, step.y - half), step.y - half, step.y + half, OVER + PAST, operation)


def _ended(step: Step, solid: cq.Solid, path: PlanPath, operation: str) -> cq.Solid:
    """The solid with the step's ends as the cutter leaves them."""
    if step.corner_start <= 0 and step.corner_end <= 0:
        return solid
    return common(solid, [upright(path, -step.depth - PAST, OVER, operation)], operation)
