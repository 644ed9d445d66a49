"""wall/clamp-screw and head/clamp: the wood round the screws of a clamp behind the nut, and the clamp on its wood."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.cutter import TOOL_LINEAR, tool_mesh
from neckmodel.checks.measure.holes import RoundHole, hole_to_tool
from neckmodel.checks.measure.neck import in_openings
from neckmodel.checks.measure.wall import least_wall
from neckmodel.checks.remedies.clamp import Near, longer_end, screws_aside
from neckmodel.checks.remedies.remedy import graded
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, SLACK, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, skipped_finding
from neckmodel.layout.workshop.tolerance import worst_loss
from neckmodel.solids.parts import NUT_END

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.measure.neck import PreparedNeck
    from neckmodel.geometry.types import Point3
    from neckmodel.layout.hardware.clamp import ClampPlace, ClampScrew

SIDES = {0: "the neck's end", 1: "the nut end's side", 2: "the nut end's under side"}


@dataclass(frozen=True)
class _Wall:
    """The wood between one screw's hole and one other surface, lo to hi, mm; other: what that is. outward: from the
    hole toward it."""

    lo: float
    hi: float
    screw: ClampScrew
    other: str
    outward: Point3
    at: Point3


def check_clamp(bench: Bench) -> list[Finding]:
    """The findings on the clamp; none on a neck with a head."""
    layout, clamp = bench.layout, bench.layout.clamp
    if not layout.head.is_none:
        return []
    if clamp is None:
        says = "no clamp is stated: add head.clamp"
        return [skipped_finding(check="head/clamp", part="clamp", says=says)]
    screws = [_screws(bench, clamp)] if clamp.screws else []
    return [*screws, _on_wood(bench, clamp)]


def _on_wood(bench: Bench, clamp: ClampPlace) -> Finding:
    """Whether the clamp stands on the wood over its whole length."""
    left = clamp.x_start - bench.layout.head.x_far
    says = f"the clamp ends {left:.2f} mm before the neck does"
    if left < -SLACK:
        says = f"the clamp stands out {-left:.2f} mm beyond the neck's end, with no wood under it"
    return limit_finding(
        check="head/clamp",
        part="clamp",
        verdict=WARN if left < -SLACK else PASS,
        says=says,
        measured=left,
        error=0.0,
        limit=0.0,
        basis=COMMON,
        at=place(bench.layout, (clamp.x_start, 0.0, 0.0)),
        remedy=longer_end(bench.layout, -left) if left < -SLACK else None,
    )


def _screws(bench: Bench, clamp: ClampPlace) -> Finding:
    """The least wood round any of the clamp's screws."""
    limit, tolerances = bench.design.limits.wall.clamp_screw, bench.design.workshop.tolerances
    neck = _with_end(bench.neck)
    walls = [wall for screw in clamp.screws for wall in _walls(bench, neck, screw)]
    least = min(walls, key=lambda wall: wall.lo)
    x, y, z = least.outward
    taken = worst_loss(tolerances, math.hypot(x, y), z, least.screw.depth)
    worst = least.lo - taken
    verdict = at_least(least.lo, limit, worst)
    says = f"wood between {least.screw.name} and {least.other}"
    if least.lo <= 0:
        says = f"{least.screw.name} {'comes out through' if least.other in SIDES.values() else 'runs into'} "
        says += least.other
    elif verdict == FAIL:
        says += f": {least.lo:.2f} mm, {short_by(least.lo, limit)}"
    elif verdict == WARN:
        says += f": {least.lo:.2f} mm, but with every tolerance at its worst only {worst:.2f} mm"
    near = [Near(wall.screw, wall.lo, wall.outward) for wall in walls]
    return limit_finding(
        check="wall/clamp-screw",
        part=least.screw.name,
        verdict=verdict,
        says=says,
        measured=least.lo,
        error=max(least.hi - least.lo, 0.0),
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, least.at),
        remedy=graded(bench.design, lambda aim: screws_aside(bench.layout, near, limit, aim), taken)
        if verdict != PASS
        else None,
    )


def _with_end(neck: PreparedNeck) -> PreparedNeck:
    """The neck with its far end counted as skin too, though a slot for the key may come out of it."""
    ends = [opening for opening in neck.openings if opening.name == NUT_END]
    there = np.flatnonzero(in_openings(neck.mesh.triangles, ends))
    rest = tuple(opening for opening in neck.openings if opening.name != NUT_END)
    return replace(neck, openings=rest, skin=np.union1d(neck.skin, there))


def _walls(bench: Bench, neck: PreparedNeck, screw: ClampScrew) -> list[_Wall]:
    """From one screw to each step of the channel, and to the outside."""
    hole = RoundHole((screw.x, screw.y, 0.0), (screw.x, screw.y, -screw.depth), screw.diameter / 2)
    found = []
    for step in bench.layout.steps:
        wall = hole_to_tool(hole, bench.in_wood(step.name))
        if wall is not None:
            away = _unit(wall.at_hole, wall.at_other)
            found.append(_Wall(wall.lo, wall.hi, screw, f"the {step_words(step.name)}", away, wall.at_hole))
    tool = next(tool for tool in bench.parts.holes if tool.step == screw.name)
    out = least_wall(neck, tool_mesh(tool.solid))
    if out is not None:
        away = _unit(out.at_skin, out.at_tool) if out.through else _unit(out.at_tool, out.at_skin)
        side = SIDES[int(np.abs(away).argmax())]
        lo = out.hi - TOOL_LINEAR if out.through else out.lo  # how far a tool comes out is known exactly
        found.append(_Wall(lo, out.hi + SKIN_ERROR, screw, side, away, out.at_tool))
    return found


def _unit(start: Point3, end: Point3) -> Point3:
    """The direction from one place to another; straight down where they are the same."""
    way = np.subtract(end, start)
    length = float(np.linalg.norm(way))
    return (0.0, 0.0, -1.0) if length == 0 else (float(way[0]) / length, float(way[1]) / length, float(way[2]) / length)
