"""wall/between: the wood that is left between the channels of two rods, and between them and a bar's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.measure.cutter import TOOL_LINEAR
from neckmodel.checks.remedies.remedy import graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.between import least_between, neighbours
from neckmodel.layout.rod.bars import is_bar
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

SEARCH = 80.0  # mm, farther apart than the channels of any neck


def check_between(bench: Bench) -> list[Finding]:
    """The least wood between any two steps on different lines, measured between the solids that cut them; none where
    there is one rod."""
    pairs = neighbours(bench.layout.steps)
    if not pairs:
        return []
    solids = {step.name: to_manifold(bench.wall_tool(step.name), step.name) for step in bench.layout.steps}
    found = [(float(solids[a.name].min_gap(solids[b.name], SEARCH)), a, b) for a, b in pairs]
    measured, bass, treble = min(found, key=lambda each: each[0])
    limit, tolerances = bench.design.limits.wall.between, bench.design.workshop.tolerances
    worst = measured - 2 * tolerances.sideways
    verdict = at_least(measured, limit, worst)
    says = f"{measured:.2f} mm of wood between the {step_words(bass.name)} and the {step_words(treble.name)}"
    says += f", {short_by(measured, limit)}" if verdict == FAIL else ""
    if verdict == WARN:
        says += f", but with each of them {tolerances.sideways:.2f} mm off toward the other only {worst:.2f} mm"
    low, high = bass.y + bass.width / 2, treble.y - treble.width / 2
    x = max(bass.x_start, treble.x_start)
    return [
        limit_finding(
            check="wall/between",
            part="neck",
            verdict=verdict,
            says=says,
            measured=measured,
            error=TOOL_LINEAR,
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(bench.layout, (x, (low + high) / 2, -min(bass.depth_at(x), treble.depth_at(x)) / 2)),
            remedy=None if verdict == PASS else _apart(bench.layout, bass, treble, limit - measured, measured - worst),
        )
    ]


def _apart(layout: Layout, bass: Step, treble: Step, short: float, loss: float) -> Remedy | None:
    """The rods, or the bars outside them, farther from the centre line. short: of the limit, mm; loss: in the worst
    case."""
    design, rod, bars = layout.design, layout.design.rod, layout.design.bars
    if rod is None or rod.offset is None:
        return None
    key, offset, share = "rod.offset", rod.offset, 0.5
    if bars is not None and (is_bar(bass.name) or is_bar(treble.name)):
        share = 1.0
        if bars.offset > rod.offset:
            key, offset = "bars.offset", bars.offset

    def enough(new: Layout, spare: float) -> bool:
        left = least_between(new.steps)
        return left is not None and left.wood >= design.limits.wall.between + spare - SLACK

    def apart(aim: Aim) -> Remedy | None:
        to = aim.up(key, offset + share * (short + aim.spare))
        return possible(design, {key: to}, lambda new: enough(new, aim.spare))

    return graded(design, apart, loss)
