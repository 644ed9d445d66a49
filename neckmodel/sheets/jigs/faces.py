"""What one side of a piece shows: the exact outlines of its level faces, each stretch open or hidden, and the open
edges of its sloping flat faces. mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.jigs.sides import View
from neckmodel.sheets.marks.arcs import arc_of, stretch_box
from neckmodel.sheets.marks.display import Box, Circle, Layer, Mark, Path
from neckmodel.sheets.marks.layers import HIDDEN, JIG

if TYPE_CHECKING:
    import cadquery as cq
    from shapely.geometry import Polygon
    from shapely.geometry.base import BaseGeometry

    from neckmodel.jigs.plan import Outline

FINE = 0.01  # mm, of the mesh that decides what hides what
ASIDE = 0.1  # mm beside an edge, where something over it is looked for
OVER = 0.02  # mm over a level, from where on material hides it
SHARES = (0.25, 0.5, 0.75)  # of an edge's length, at which that is looked for
ROUNDING = 3  # decimals of mm to which two stretches are the same
STRAIGHT = 1e-6  # of an angle, radians: two stretches go on in one line
HALF_TURN = 1e-6  # of a bulge: two half circles make a hole

Stretch = tuple[Point, Point, float]


@dataclass(frozen=True)
class Ring:
    """One outline of a level face. diameter: of a circle, else None. depth: below the face nearest to the eye, mm.
    behind: whether something lies over its middle."""

    stretches: tuple[Stretch, ...]
    depth: float
    diameter: float | None
    behind: bool = False

    @property
    def box(self) -> Box:
        """The box round it on the paper."""
        boxes = [stretch_box(*stretch) for stretch in self.stretches]
        low_x, low_y, high_x, high_y = zip(*boxes, strict=True)
        return min(low_x), min(low_y), max(high_x), max(high_y)

    def ends(self, way: int, far: bool) -> list[Point]:
        """Its farthest points to the left (way 0) or down (1), or with `far` to the right or up: the middles of edges
        along that side, else its corners there, else the side's middle."""
        at, other = self.box[way + 2 * far], (self.box[1 - way] + self.box[3 - way]) / 2
        there = [[abs(end[way] - at) < FINE for end in stretch[:2]] for stretch in self.stretches]
        edges = [along(s, 0.5)[0] for s, near in zip(self.stretches, there, strict=True) if all(near)]
        corners = [s[0] for s, near in zip(self.stretches, there, strict=True) if near[0]]
        return edges or corners or [(at, other) if way == 0 else (other, at)]


@dataclass(frozen=True)
class SideFaces:
    """One side of a piece. marks: its edges. rings: the outlines of all levels, the nearest first. box: round the
    piece. deep: its size toward the eye, mm. shadow: the region that it covers."""

    view: View
    marks: tuple[Mark, ...]
    rings: tuple[Ring, ...]
    box: Box
    deep: float
    shadow: BaseGeometry

    def on_rim(self, at: Point) -> bool:
        """Whether a point lies on the outer rim of the region that the piece covers."""
        from shapely.geometry import Point as At

        return any(part.exterior.distance(At(*at)) < 5 * FINE for part in self._parts())

    def rim_corners(self) -> list[Point]:
        """The corners of that rim, as exact as the mesh."""
        rims = [part.exterior.simplify(FINE) for part in self._parts()]
        return [(float(x), float(y)) for rim in rims for x, y in rim.coords]

    def _parts(self) -> Sequence[Polygon]:
        parts: Sequence[Polygon] = getattr(self.shadow, "geoms", [self.shadow])
        return parts

    def touches(self, ring: Ring, way: int) -> bool:
        """Whether either end of a ring, along the paper (way 0) or up it (1), lies on the rim; for an edge its middle
        counts."""
        return any(self.on_rim(at) for far in (False, True) for at in ring.ends(way, far))


def faces_of_side(solid: cq.Solid, view: View) -> SideFaces:
    """One side of a solid. Raises KernelError or MeshError where kernel or mesh fail."""
    from neckmodel.jigs.make import corner
    from neckmodel.jigs.plan import level_outlines, slope_edges
    from neckmodel.jigs.shaping import turned
    from neckmodel.jigs.types import Pose
    from neckmodel.solids.kernel.gate import guarded

    with guarded("joining faces that lie in one plane"):  # a seam between such faces is no edge
        plain = solid.clean()
    facing = turned(plain, Pose((view.right, view.up, view.outward)))
    (x0, y0, z0), (x1, y1, z1) = corner(facing)
    outlines = sorted(level_outlines(facing), key=lambda outline: (-outline.height, outline.points))
    shade = _Shade(facing)
    marks: list[Mark] = []
    done: set[tuple[Point, Point, float]] = set()
    rings = []
    for outline in outlines:
        over = shade.over(outline.height)
        ring = _ring(outline, z1, over)
        rings.append(ring)
        marks += _marks(ring, over, done)
    for (*start, low), (*end, high) in slope_edges(facing):
        stretch = ((start[0], start[1]), (end[0], end[1]), 0.0)
        if math.dist(start, end) < FINE or _key(stretch) in done:
            continue
        if not _hidden(stretch, *(shade.over(round(low + share * (high - low), 2)) for share in SHARES)):
            marks.append(Path(JIG, stretch[:2]))
            done.add(_key(stretch))
    marks.sort(key=lambda mark: getattr(mark, "layer", JIG) is JIG)  # open edges are drawn over hidden ones
    return SideFaces(view, tuple(marks), tuple(rings), (x0, y0, x1, y1), z1 - z0, shade.over(z0 - 1.0))


class _Shade:
    """The region that a body covers above a height."""

    def __init__(self, solid: cq.Solid) -> None:
        from neckmodel.meshes import mesh_of, to_manifold

        self.body = to_manifold(mesh_of(solid, FINE), "a piece that is drawn")
        self.known: dict[float, BaseGeometry] = {}

    def over(self, height: float) -> BaseGeometry:
        """The region in plan over which there is material higher than this."""
        import numpy as np

        from neckmodel.jigs.regions import region

        if height not in self.known:
            above = self.body.trim_by_plane((0.0, 0.0, 1.0), height + OVER)
            self.known[height] = region([np.asarray(ring) for ring in above.project().to_polygons()])
        return self.known[height]


def _ring(outline: Outline, top: float, over: BaseGeometry) -> Ring:
    from shapely.geometry import Point as At

    ends = (*outline.points[1:], outline.points[0])
    stretches = tuple(zip(outline.points, ends, outline.bulges, strict=True))
    round_ = len(stretches) == 2 and all(abs(abs(bulge) - 1) < HALF_TURN for _, _, bulge in stretches)
    ring = Ring(_joined(stretches), top - outline.height, math.dist(*outline.points) if round_ else None)
    (x0, y0, x1, y1) = ring.box
    return replace(ring, behind=bool(over.contains(At((x0 + x1) / 2, (y0 + y1) / 2))))


def _joined(stretches: Sequence[Stretch]) -> tuple[Stretch, ...]:
    """The same ring, with straight stretches in one line joined."""
    joined: list[Stretch] = []
    for stretch in stretches:
        if joined and _goes_on(joined[-1], stretch):
            joined[-1] = (joined[-1][0], stretch[1], 0.0)
        else:
            joined.append(stretch)
    if len(joined) > 2 and _goes_on(joined[-1], joined[0]):
        joined[0] = (joined.pop()[0], joined[0][1], 0.0)
    return tuple(joined)


def _goes_on(one: Stretch, other: Stretch) -> bool:
    (x0, y0), (x1, y1) = one[0], one[1]
    (x2, y2), (x3, y3) = other[0], other[1]
    turn = (x1 - x0) * (y3 - y2) - (y1 - y0) * (x3 - x2)
    onward = (x1 - x0) * (x3 - x2) + (y1 - y0) * (y3 - y2)
    return one[2] == other[2] == 0.0 and onward > 0 and abs(turn) < STRAIGHT * onward


def _marks(ring: Ring, over: BaseGeometry, done: set[tuple[Point, Point, float]]) -> Iterator[Mark]:
    """The ring's stretches that no nearer level has drawn, joined where they follow each other."""
    layers: list[Layer | None] = []
    for stretch in ring.stretches:
        key = _key(stretch)
        layers.append(None if key in done else HIDDEN if _hidden(stretch, over) else JIG)
        done.add(key)
    if ring.diameter is not None and layers[0] is not None:
        (a, b, _), *_ = ring.stretches
        yield Circle(layers[0], ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), ring.diameter / 2)
        return
    if len(set(layers)) == 1:
        if layers[0] is not None:
            starts, _, bulges = zip(*ring.stretches, strict=True)
            yield Path(layers[0], starts, bulges, closed=True)
        return
    # begin where the kind of line changes, so that no stretch is cut in two
    first = next(k for k in range(len(layers)) if layers[k] is not layers[k - 1])
    order = [(first + k) % len(layers) for k in range(len(layers))]
    for layer, run in groupby(order, key=lambda k: layers[k]):
        yield from _open(layer, [ring.stretches[k] for k in run])


def _open(layer: Layer | None, run: Sequence[Stretch]) -> Iterator[Mark]:
    if layer is not None:
        yield Path(layer, (run[0][0], *(end for _, end, _ in run)), tuple(bulge for _, _, bulge in run))


def _key(stretch: Stretch) -> tuple[Point, Point, float]:
    start, end, bulge = stretch
    a, b = ((round(x, ROUNDING) + 0.0, round(y, ROUNDING) + 0.0) for x, y in (start, end))
    return (a, b, round(bulge, ROUNDING)) if a <= b else (b, a, round(-bulge, ROUNDING))


def _hidden(stretch: Stretch, *over: BaseGeometry) -> bool:
    """Whether something lies over both sides of a stretch, at two or more of three places along it. over: what is
    covered there, one region for all places or one for each."""
    from shapely.geometry import Point as At

    free = 0
    for share, covered in zip(SHARES, over * (len(SHARES) // len(over)), strict=True):
        (x, y), (dx, dy) = along(stretch, share)
        sides = [At(x + side * dy * ASIDE, y - side * dx * ASIDE) for side in (-1, 1)]
        free += not all(covered.contains(point) for point in sides)
    return free < 2


def along(stretch: Stretch, share: float) -> tuple[Point, Point]:
    """A point of a stretch and the direction there."""
    start, end, bulge = stretch
    if bulge == 0:
        length = math.dist(start, end) or 1.0
        way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), way
    (x, y), radius, angle, turn = arc_of(start, end, bulge)
    here, sense = angle + share * turn, math.copysign(1.0, turn)
    point = (x + radius * math.cos(here), y + radius * math.sin(here))
    return point, (-sense * math.sin(here), sense * math.cos(here))
