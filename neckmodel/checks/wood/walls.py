"""wall/<step> and wall/rod-end: the least wood between the channel and the finished outside."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.cutter import TOOL_LINEAR
from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.wall import Wall, least_wall
from neckmodel.checks.remedies.remedy import graded
from neckmodel.checks.remedies.slot import closed_slot_words, raised, runs_out_at_far_end
from neckmodel.checks.remedies.thickness import Short, more_wood, shorter
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, SLACK, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, Finding, limit_finding
from neckmodel.layout.channel.step import EndKind
from neckmodel.layout.channel.walls import limit_of
from neckmodel.layout.rod.bounds import cut_outs
from neckmodel.layout.workshop.tolerance import contributions, settled, worst_loss

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.geometry.types import Point3
    from neckmodel.layout.channel.step import Step

NEAR = 0.05  # mm: a wall this near to its limit is decided by the exact distance
AIM = 4.0  # mm, a wall that most makers prefer; common practice, no source
WORDS = {
    "sideways": "the channel's place across",
    "glue_plane": "the glue plane",
    "carve": "the carve",
    "measuring": "measuring",
}
TOWARD_END = (1.0, 0.0, 0.0)
TOWARD = {"heel.wood_ends_at": "the end of the neck's wood", "body.soundhole.from": "the soundhole"}


def check_walls(bench: Bench) -> list[Finding]:
    """A finding for each step: its least wall."""
    return [finding for step in bench.layout.steps if (finding := _wall(bench, step)) is not None]


def _wall(bench: Bench, step: Step) -> Finding | None:
    limit = limit_of(bench.design.limits, step.name)
    wall = least_wall(bench.neck, bench.wall_tool(step.name))
    if wall is None:
        return None
    measured, error = _decide(bench, step.name, wall, limit)
    short = Short(step, wall, measured, limit)
    tolerances, (_, ny, nz) = bench.design.workshop.tolerances, short.normal
    done = settled(bench.layout, step.name)
    worst = measured - worst_loss(tolerances, ny, nz, step.depth, done)
    verdict = at_least(measured, limit, worst)
    largest = max(contributions(tolerances, ny, nz, step.depth, done).items(), key=lambda pair: pair[1])
    says, remedy = _says(step, wall, measured, limit, worst, largest), None
    if verdict == FAIL:
        loss = measured - worst
        if (
            short.toward_end
        ):  # once that is mended, the least wall lies under the step, where the tolerances may take more
            loss = max(loss, worst_loss(tolerances, 0.0, -1.0, step.depth, done))
        remedy = graded(
            bench.design, lambda aim: more_wood(bench.layout, replace(short, limit=limit + aim.spare), aim), loss
        )
        if runs_out_at_far_end(bench.layout, step):
            says, remedy = closed_slot_words(bench.layout, step), raised(bench.layout, step)
    return limit_finding(
        check=f"wall/{step.name}",
        part="neck",
        verdict=verdict,
        says=says,
        measured=measured,
        error=error,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, wall.at_skin),
        remedy=remedy,
    )


OUT_ERROR = 0.05  # mm: by no more does the depth between two neighbouring sections differ
TOUCHING = 1e-6  # mm: tool and skin this near to each other touch


def _decide(
    bench: Bench, step: str, wall: Wall, limit: float, toward: Point3 | None = None, from_x: float = -math.inf
) -> tuple[float, float]:
    """(value, error) of a wall, mm: the mesh's lower bound, or the exact distance where the limit is near or missed."""
    if wall.through:  # the deepest corner is known exactly; another one may stand out farther by `error`
        value, error = wall.hi - TOOL_LINEAR, wall.hi - wall.lo + SKIN_ERROR
        out = _out_by_sections(bench, step)
        return (value, error) if out >= value else (out, OUT_ERROR)
    if wall.lo - NEAR < limit:
        exact = exact_wall(
            bench.tool(step).solid, bench.parts.carved, bench.parts.openings, toward=toward, from_x=from_x
        )
        if exact is not None and exact.value > TOUCHING:
            return exact.value, SKIN_ERROR
        if exact is not None:  # the step comes out by less than the meshes can show: the sections tell how far
            out = _out_by_sections(bench, step, swell=True)
            return out, -out + SKIN_ERROR
    return wall.lo, max(wall.hi - wall.lo, 0.0) + SKIN_ERROR


def _out_by_sections(bench: Bench, step: str, swell: bool = False) -> float:
    """How far a step stands out of the shaft, by the sections' closed form, negative, mm; 0 where it does not.

    swell: also in the heel's swell, which has more wood than the shaft's section there.
    """
    heel = bench.layout.heel
    inside = [w for w in bench.layout.walls if w.step == step and (swell or not heel.x_swell < w.x < heel.x_joint)]
    found = [w.wall for w in inside]
    return min([*found, 0.0])


def _says(step: Step, wall: Wall, measured: float, limit: float, worst: float, largest: tuple[str, float]) -> str:
    name = step_words(step.name)
    if wall.through or measured <= 0:
        return f"the {name} comes out through the finished neck, {-measured:.2f} mm deep"
    if measured < limit - SLACK:
        return f"the {name} leaves {measured:.2f} mm of wood once the neck is carved, {short_by(measured, limit)}"
    if worst < limit:
        word = WORDS.get(largest[0], f"the {largest[0]}")
        return (
            f"enough as designed, but with every tolerance at its worst only {worst:.2f} mm is left; "
            f"{word} takes most, {largest[1]:.2f} mm"
        )
    return "enough wood in every direction" + ("" if measured >= AIM else f"; most makers aim for {AIM:.1f} mm")


def check_rod_end(bench: Bench) -> list[Finding]:
    """Wood beyond the channel's end, to the end of the neck's wood or to the nearest cut-out of the body."""
    layout = bench.layout
    ends = layout.closed_ends
    if not ends:
        return []
    step = max(ends, key=lambda s: s.x_end)
    limit = layout.design.limits.wall.rod_end
    tool = bench.wall_tool(step.name)
    reach = float(np.asarray(tool.bounds)[1, 0])
    leaves = any(s.end_end == EndKind.OPEN and s.x_end >= layout.heel.x_end - SLACK for s in layout.steps)
    if leaves and reach >= layout.heel.x_end:
        return []
    last = min(reach, layout.heel.x_end)  # a tenon's shoulders face the same way, but they lie beside the channel
    wall = None if leaves else least_wall(bench.neck, tool, toward=TOWARD_END, from_x=last)
    found = [(hole.x - reach, SKIN_ERROR, hole.key) for hole in cut_outs(layout.design)]
    if wall is not None:
        found.append((*_decide(bench, step.name, wall, limit, TOWARD_END, last), "heel.wood_ends_at"))
    if (
        leaves
    ):  # the end is open and level there: what counts is the wood beside and under the slot that runs out through it
        found.append((layout.heel.x_end - reach, SLACK, "heel.wood_ends_at"))
    if not found:
        return []
    measured, error, key = min(found)
    tolerances = layout.design.workshop.tolerances
    worst = measured - tolerances.measuring - tolerances.stock
    verdict = at_least(measured, limit, worst)
    toward = TOWARD.get(key, "the cut-out in the body")
    says = f"the channel's end runs {-measured:.2f} mm past {toward}"
    if measured > 0:
        says = f"{measured:.2f} mm of wood between the channel's end and {toward}"
        says += f", {short_by(measured, limit)}" if verdict == FAIL else ""
    remedy = None
    if verdict == FAIL:
        short = limit - measured
        remedy = graded(layout.design, lambda aim: shorter(layout, step, short + aim.spare, key, aim), measured - worst)
    return [
        limit_finding(
            check="wall/rod-end",
            part="neck",
            verdict=verdict,
            says=says,
            measured=measured,
            error=error,
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, (reach, step.y, -step.depth)),
            remedy=remedy,
        )
    ]
