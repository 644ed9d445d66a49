"""cover/<step> and glue/nut: the fretboard over the channel, and the glue surface beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.section import OFF_FACE
from neckmodel.checks.verdict import COMMON, at_least, place
from neckmodel.findings import Finding
from neckmodel.meshes.weld import Floats

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench

USUAL_GLUE = 6.0  # mm either side at the nut
ON_GLUE_PLANE = 1e-6  # mm
STATIONS = 25


def half_widths(mesh: trimesh.Trimesh, xs: Floats, z: float = 0.0) -> Floats:
    """(n, 2) y of the outline's bass and treble side at each x, at height z; nan where the plane misses the mesh.

    Edges of the mesh that cross or lie in the plane z are cut at each x: exact for flat-sided parts.
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
    """How far the fretboard's underside reaches beyond each step that it must cover, sideways and at the end."""
    layout, limit = bench.layout, bench.design.limits.cover_run
    board = bench.mesh("fretboard")
    end = float(board.bounds[1][0])
    findings = []
    for step in layout.steps:
        if step.name in ("access-slot", "key-swing"):
            continue
        low, high = bench.tool_mesh(step.name).bounds
        xs = np.linspace(max(float(low[0]), 0.0), min(float(high[0]), end), STATIONS)
        sides = half_widths(board, xs)
        bass, treble = float(low[1]) - sides[:, 0], sides[:, 1] - float(high[1])
        least = np.fmin(bass, treble)
        k = int(np.nanargmin(least))
        beyond = end - float(high[0])
        measured, at = (
            (beyond, (float(high[0]), step.y, 0.0))
            if beyond < least[k]
            else (float(least[k]), (float(xs[k]), step.y, 0.0))
        )
        worst = measured - bench.design.workshop.tolerances.sideways
        says = "the fretboard covers it" if measured >= limit else "the fretboard does not cover it far enough"
        findings.append(
            Finding(
                f"cover/{step.name}",
                "fretboard",
                at_least(measured, limit, worst),
                says,
                measured,
                1e-3,
                limit,
                worst_case=worst,
                basis=COMMON,
                at=place(layout, at),
            )
        )
    return findings


def check_glue(bench: Bench) -> list[Finding]:
    """Glue surface either side of whatever is open at the nut's fretboard side."""
    layout, limit = bench.layout, bench.design.limits.glue_nut
    x = OFF_FACE
    edge = half_widths(bench.mesh("fretboard"), np.array([x]))[0]
    bass, treble = 0.0, 0.0
    for step in layout.steps:
        low, high = bench.tool_mesh(step.name).bounds
        if low[0] <= x + layout.design.nut.thickness and high[0] >= x:  # just behind the nut counts too
            bass, treble = min(bass, float(low[1])), max(treble, float(high[1]))
    measured = min(bass - float(edge[0]), float(edge[1]) - treble)
    worst = measured - bench.design.workshop.tolerances.sideways
    verdict = at_least(measured, limit, worst)
    says = "glue surface either side at the nut"
    if verdict == "pass" and measured < USUAL_GLUE:
        says += f"; {USUAL_GLUE:.1f} mm is usual"
    return [
        Finding(
            "glue/nut",
            "neck",
            verdict,
            says,
            measured,
            1e-3,
            limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, (0.0, bass, 0.0)),
        )
    ]
