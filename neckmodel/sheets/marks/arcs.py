"""Paths with arcs: rectangles, rounded corners, and the box round a stretch."""

from __future__ import annotations

import math
from collections.abc import Sequence

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.display import Box, Layer, Path

SAME = 1e-9  # mm, points nearer to each other are one


def rounded_path(layer: Layer, corners: Sequence[tuple[Point, float]], filled: bool = False) -> Path:
    """The closed polygon through (corner, radius), each corner rounded by an arc that touches both its sides."""
    points: list[Point] = []
    bulges: list[float] = []
    for k, (corner, radius) in enumerate(corners):
        before, after = corners[k - 1][0], corners[(k + 1) % len(corners)][0]
        if radius <= 0:
            points.append(corner)
            bulges.append(0.0)
            continue
        (ux, uy), (vx, vy) = _toward(corner, before), _toward(corner, after)
        inside = math.acos(max(-1.0, min(1.0, ux * vx + uy * vy)))
        reach = radius / math.tan(inside / 2)
        turns = math.copysign(math.pi - inside, vx * uy - vy * ux)
        points += [(corner[0] + ux * reach, corner[1] + uy * reach), (corner[0] + vx * reach, corner[1] + vy * reach)]
        bulges += [math.tan(turns / 4), 0.0]
    kept = [k for k, point in enumerate(points) if math.dist(point, points[(k + 1) % len(points)]) > SAME]
    return Path(layer, tuple(points[k] for k in kept), tuple(bulges[k] for k in kept), True, filled)


def arc_of(start: Point, end: Point, bulge: float) -> tuple[Point, float, float, float]:
    """(centre, radius, angle at the start, angle turned through: positive anticlockwise) of a bulged stretch, in
    radians."""
    turned = 4 * math.atan(bulge)
    (x0, y0), (x1, y1) = start, end
    half = math.dist(start, end) / 2
    radius = half / math.sin(abs(turned) / 2)
    # from the chord's middle to the centre: to the left of the way if the arc turns left by less than half a circle
    offset = half / math.tan(turned / 2)
    along = ((x1 - x0) / (2 * half), (y1 - y0) / (2 * half))
    centre = ((x0 + x1) / 2 - along[1] * offset, (y0 + y1) / 2 + along[0] * offset)
    return centre, radius, math.atan2(y0 - centre[1], x0 - centre[0]), turned


def _toward(start: Point, end: Point) -> Point:
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def rectangle(
    layer: Layer,
    x: tuple[float, float],
    y: tuple[float, float],
    radii: tuple[float, float] = (0.0, 0.0),
    filled: bool = False,
) -> Path:
    """A rectangle; radii: of the corners at x low and at x high."""
    (x0, x1), (y0, y1) = x, y
    low, high = radii
    return rounded_path(layer, (((x0, y0), low), ((x1, y0), high), ((x1, y1), high), ((x0, y1), low)), filled)


def stretch_box(start: Point, end: Point, bulge: float) -> Box:
    """The box round a stretch, an arc's own farthest points included."""
    points = [start, end]
    if bulge:
        (x, y), radius, angle, turned = arc_of(start, end, bulge)
        first, last = sorted((angle, angle + turned))
        quarter = math.pi / 2
        for k in range(math.ceil(first / quarter), math.floor(last / quarter) + 1):
            points.append((x + radius * math.cos(k * quarter), y + radius * math.sin(k * quarter)))
    xs, ys = [px for px, _ in points], [py for _, py in points]
    return min(xs), min(ys), max(xs), max(ys)
