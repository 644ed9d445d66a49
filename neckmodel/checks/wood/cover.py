"""cover/<step>: the fretboard over the channel."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import COMMON, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.geometry.types import Floats
from neckmodel.layout.channel.step import FOR_THE_KEY
from neckmodel.layout.rod.bars import is_bar
from neckmodel.layout.rod.bounds import aslant

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.design import Design
    from neckmodel.findings import Remedy
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.fretboard.fretboard import Fretboard

ON_GLUE_PLANE = 1e-6  # mm
MESH_ERROR = 1e-3  # mm, of straight edges and flat sides
STATIONS = 25


def half_widths(mesh: trimesh.Trimesh, xs: Floats, z: float = 0.0) -> Floats:
    """(n, 2) y of the outline's bass and treble side at each x, at height z, mm; nan where the plane misses the mesh.

    Edges of the mesh that cross or lie in the plane z are cut at each x, which is exact for parts with flat sides.
    """
    triangles = np.asarray(mesh.triangles)
    flat = triangles[np.abs(triangles[:, :, 2] - z).max(axis=1) < ON_GLUE_PLANE]
    edges = np.concatenate([flat[:, [0, 1]], flat[:, [1, 2]], flat[:, [2, 0]]])
    found = np.full((len(xs), 2), np.nan)
    for k, x in enumerate(xs):
        a, b = edges[:, 0], edges[:, 1]
        crossing = (np.minimum(a[:, 0], b[:, 0]) <= x) & (np.maximum(a[:, 0], b[:, 0]) >= x) & (a[:, 0] != b[:, 0])
        if crossing.any():
            p, q = a[crossing], b[crossing]
            y = p[:, 1] + (q[:, 1] - p[:, 1]) * (x - p[:, 0]) / (q[:, 0] - p[:, 0])
            found[k] = y.min(), y.max()
    return found


def check_cover(bench: Bench) -> list[Finding]:
    """How far the fretboard's underside reaches past each step that it must cover, at the sides and at the end."""
    covered = [step for step in bench.layout.steps if step.kind not in FOR_THE_KEY and not step.behind]
    return [found for step in covered if (found := _cover(bench, step)) is not None]


def _cover(bench: Bench, step: Step) -> Finding | None:
    """The finding on one step. None for a step behind the fretboard that belongs to an adjuster at the heel, which
    stays open."""
    layout, limit = bench.layout, bench.design.limits.cover_run
    board = bench.mesh("fretboard")
    low, high = np.asarray(bench.wall_tool(step.name).bounds)
    y = 0.0 if is_bar(step.name) else step.y
    half = float(np.abs([low[1] - y, high[1] - y]).max())
    start, end = _reach(board, layout.fretboard, half, y)
    beyond = end - float(high[0])
    if layout.rod is not None and layout.rod.at_heel and not is_bar(step.name):
        if low[0] >= end:
            return None
        beyond = math.inf
    measured, at, sideways = beyond, (float(high[0]), step.y, 0.0), False
    if low[0] < end:
        xs = np.linspace(max(float(low[0]), start), min(float(high[0]), end), STATIONS)
        sides = half_widths(board, xs)
        least = np.fmin(float(low[1]) - sides[:, 0], sides[:, 1] - float(high[1]))
        k = int(np.nanargmin(least))
        if least[k] <= beyond:
            measured, at, sideways = float(least[k]), (float(xs[k]), step.y, 0.0), True
    tolerances = bench.design.workshop.tolerances
    worst = measured - (tolerances.sideways if sideways else tolerances.measuring)
    verdict = at_least(measured, limit, worst)
    what = step_words(step.name)
    where = "beside" if sideways else "beyond the end of"
    says = f"the fretboard reaches {measured:.2f} mm {where} the {what}"
    if measured < 0:
        says = f"the {what} lies open {-measured:.2f} mm " + ("beside the fretboard" if sideways else "past its end")
    elif verdict == FAIL:
        says += f", {short_by(measured, limit)}"
    elif verdict == WARN:
        says += f": {measured - worst:.2f} mm off, it is only {worst:.2f} mm"
    remedy = None
    if verdict != PASS:
        lack = limit - measured
        remedy = graded(
            bench.design, lambda aim: _wider(bench, step, lack + aim.spare, sideways, aim), measured - worst
        )
    return limit_finding(
        check=f"cover/{step.name}",
        part="fretboard",
        verdict=verdict,
        says=says,
        measured=measured,
        error=MESH_ERROR,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(layout, at),
        remedy=remedy,
    )


def sheared(mesh: trimesh.Trimesh, slope: float) -> trimesh.Trimesh:
    """The mesh sheared so that lines of this slope dx/dy become square to x."""
    if slope == 0:
        return mesh
    matrix = np.eye(4)
    matrix[0, 1] = -slope
    return mesh.copy().apply_transform(matrix)


def _reach(mesh: trimesh.Trimesh, board: Fretboard, half: float, y: float) -> tuple[float, float]:
    """x from and to which the fretboard's solid covers everything within `half` of a line at y, mm."""
    start = float(sheared(mesh, board.slope_start).bounds[0][0]) + aslant(board.slope_start, half, y)
    return start, float(sheared(mesh, board.slope_end).bounds[1][0]) - aslant(-board.slope_end, half, y)


def _wider(bench: Bench, step: Step, by: float, sideways: bool, aim: Aim) -> Remedy | None:
    """A longer or wider fretboard, or a rod that ends sooner because it lies nearer to the nut or is shorter."""
    design, board, rod = bench.design, bench.layout.fretboard, bench.layout.rod
    ways: list[dict[str, float | str]] = []
    if sideways:
        ways.append(_broad(design, board, by, aim))
    else:
        place, length, ends = "rod_place.from_nut", "rod.length", "fretboard.ends_at"
        longer: dict[str, float | str] = {ends: aim.up(ends, board.x_end + by)}
        if (
            rod is not None and not rod.stated
        ):  # the place of a rod placed automatically must not follow the fretboard's end
            longer[place] = rod.x_start
        ways.append(longer)
        if rod is not None and not is_bar(step.name):
            ways.append({place: aim.down(place, rod.x_start - by)})
            ways.append({length: aim.down(length, rod.length - by), place: rod.x_start})
            if rod.stated:
                del ways[-1][place]
    return any_of(*(possible(design, way) for way in ways))


def _broad(design: Design, board: Fretboard, by: float, aim: Aim) -> dict[str, float | str]:
    width = design.fretboard.width
    if width is None:
        now = {"fretboard.edge_margin.nut": board.margin_nut, "fretboard.edge_margin.last_fret": board.margin_last}
    else:
        now, by = {"fretboard.width.nut": width.nut, "fretboard.width.end": width.end}, 2 * by
    return {key: aim.up(key, value + by) for key, value in now.items()}
