"""Closed contours of straight stretches and true arcs. Lengths mm, areas mm2."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.arcs import rectangle, rounded_path
from neckmodel.sheets.marks.display import Layer, Path

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step


def step_contour(layer: Layer, step: Step, filled: bool = False) -> Path:
    """A step's plan outline, its corners as the layout has them. The mirror image counts y the other way."""
    half = step.width / 2
    radii = (min(step.corner_start, half), min(step.corner_end, half))
    return rectangle(layer, (step.x_start, step.x_end), (step.y - half, step.y + half), radii, filled)


def template_opening(layer: Layer, step: Step, cutter: float, bush: float) -> Path:
    """The opening in a template along which a guide bush leads this cutter round the step: larger by
    `(bush outside - cutter)/2` all round, its corners as tight as the bush can follow."""
    larger, half = (bush - cutter) / 2, step.width / 2
    radii = tuple(max(radius + larger, bush / 2) for radius in (step.corner_start, step.corner_end))
    radius_start, radius_end = (min(radius, half + larger) for radius in radii)
    return rectangle(
        layer,
        (step.x_start - larger, step.x_end + larger),
        (step.y - half - larger, step.y + half + larger),
        (radius_start, radius_end),
    )


def neck_plan(layer: Layer, layout: Layout, stretches: int = 24) -> Path:
    """The finished neck in plan, head, heel and tenon included, as seen from above, right-handed."""
    heel, end, step = layout.heel, layout.outside.half_width(layout.heel.x_end), layout.back.later
    xs = [heel.x_swell + (heel.x_joint - heel.x_swell) * k / stretches for k in range(stretches)]
    if step is not None:
        xs = sorted([*xs, *(step.x_from + (step.x_to - step.x_from) * k / stretches for k in range(stretches + 1))])
    side = [((x, layout.outside.half_width(x)), 0.0) for x in (*xs, heel.x_joint)]
    if heel.tenon is None:
        side.append(((heel.x_end, end), min(heel.corner_radius, end)))
    else:  # the heel ends square at the joint, and so does its tenon
        side += [((x, heel.tenon.half_at(x)), 0.0) for x in (heel.x_joint, heel.x_end)]
    return _round_head(layer, layout, side, stretches)


def head_plan(layer: Layer, layout: Layout, stretches: int = 24) -> Path:
    """The head in plan as far as the head line, right-handed."""
    return _round_head(layer, layout, [], stretches)


def _round_head(layer: Layer, layout: Layout, beyond: list[tuple[Point, float]], stretches: int) -> Path:
    """Round the head and, from the head line on, along `beyond` on the treble side and its mirror image."""
    outside, head, drawn = layout.outside, layout.head, layout.head.contour
    start = outside.x_cove if drawn is None else head.x_swell
    xs = {start + (head.x_line - start) * k / stretches for k in range(stretches + 1)}
    treble = [((x, outside.half_width(x)), 0.0) for x in sorted(xs | {outside.x_cove})]
    if drawn is None:
        far = head.side(head.x_far)
        treble.insert(0, ((head.x_far, far), min(head.corner, far)))
    treble += beyond
    bass = [((x, outside.middle(x) - y), radius) for (x, y), radius in treble]
    treble = [((x, outside.middle(x) + y), radius) for (x, y), radius in treble]
    path = rounded_path(layer, bass + treble[::-1])
    if drawn is None:
        return path
    # the last stretch, across the neck where the swell ends, gives way to the drawn outline, which begins at the treble
    # side there and runs round the far end to the bass side
    first, *inner, _ = drawn.corners
    points = path.points + tuple((x, y) for x, y, _ in inner)
    return Path(layer, points, (*path.bulges[:-1], first[2], *(bulge for _, _, bulge in inner)), True)


def area(path: Path) -> float:
    """Area within a closed path, mm2, exact for arcs: the polygon's, and the segment that each arc adds to it."""
    total = 0.0
    for (x0, y0), (x1, y1), bulge in path.stretches():
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x0, y0), (x1, y1)) / 2 / math.sin(abs(angle) / 2)
            total += math.copysign(radius * radius * (abs(angle) - math.sin(abs(angle))) / 2, angle)
    return abs(total)
