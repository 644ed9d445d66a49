"""wall/<screw> and wall/<tuner>: wood between round holes and the channel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.cutter import TOOL_LINEAR
from neckmodel.checks.measure.holes import HoleWall, RoundHole, hole_to_tool
from neckmodel.checks.remedies.remedy import Aim, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.step import FOR_THE_KEY
from neckmodel.layout.hardware.screws import Screw
from neckmodel.layout.hardware.slots import Roller
from neckmodel.layout.hardware.tuners import TunerPlace

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy


def screw_as_hole(screw: Screw) -> RoundHole:
    """The hole of a heel screw."""
    return RoundHole((screw.x, screw.y, screw.z_bottom), (screw.x, screw.y, screw.z_point), screw.diameter / 2)


def tuner_as_hole(tuner: TunerPlace) -> RoundHole:
    """The hole of a tuner."""
    back = np.subtract(tuner.on_face, np.multiply(tuner.axis, tuner.head_thickness))
    start = (float(back[0]), float(back[1]), float(back[2]))
    return RoundHole(start, tuner.on_face, tuner.hole / 2, through=True)


def roller_as_hole(roller: Roller) -> RoundHole:
    """The hole of a roller, bored from the head's side into the core."""
    return RoundHole(roller.start, roller.end, roller.hole / 2)


def _nearest(bench: Bench, hole: RoundHole, steps: list[str]) -> tuple[str, HoleWall] | None:
    walls = [(step, wall) for step in steps if (wall := hole_to_tool(hole, bench.in_wood(step))) is not None]
    return min(walls, key=lambda pair: pair[1].lo, default=None)


@dataclass(frozen=True)
class _Job:
    """One kind of hole with its limit and names. bored: how deep a roller's hole goes into the core, mm; None for
    other holes."""

    check: str
    name: str
    hole: RoundHole
    key: str
    bored: float | None = None


def check_hole_walls(bench: Bench) -> list[Finding]:
    """wall/screw and wall/tuner: for each kind, the hole nearest to the channel."""
    layout, limits = bench.layout, bench.design.limits.wall
    steps = [step.name for step in layout.steps]
    # between a slot for an adjuster at the heel and the tuners lies the whole neck, which is no wall
    slots = [step.name for step in layout.steps if step.x_start < 0 and step.kind in FOR_THE_KEY]
    screws = [_Job("wall/screw", s.name, screw_as_hole(s), f"heel.screws.{k}.y") for k, s in enumerate(layout.screws)]
    tuners = [_Job("wall/tuner", t.name, tuner_as_hole(t), f"head.tuners.{k}.y") for k, t in enumerate(layout.tuners)]
    tuners += [
        _Job("wall/tuner", r.name, roller_as_hole(r), f"head.tuners.{k}.into_core", r.into_core)
        for k, r in enumerate(layout.rollers)
    ]
    found = [_worst(bench, screws, steps, limits.screw), _worst(bench, tuners, slots, limits.tuner)]
    return [finding for finding in found if finding is not None]


def _worst(bench: Bench, jobs: list[_Job], against: list[str], limit: float) -> Finding | None:
    walls = [(job, *found) for job in jobs if (found := _nearest(bench, job.hole, against)) is not None]
    if not walls:
        return None
    job, step, wall = min(walls, key=lambda w: w[2].lo)
    tolerances = bench.design.workshop.tolerances
    worst = wall.lo - tolerances.sideways - tolerances.measuring
    verdict = at_least(wall.lo, limit, worst)
    name = step_words(step)
    says = f"wood between {job.name} and the {name}"
    if wall.lo <= 0:
        says = f"{job.name} runs into the {name}"
    elif verdict == FAIL:
        says += f": {wall.lo:.2f} mm, {short_by(wall.lo, limit)}"
    elif verdict == WARN:
        says += f": {wall.lo:.2f} mm, but with every tolerance at its worst only {worst:.2f} mm"
    return limit_finding(
        check=job.check,
        part=job.name,
        verdict=verdict,
        says=says,
        measured=wall.lo,
        error=wall.hi - wall.lo,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, wall.at_hole),
        remedy=_holes_sideways(bench, jobs, against, limit, wall.lo - worst) if verdict != PASS else None,
    )


def _holes_sideways(bench: Bench, jobs: list[_Job], against: list[str], limit: float, loss: float) -> Remedy | None:
    """Every hole that is too near moved sideways until `|y| = w/2 + d/2 + limit` from the middle of the widest step; of
    a slotted head bored less deep."""
    steps = [step for step in bench.layout.steps if step.name in against]
    near = [(job, found[1].lo) for job in jobs if (found := _nearest(bench, job.hole, against)) is not None]

    def farther(aim: Aim) -> Remedy | None:
        settings: dict[str, float | str] = {}
        for job, lo in near:
            if lo >= limit + aim.spare - SLACK:
                continue
            if job.bored is not None:
                settings[job.key] = aim.down(job.key, job.bored - (limit + aim.spare - lo) - 2 * TOOL_LINEAR)
                continue
            x, y, _ = job.hole.start
            side = 1 if y >= 0 else -1
            clear = job.hole.radius + limit + aim.spare + 2 * TOOL_LINEAR
            beside = [s for s in steps if s.x_start - clear < x < s.x_end + clear] or steps
            settings[job.key] = side * aim.up(job.key, max(side * s.y + s.width / 2 for s in beside) + clear)
        return possible(bench.design, settings)

    return graded(bench.design, farther, loss)
