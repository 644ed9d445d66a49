"""fit/<step>: the rod in its run and pockets, and the bars in measured channels, measured between the solids."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.each import each_rod
from neckmodel.checks.measure.section import extent, tidy
from neckmodel.checks.rod.adjuster import as_cut_words, check_adjuster, check_end, reset
from neckmodel.checks.rod.compression import check_bent
from neckmodel.checks.rod.way import check_way
from neckmodel.checks.verdict import COMMON, SLACK, place, step_words
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, Verdict, range_finding
from neckmodel.layout.channel.seat import boxes_in
from neckmodel.layout.measured.numbers import built_of
from neckmodel.layout.measured.shims import void_under
from neckmodel.limits import MOST_BELOW
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.rod import RodPlace, Segment

INSIDE = 0.01  # mm by which a slice lies inside a segment's ends
WORTH_SAYING = 0.005  # mm of unplanned gap that is mentioned


def check_fit(bench: Bench) -> list[Finding]:
    """The findings on the fit of rod and bars."""
    return _rods(bench) + _bars(bench)


@each_rod
def _rods(bench: Bench) -> list[Finding]:
    rod = bench.layout.rod
    if rod is None:
        return []
    solid = to_manifold(bench.mesh("rod"), "the rod")
    inner = check_bent(bench, rod, solid) if rod.curve is not None else _boxes(bench, rod, solid)
    way = check_way(bench, rod, solid)
    return [check_adjuster(bench, rod, solid), *way, *inner, *check_end(bench, rod)]


def _boxes(bench: Bench, rod: RodPlace, solid: manifold3d.Manifold) -> list[Finding]:
    """A finding for the rod's boxes in the run, and for each box with a pocket of its own."""
    layout = bench.layout
    found = []
    for step in layout.steps:
        in_step = [s for s in boxes_in(rod, step, layout.steps) if s.x_end - s.x_start > 2 * INSIDE]
        if in_step:
            found.append(_step(bench, solid, step, in_step))
    return found


def _step(bench: Bench, rod: manifold3d.Manifold, step: Step, in_step: list[Segment]) -> Finding:
    """The fit in one step. A rod that stands proud, lies too deep, or has too shallow a floor decides first; then its
    play in width.

    in_step: the rod's boxes in this step.
    """
    x0, x1, drop = in_step[0].x_start, in_step[-1].x_end, min(s.top for s in in_step)
    parts = np.array([extent(rod, s.x_start + INSIDE, s.x_end - INSIDE) for s in in_step])
    part = np.array([parts[:, 0].min(axis=0), parts[:, 1].max(axis=0)])
    tool = np.asarray(bench.tool_mesh(step.name).bounds)
    play = tidy((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    top, floor = tidy(0.0 - part[1, 2]), tidy(part[0, 2] - tool[0, 2])
    channel, most = bench.design.channel, bench.design.limits.fit_run
    void, worst = void_under(bench.layout, step.name), _worst(bench, step, top)
    verdict, measured, limit, remedy, held = PASS, play, most, None, (0.0, most)
    wider, deeper = "channel.wider_by", "channel.deeper_by"
    says = f"{play:.2f} mm of play in width, the rod's top {top + void:.2f} mm below the glue plane"
    says += " where it lies on the floor" if void > WORTH_SAYING else ""
    if play < -SLACK:
        verdict, limit, says = FAIL, 0.0, f"the rod is {-play:.2f} mm wider than its {step_words(step.name)}"
        remedy = reset(bench.design, wider, channel.wider_by - play)
    elif min(top, floor) < -SLACK:
        verdict, measured, limit, held = FAIL, min(top, floor), 0.0, (0.0, MOST_BELOW)
        says = f"the rod stands {-top:.2f} mm proud of the glue plane"
        if floor < top:
            says = f"the floor of the {step_words(step.name)} is {-floor:.2f} mm too high"
        remedy = reset(bench.design, deeper, channel.deeper_by - measured)
    elif play > most + SLACK:
        verdict, says = WARN, f"{says}; at most {most:.2f} mm in width is usual"
        remedy = reset(bench.design, wider, channel.wider_by - play)
    elif top + void - drop > MOST_BELOW + SLACK:
        verdict, measured, limit, held = WARN, top + void - drop, MOST_BELOW, (0.0, MOST_BELOW)
        says += f"; at most {MOST_BELOW:.2f} mm below is usual"
        remedy = reset(bench.design, deeper, channel.deeper_by - (top - drop))
        if void > WORTH_SAYING:
            says += f"; {void:.2f} mm of void: lay a {void:.2f} mm shim under it, then it is {top:.2f} mm below"
    elif worst is not None and worst < -SLACK:
        verdict, measured, limit, held = WARN, top, 0.0, (0.0, MOST_BELOW)
        says += _may_stand(top, worst)
    if verdict == PASS:
        says += as_cut_words(bench, step, max(s.width for s in in_step))
    more = {"play": play, "below_glue_plane": top, "under_rod": floor}
    if void > WORTH_SAYING:
        more["shim"] = void
    fit = _Fit(verdict, says, measured, limit, held, worst, remedy)
    return _finding(bench, step, "rod", fit, (x0 + x1) / 2, more)


@dataclass(frozen=True)
class _Fit:
    """How a thing lies in its step, and what that comes to. held: the range in which `measured` should lie; worst: of a
    limit of 0, what may be measured in the worst case."""

    verdict: Verdict
    says: str
    measured: float
    limit: float
    held: tuple[float, float]
    worst: float | None
    remedy: Remedy | None = None


def _finding(bench: Bench, step: Step, part: str, fit: _Fit, x: float, more: dict[str, float]) -> Finding:
    """A finding on one step."""
    return range_finding(
        check=f"fit/{step.name}",
        part=part,
        verdict=fit.verdict,
        says=fit.says,
        measured=fit.measured,
        error=SLACK,
        limit=fit.limit,
        worst_case=fit.worst if fit.limit == 0.0 else None,
        basis=COMMON,
        at=place(bench.layout, (x, step.y, -step.depth)),
        remedy=fit.remedy,
        more={name: round(value, 4) for name, value in more.items()},
        held=fit.held,
    )


def _may_stand(top: float, worst: float) -> str:
    return f"; measured {top - worst:.2f} mm wrong it may stand {-worst:.2f} mm proud"


def _worst(bench: Bench, step: Step, top: float) -> float | None:
    """How far below the glue plane the top may lie of a part on a floor measured too high, mm; None on other floors."""
    planned = next(s for s in bench.layout.planned_steps if s.name == step.name)
    if step.behind or step.depth >= planned.depth:
        return None
    return top - bench.design.workshop.tolerances.measuring


def _bars(bench: Bench) -> list[Finding]:
    """Findings on those bars whose channels were measured. As planned, a bar's channel has just the room for its
    glue."""
    layout = bench.layout
    steps = {step.name: step for step in layout.steps}
    return [_bar(bench, bar, steps[bar.name]) for bar in layout.bars if built_of(layout, bar.name)]


def _bar(bench: Bench, bar: Bar, step: Step) -> Finding:
    part, tool = (np.asarray(mesh.bounds) for mesh in (bench.mesh(bar.name), bench.tool_mesh(step.name)))
    play = tidy(np.ptp(tool[:, 1]) - np.ptp(part[:, 1]))
    top, void = tidy(0.0 - part[1, 2]), tidy(part[0, 2] - tool[0, 2])
    verdict, measured, limit, worst = PASS, play, bench.design.limits.fit_run, _worst(bench, step, top)
    held = (0.0, limit)
    says = f"{play:.2f} mm of play in width, its top {top:.2f} mm below the glue plane, {void:.2f} mm under it"
    if play < -SLACK:
        verdict, limit, says = FAIL, 0.0, f"the bar is {-play:.2f} mm wider than its channel"
    elif min(top, void) < -SLACK:
        verdict, measured, limit, held = FAIL, min(top, void), 0.0, (0.0, MOST_BELOW)
        says = f"on the floor of its channel the bar stands {-measured:.2f} mm proud of the glue plane"
    elif play > limit + SLACK:
        verdict, says = WARN, f"{says}; at most {limit:.2f} mm in width is usual"
    elif void > MOST_BELOW + SLACK:
        verdict, measured, limit, held = WARN, void, MOST_BELOW, (0.0, MOST_BELOW)
        shim = void_under(bench.layout, step.name)
        says += f"; that is much for glue to fill: lay a {shim:.2f} mm shim under it"
    elif worst is not None and worst < -SLACK:
        verdict, measured, limit, held = WARN, top, 0.0, (0.0, MOST_BELOW)
        says += f"{_may_stand(top, worst)}: plane it level"
    more = {"play": play, "below_glue_plane": top, "under_bar": void}
    fit = _Fit(verdict, says, measured, limit, held, worst)
    return _finding(bench, step, bar.name, fit, (bar.x_start + bar.x_end) / 2, more)
