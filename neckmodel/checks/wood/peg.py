"""wall/peg: wood between the hole of a later string's peg and glue plane, channel and skin."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.cutter import TOOL_LINEAR, tool_mesh
from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import COMMON, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, skipped_finding
from neckmodel.geometry.types import Floats, Point3
from neckmodel.layout.hardware.peg import PegPlace, to_skin
from neckmodel.meshes import mesh_of, to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy
    from neckmodel.layout.channel.step import Step

FINE = 0.05  # mm, deflection of the neck's mesh beside the hole
APART = 0.25  # mm between points of the skin that are looked at
SEARCH = 60.0  # mm round the hole
KEY = "strings.each.0.peg"


@dataclass(frozen=True)
class _Wall:
    """Wood from the hole to one thing, called `what`, in short `name`: lo is at most the true wood, hi at least. off:
    the tolerances that take it."""

    name: str
    what: str
    lo: float
    hi: float
    at: Point3
    off: float


def check_peg(bench: Bench) -> list[Finding]:
    """The finding on the peg; none where every string starts at the nut."""
    layout, peg = bench.layout, bench.layout.peg
    if layout.fretboard.later is None:
        return []
    if peg is None:
        says = "the peg of the string that starts later is not stated: list it in strings.each[0].peg"
        return [skipped_finding(check="wall/peg", part="neck", says=says)]
    limit, walls = bench.design.limits.wall.peg, _walls(bench, peg)
    found = min(walls, key=lambda wall: wall.lo)
    worst = min(wall.lo - wall.off for wall in walls)
    verdict = at_least(found.lo, limit, worst)
    says = f"wood between the peg's hole and {found.what}"
    if found.lo <= 0:
        says = f"the peg's hole runs into {found.what}"
    elif verdict == FAIL:
        says += f": {found.lo:.2f} mm, {short_by(found.lo, limit)}"
    elif verdict == WARN:
        says += f": {found.lo:.2f} mm, but with every tolerance at its worst only {worst:.2f} mm"
    remedy = None
    if verdict != PASS:
        remedy = graded(bench.design, lambda aim: _moved(bench, walls, aim), found.lo - worst)
    return [
        limit_finding(
            check="wall/peg",
            part="neck",
            verdict=verdict,
            says=says,
            measured=found.lo,
            error=found.hi - found.lo,
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, found.at),
            remedy=remedy,
            more={wall.name: round(wall.lo, 3) for wall in walls},
        )
    ]


def _walls(bench: Bench, peg: PegPlace) -> list[_Wall]:
    """The wood to the glue plane, to each step of the channel, and to the skin beside the mouth."""
    allowed = bench.design.workshop.tolerances
    off, over = allowed.sideways + allowed.measuring, peg.to_glue_plane
    walls = [_Wall("glue_plane", "the glue plane", over, over, peg.end, off + allowed.glue_plane)]
    tool = next(hole for hole in bench.parts.holes if hole.step == peg.name)
    solid = to_manifold(tool_mesh(tool.solid), peg.name)
    for step in bench.layout.steps:
        if step.x_start - SEARCH < peg.mouth[0] < step.x_end + SEARCH:
            gap, what = (
                float(solid.min_gap(to_manifold(bench.wall_tool(step.name), step.name), SEARCH)),
                step_words(step.name),
            )
            gap = gap if gap > 0 else _overlap(peg, step)
            walls.append(_Wall(step.name, f"the {what}", gap - 2 * TOOL_LINEAR, gap + 2 * TOOL_LINEAR, peg.end, off))
    points = _skin_near(bench, peg)
    apart = to_skin(peg, points)
    if np.isfinite(apart).any():
        k = int(np.argmin(apart))
        least, (x, y, z) = float(apart[k]), points[k].tolist()
        walls.append(
            _Wall("skin", "the neck's skin", least - FINE - APART / 2, least + FINE, (x, y, z), off + allowed.carve)
        )
    return walls


def _overlap(peg: PegPlace, step: Step) -> float:
    """How far the hole reaches into a step of the channel, mm, negative."""
    (x, y, z), low = peg.end, step.y - step.width / 2
    return min(low - y if peg.side else -z - step.depth_at(x), 0.0)


def _skin_near(bench: Bench, peg: PegPlace) -> Floats:
    """(n, 3) points of the carved neck's back and sides round the hole, no farther apart than APART, mm."""
    triangles = np.asarray(mesh_of(bench.parts.carved, FINE).triangles)
    reach = peg.depth + 2 * peg.hole
    near = np.linalg.norm(np.clip(peg.mouth, triangles.min(axis=1), triangles.max(axis=1)) - peg.mouth, axis=1) < reach
    triangles = triangles[near & (triangles[:, :, 2].min(axis=1) < -APART)]
    found = [np.empty((0, 3))]
    for a, b, c in triangles:
        count = max(1, math.ceil(max(np.linalg.norm(b - a), np.linalg.norm(c - a), np.linalg.norm(c - b)) / APART))
        i, j = np.meshgrid(np.arange(count + 1), np.arange(count + 1), indexing="ij")
        inside = i + j <= count
        u, v = i[inside][:, None] / count, j[inside][:, None] / count
        found.append(a + u * (b - a) + v * (c - a))
    points = np.concatenate(found)
    return np.asarray(points[np.linalg.norm(points - peg.mouth, axis=1) < reach])


def _moved(bench: Bench, walls: list[_Wall], aim: Aim) -> Remedy | None:
    """A shallower hole where it comes too near to the channel, or a peg farther below the glue plane where it comes too
    near to that; a smaller hole does for all."""
    first, limit = bench.design.strings.later, bench.design.limits.wall.peg + aim.spare
    if first is None or first.peg is None:
        return None
    stated, short = first.peg, {wall.name: limit - wall.lo for wall in walls if wall.lo < limit}
    own = short.pop("glue_plane", 0.0), short.pop("skin", 0.0)
    settings: dict[str, float | str] = {}
    if short:
        settings[f"{KEY}.depth"] = aim.down(f"{KEY}.depth", stated.depth - max(short.values()))
    if own[0] > 0 and stated.below is not None:
        settings[f"{KEY}.below"] = aim.up(f"{KEY}.below", stated.below + own[0])
    elif own[0] > 0:
        settings[f"{KEY}.depth"] = aim.down(f"{KEY}.depth", stated.depth - max(own[0], *short.values()))
    if own[1] > 0:
        settings[f"{KEY}.hole"] = aim.down(f"{KEY}.hole", stated.hole - 2 * own[1])
    smaller: dict[str, float | str] = {f"{KEY}.hole": aim.down(f"{KEY}.hole", stated.hole - 2 * max(own))}
    return any_of(possible(bench.design, settings), possible(bench.design, smaller) if not short else None)
