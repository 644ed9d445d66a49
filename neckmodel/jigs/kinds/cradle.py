"""A cradle for carving and fretting: saddles at one level that hold the finished back on cork, clear of heel and
head."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from neckmodel.findings import Finding, Place, yes_no_finding
from neckmodel.jigs.regions import level_section
from neckmodel.jigs.shaping import across, cylinder
from neckmodel.jigs.types import AS_IT_STANDS, Bare, Draft, JigError, Label
from neckmodel.layout import Layout
from neckmodel.layout.sides import Side
from neckmodel.limits import CORK, CORK_LOOSE
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.kernel.gate import cut

if TYPE_CHECKING:
    from shapely.geometry import Polygon

# mm; common practice, no source
LONG = 38.0  # of a saddle along the neck
WALL, UNDER = 8.0, 8.0  # beside the back and under it
TOP = -2.0  # z of the saddle's upper edges: below the glue plane, clear of glue and tools
FOOT, FOOT_HEIGHT = 14.0, 8.0  # flange at either side, for a screw
SCREW = 4.5  # hole in the flange
AIR = 3.0  # under heel and head
TALLEST = 50.0  # height of a saddle under the glue plane; a deeper heel or head hangs over the board's end
CLEAR = 1.0  # between a saddle and the step beside a string that starts later
APART = 160.0  # most between two saddles
TRUE = 0.02


@dataclass(frozen=True)
class Saddle:
    """One saddle: its number, the middle of its length, the nearest fret."""

    number: int
    x: float
    fret: int


def refuse(layout: Layout) -> None:
    """Raises JigError where the shaft is too short for two saddles."""
    if _room(layout)[1] - _room(layout)[0] < LONG:
        raise JigError("cradle: the shaft between the nut and the swell of the heel is too short for two saddles")


def draft(layout: Layout) -> Draft:
    """The saddles."""
    saddles, floor = places(layout), floor_of(layout)
    pieces = tuple(_piece(layout, saddle, floor) for saddle in saddles)

    def check() -> list[Finding]:
        return [_cork(layout, saddle, piece) for saddle, piece in zip(saddles, pieces, strict=True)]

    at = ", ".join(f"{saddle.x:.1f}" for saddle in saddles)
    remarks = [
        f"Screw the saddles to a flat board, their middles at x {at} mm from the nut, and glue cork of {CORK:g} mm in.",
        f"The glue plane is {-floor:.1f} mm over the board.",
    ]
    if min(-layout.heel.depth, layout.head.lowest) - AIR < floor - 1e-6:
        remarks.append(
            f"Heel or {layout.head.named} reaches lower than the board's face: let it hang over the board's end."
        )
    return Draft(pieces, (), (check,), tuple(remarks))


def _room(layout: Layout) -> tuple[float, float]:
    """x between which a saddle's middle may stand on the plain shaft, mm."""
    volute = layout.head.volute
    start = 0.0 if volute is None else max(0.0, volute.x_end)
    return start + LONG / 2 + 2.0, layout.heel.x_swell - LONG / 2


def places(layout: Layout) -> tuple[Saddle, ...]:
    """The saddles, from the nut to the heel's swell, no farther apart than APART."""
    start, end = _room(layout)
    count = max(2, int(np.ceil((end - start) / APART)) + 1)
    frets = layout.frets.frets
    return tuple(
        Saddle(k + 1, x, min(frets, key=lambda f: abs(f.x - x)).number)
        for k, x in enumerate(_beside_step(layout, float(x)) for x in np.linspace(start, end, count))
    )


def _beside_step(layout: Layout, x: float) -> float:
    """The place, or the nearest one at which a saddle there holds nothing of the step beside a string that starts
    later: cork of even thickness does not follow that."""
    later, half = layout.back.later, LONG / 2 + CLEAR
    if later is None or not later.x_from - half < x < later.x_to + half:
        return x
    head, body = later.x_from - half, later.x_to + half
    return head if x - head <= body - x and head >= _room(layout)[0] else body


def floor_of(layout: Layout) -> float:
    """z of the board's top, mm: under every saddle, and under heel and head where that does not make the saddles too
    tall."""
    deepest = max(layout.back.depth(s.x - LONG / 2) for s in places(layout))
    deepest = max(deepest, *(layout.back.depth(s.x + LONG / 2) for s in places(layout)))
    least = deepest + CORK + UNDER
    wanted = [-low + AIR for low in (-layout.heel.depth, layout.head.lowest) if -low + AIR <= TALLEST]
    return -max(least, *wanted, 0.0)


def _neck_in_saddle(layout: Layout, saddle: Saddle) -> Polygon:
    """The part of the neck that passes through the saddle, seen along the neck."""
    from shapely import unary_union
    from shapely.geometry import Polygon

    ends = (saddle.x - LONG / 2, saddle.x, saddle.x + LONG / 2)
    return unary_union([Polygon(layout.back.section(x).points(181)) for x in ends])


def _outline(layout: Layout, saddle: Saddle, floor: float) -> Any:
    from shapely.geometry import box

    held = _neck_in_saddle(layout, saddle).buffer(CORK, quad_segs=24).simplify(2e-3)
    outer = max(abs(held.bounds[0]), held.bounds[2]) + WALL
    body = box(-outer, floor, outer, TOP).union(box(-outer - FOOT, floor, outer + FOOT, floor + FOOT_HEIGHT))
    return body.difference(held.union(box(held.bounds[0], TOP - 1e-3, held.bounds[2], 10.0)))


def _piece(layout: Layout, saddle: Saddle, floor: float) -> Bare:
    outline = _outline(layout, saddle, floor)
    operation, x0, x1 = f"saddle {saddle.number}", saddle.x - LONG / 2, saddle.x + LONG / 2
    body = across([(float(y), float(z)) for y, z in outline.exterior.coords[:-1]], x0, x1, operation)
    reach = outline.bounds[2] - FOOT / 2
    holes = [cylinder((saddle.x, side * reach, floor - 1.0), SCREW / 2, FOOT_HEIGHT + 2.0) for side in (-1, 1)]
    label = Label(
        (f"{saddle.number}", f"fret {saddle.fret}", Side.TREBLE, "base down"),
        (saddle.x, 0.0, floor),
        (0.0, 1.0, 0.0),
        (1.0, 0.0, 0.0),
        2 * (reach - SCREW),
        LONG,
    )
    solid = cut(body, holes, operation)
    return Bare(f"{saddle.number}", f"saddle near fret {saddle.fret}, x {saddle.x:.1f} mm", solid, AS_IT_STANDS, label)


def _cork(layout: Layout, saddle: Saddle, piece: Bare) -> Finding:
    """The room for cork between the saddle and the back, at both of its ends and between."""
    from shapely.geometry import Point, Polygon

    body = to_manifold(mesh_of(piece.solid, 0.005), piece.name).transform(
        np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]])
    )
    least, most = np.inf, 0.0
    for x in np.linspace(saddle.x - LONG / 2 + 0.01, saddle.x + LONG / 2 - 0.01, 5):
        material = level_section(body, float(x))
        back = layout.back.section(float(x)).points(361)
        least = min(least, material.distance(Polygon(back)))
        edge = material.boundary
        most = max(most, *(edge.distance(Point(*p)) for p in back[::12] if p[1] < TOP - CORK))
    good = least >= CORK - TRUE and most <= CORK + CORK_LOOSE
    return yes_no_finding(
        check="jig/cork",
        part=f"jig-cradle-{piece.name}",
        good=good,
        says=f"between saddle and back there are {least:.2f} to {most:.2f} mm for cork of {CORK:g} mm",
        measured=float(least),
        error=0.005,
        limit=CORK,
        held=(CORK - TRUE, CORK + CORK_LOOSE),
        basis="common practice, no source",
        at=Place(saddle.x, 0.0, -layout.back.depth(saddle.x), saddle.fret),
        more={"most": float(most)},
    )
