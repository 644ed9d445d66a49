"""How many necks would pass: walls by section under errors of the workshop drawn many times. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.types import Floats
from neckmodel.layout.channel.walls import STATIONS, limit_of, opening
from neckmodel.layout.workshop.tolerance import NOTHING, contributions, remaining, settled, worst_loss

if TYPE_CHECKING:
    from neckmodel.design import Tolerances
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.neck.section import Opening

Flags = NDArray[np.bool_]

NECKS, SEED = 100_000, 20
ROUND = 721  # points of the back in each section; the nearest is within 1e-3 of the least wall


@dataclass(frozen=True)
class Walls:
    """The places round one step where its wall may be least: (m,) walls as designed, (m, 2) unit vectors (y, z) from
    the channel to the skin, (m,) depth of the channel there, (m,) x."""

    walls: Floats
    normals: Floats
    depths: Floats
    x: Floats


@dataclass(frozen=True)
class Share:
    """One wall over many necks. share: of necks that keep the limit, 0 to 1; error: standard error of that share.

    wall: as designed; worst: with every tolerance against it; low: the wall below which 1 neck in 100 falls. largest:
    the tolerance that moves it most, and the standard deviation of the wall that comes from it.
    """

    step: str
    wall: float
    limit: float
    share: float
    error: float
    worst: float
    low: float
    largest: tuple[str, float]


@dataclass(frozen=True)
class Shares:
    """All walls of one design over the same necks: the share of each wall, and of necks that keep all limits."""

    each: tuple[Share, ...]
    every: float
    necks: int
    seed: int


@dataclass(frozen=True)
class Errors:
    """(n,) each, signed, mm: errors of n necks. A tolerance is two sigmas of a normal distribution. Glue plane, stock
    and carve are one neck's; depth, sideways and tilt (a slope) one step's."""

    depth: Floats
    sideways: Floats
    glue_plane: Floats
    stock: Floats
    carve: Floats
    tilt: Floats


def draw(tolerances: Tolerances, necks: int, generator: np.random.Generator, shared: Errors | None = None) -> Errors:
    """Errors for one more step. shared: an earlier step's errors on the same necks; their glue plane, stock and carve
    are kept."""

    def normal(tolerance: float) -> Floats:
        return generator.normal(0.0, 1.0, necks) * (tolerance / 2)

    t = tolerances
    own = [normal(t.depth), normal(t.sideways), normal(t.tilt)]
    if shared is None:
        shared = Errors(own[0], own[1], normal(t.glue_plane), normal(t.stock), normal(t.carve), own[2])
    return Errors(own[0], own[1], shared.glue_plane, shared.stock, shared.carve, own[2])


def as_measured(errors: Errors, tolerances: Tolerances, done: frozenset[str]) -> Errors:
    """The errors of one step, with those of finished and measured work as small as the measuring error."""
    left = remaining(tolerances, done)
    by = {name: getattr(left, name) / (getattr(tolerances, name) or 1.0) for name in done}
    return replace(errors, **{name: getattr(errors, name) * share for name, share in by.items()})


def walls_of(places: Walls, errors: Errors) -> Floats:
    """(n,) least wall round a step in each neck: `w - n_y sideways - |n_z| (depth + glue plane + stock) - carve - tilt
    x depth`, the least over all places. A channel off to one side is nearer to that side and farther from the other. To
    first order in the errors: within 0.01 mm of a section computed anew, for usual tolerances."""
    across, down = places.normals[:, 0], np.abs(places.normals[:, 1])
    deeper = errors.depth + errors.glue_plane + errors.stock
    loss = np.outer(errors.sideways, across) + np.outer(deeper, down) + np.outer(errors.tilt, places.depths)
    return np.asarray((places.walls - loss).min(axis=1) - errors.carve)


def places_of(layout: Layout, step: Step) -> Walls:
    """The nearest place of the back in each half of each section along a step; in the heel, its bottom and sides."""
    heel = layout.heel
    first, last = max(step.x_start, 0.0), min(step.x_end, heel.x_end)
    found: list[tuple[float, float, float, float, float]] = []
    for x in np.linspace(first, last, STATIONS).tolist():
        box, depth = opening(step, x), step.depth_at(x)
        if x > heel.x_joint:
            found += [(layout.outside.flat_depth(x) - depth, 0.0, -1.0, depth, x)]
            found += _to_sides(layout, box, x)
            continue
        section = layout.back.section(x)
        if box.breaks_out(section):
            found.append((layout.wall_at(step, x), 0.0, -1.0, depth, x))
            continue
        points = section.points(ROUND)
        away = points - np.stack(
            [points[:, 0].clip(box.y_low, box.y_high), points[:, 1].clip(-box.depth, 0.0)], axis=-1
        )
        far = np.hypot(away[:, 0], away[:, 1])
        for half_back in (slice(None, ROUND // 2 + 1), slice(ROUND // 2, None)):
            k = int(far[half_back].argmin()) + (half_back.start or 0)
            found.append((float(far[k]), *(away[k] / far[k]).tolist(), depth, x))
    table = np.array(found)
    round_it = step.width / 2 if step.bored else 0.0  # of a bore the axis was looked at
    return Walls(table[:, 0] - round_it, table[:, 1:3], table[:, 3], table[:, 4])


def _to_sides(layout: Layout, box: Opening, x: float) -> list[tuple[float, float, float, float, float]]:
    """From a step to both sides of the heel, or of its tenon, in the section at x beyond the joint."""
    tenon = layout.heel.tenon
    if tenon is None:
        half = layout.outside.half_width(x)
        sides = (half + box.y_low, -1.0), (half - box.y_high, 1.0)
        return [(wall, way, 0.0, box.depth, x) for wall, way in sides]
    across, down = tenon.outward
    corners = (box.y_low, -1.0), (box.y_high, 1.0)
    return [(tenon.beside(x, y, box.depth), way * across, -down, box.depth, x) for y, way in corners]


def share_of(
    step: str, places: Walls, limit: float, tolerances: Tolerances, errors: Errors, done: frozenset[str] = NOTHING
) -> tuple[Share, Flags]:
    """(one wall over these necks, (n,) whether each keeps the limit). errors: as drawn; done: the tolerances whose work
    is finished and measured."""
    errors = as_measured(errors, tolerances, done)
    least = int(places.walls.argmin())
    ny, nz = places.normals[least].tolist()
    parts = contributions(tolerances, ny, nz, float(places.depths[least]), done)
    name = max(parts, key=lambda part: parts[part])
    drawn = walls_of(places, errors)
    kept = drawn >= limit
    share = float(kept.mean())
    table = np.column_stack([places.normals, places.depths]).tolist()
    worst = float((places.walls - np.array([worst_loss(tolerances, y, z, d, done) for y, z, d in table])).min())
    found = Share(
        step=step,
        wall=float(places.walls[least]),
        limit=limit,
        share=share,
        error=math.sqrt(share * (1 - share) / len(kept)),
        worst=worst,
        low=float(np.quantile(drawn, 0.01)),
        largest=(name, parts[name] / 2),
    )
    return found, kept


def shares(layout: Layout, necks: int = NECKS, seed: int = SEED) -> Shares:
    """How many of these necks keep the limits of their walls. The same seed gives the same numbers."""
    tolerances = layout.design.workshop.tolerances
    generator = np.random.Generator(np.random.PCG64(seed))
    every = np.ones(necks, dtype=bool)
    each: list[Share] = []
    errors: Errors | None = None
    for step in layout.steps:
        if step.x_end <= 0:
            continue
        errors = draw(tolerances, necks, generator, errors)
        places = places_of(layout, step)
        limit, done = limit_of(layout.design.limits, step.name), settled(layout, step.name)
        share, kept = share_of(step.name, places, limit, tolerances, errors, done)
        each.append(share)
        every &= kept
    return Shares(tuple(each), float(every.mean()), necks, seed)
