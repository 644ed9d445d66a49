"""glue/nut: the glue surface either side of the channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.remedy import Aim, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by, step_words
from neckmodel.checks.wood.cover import MESH_ERROR, half_widths, sheared
from neckmodel.checks.wood.section import OFF_FACE
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.step import StepName, of_rod
from neckmodel.layout.rod.bars import is_bar
from neckmodel.limits import USUAL_GLUE

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy


def check_glue(bench: Bench) -> list[Finding]:
    """The glue surface either side of any opening at the nut's fretboard side, over a length equal to the nut's
    thickness."""
    layout, limit = bench.layout, bench.design.limits.glue_nut
    if not layout.steps or layout.back_strip is not None:  # a channel cut from the back leaves the glue plane whole
        return []
    board = sheared(bench.mesh("fretboard"), layout.fretboard.slope_start)  # sheared so that the nut's line is square
    edge = half_widths(board, np.array([OFF_FACE]))[0]
    opened = [
        (float(low[1]), float(high[1]), step.name)
        for step in layout.steps
        for low, high in [np.asarray(bench.tool_mesh(step.name).bounds)]
        if low[0] <= layout.design.nut.thickness and high[0] > SLACK
    ]
    sides = [(low - float(edge[0]), low, name) for low, _, name in opened]
    sides += [(float(edge[1]) - high, high, name) for _, high, name in opened]
    measured, y, name = min(sides, default=(min(-float(edge[0]), float(edge[1])), 0.0, ""))
    worst = measured - bench.design.workshop.tolerances.sideways
    verdict = at_least(measured, limit, worst)
    says = "glue surface either side at the nut"
    if name:
        says += f", beside the {step_words(name)}"
    if verdict == FAIL:
        says += f": {measured:.2f} mm, {short_by(measured, limit)}"
    elif verdict == WARN:
        says += f": {measured - worst:.2f} mm off, it is only {worst:.2f} mm"
    elif measured < USUAL_GLUE:
        says += f"; {USUAL_GLUE:.1f} mm is usual"
    return [
        limit_finding(
            check="glue/nut",
            part="neck",
            verdict=verdict,
            says=says,
            measured=measured,
            error=MESH_ERROR,
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, (0.0, y, 0.0)),
            remedy=_farther(bench, name) if verdict != PASS else None,
        )
    ]


def _farther(bench: Bench, name: str) -> Remedy | None:
    """The rod farther from the nut, until its opening begins beyond that length."""
    design, rod, key = bench.design, bench.layout.rod, "rod_place.from_nut"
    if rod is None or not name or is_bar(name) or of_rod(name)[0] == StepName.KEY_SWING:
        return None
    x = rod.x_start + design.nut.thickness - bench.layout.step(name).x_start + SLACK

    def farther(aim: Aim) -> Remedy | None:
        settings: dict[str, float | str] = {key: aim.up(key, x)}
        return possible(design, settings)

    return graded(design, farther)
