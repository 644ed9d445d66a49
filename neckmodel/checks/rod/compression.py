"""fit/... and cover/strip of a compression rod: the bent bar in its run, the anchor, the washer, and the strip over the
bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.measure.section import EXACT, extent, extent_at, tidy, whole_extent
from neckmodel.checks.remedies.remedy import change, graded, layout_with
from neckmodel.checks.rod.adjuster import as_cut_words, reset
from neckmodel.checks.rod.behind import check_bent_run
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, limit_finding, range_finding, skipped_finding
from neckmodel.geometry.types import Floats
from neckmodel.layout.channel.step import StepName
from neckmodel.layout.measured.shims import void_under
from neckmodel.layout.workshop.tolerance import remaining, settled
from neckmodel.limits import MOST_BELOW, MOST_LOOSE
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.compression import CoverStrip
    from neckmodel.layout.rod.rod import RodPlace, Segment

MESH_ERROR = 0.03  # mm by which the meshes of a bent round bar and of its channel may be off
STATIONS = 41
LOOKED_AT = (
    0,
    STATIONS // 2,
    STATIONS - 1,
)  # numbers of the stations at which a bar of constant width is measured exactly
SLICE = 0.02  # mm of x measured at each place


def check_bent(bench: Bench, place_of: RodPlace, rod: manifold3d.Manifold) -> list[Finding]:
    """The findings on a compression rod's fit."""
    steps = {step.name: step for step in bench.layout.steps}
    found = []
    anchor = next(iter(place_of.segments), None)
    if StepName.RUN in steps and steps[StepName.RUN].behind:
        found.append(check_bent_run(bench, place_of, rod, steps[StepName.RUN]))
    elif StepName.RUN in steps:
        found.append(_run(bench, place_of, rod, steps[StepName.RUN], anchor))
    if anchor is not None and StepName.ANCHOR in steps:
        found.append(_anchor(bench, rod, steps[StepName.ANCHOR], anchor))
    if place_of.washer is not None and StepName.WASHER in steps:
        found.append(_washer(bench, steps[StepName.WASHER]))
    behind = any(step.behind for step in steps.values())  # its strip only closes the channel
    return found if behind else found + _strip(bench, place_of, rod)


def _stations(x0: float, x1: float) -> Floats:
    return np.linspace(x0 + SLICE, x1 - SLICE, STATIONS)


def _at(solid: manifold3d.Manifold, x: float) -> Floats:
    return extent(solid, x - SLICE / 2, x + SLICE / 2)


def _run(bench: Bench, place_of: RodPlace, rod: manifold3d.Manifold, step: Step, anchor: Segment | None) -> Finding:
    """Play in width, and the gap between the bar and the curved floor, all along the run."""
    ends = [step.x_start, step.x_end, place_of.x_start, place_of.x_end]
    x0, x1 = max(ends[0], ends[2]), min(ends[1], ends[3])
    if anchor is not None:
        x0, x1 = (anchor.x_end, x1) if place_of.at_heel else (x0, anchor.x_start)
    adjuster = next((s for s in bench.layout.steps if s.name == StepName.ADJUSTER), None)
    if adjuster is not None:
        x0, x1 = (x0, min(x1, adjuster.x_start)) if place_of.at_heel else (max(x0, adjuster.x_end), x1)
    tool = to_manifold(bench.tool_mesh(step.name), step.name)
    xs = _stations(x0, x1)
    both = [(_at(rod, x), _at(tool, x)) for x in xs]
    bar_solid = bench.part("rod").solid  # the exact solid, for a mesh of a round bar is narrower than the bar
    play = min(tidy(np.ptp(both[k][1][:, 1]) - np.ptp(extent_at(bar_solid, float(xs[k]))[:, 1]), 4) for k in LOOKED_AT)
    under = np.array([bar[0, 2] - cut[0, 2] for bar, cut in both])
    k = int(under.argmin())
    least, channel, most = float(under[k]), bench.design.channel, bench.design.limits.fit_run
    void, rests = void_under(bench.layout, step.name), place_of.lift > 0
    verdict, measured, limit, remedy, error = PASS, play, most, None, EXACT
    held: tuple[float, float] = (0.0, most)
    deepest = max(MOST_BELOW, channel.deeper_by)
    under_it = max(least, 0.0) if rests else least
    says = f"{play:.2f} mm of play in width, at least {under_it:.2f} mm between the rod and the curved floor"
    if play < -EXACT:
        verdict, limit, says = FAIL, 0.0, f"the rod is {-play:.2f} mm wider than its run"
        remedy = reset(bench.design, "channel.wider_by", channel.wider_by - play)
    elif least < -(MESH_ERROR if rests else SLACK):
        verdict, measured, limit, held, error = FAIL, least, 0.0, (0.0, deepest), MESH_ERROR
        says = f"the curved floor is {-least:.2f} mm too high under the rod"
        remedy = reset(bench.design, "channel.deeper_by", channel.deeper_by - least)
    elif play > most + EXACT:
        verdict, says = WARN, f"{says}; at most {most:.2f} mm in width is usual"
        remedy = reset(bench.design, "channel.wider_by", channel.wider_by - play)
    elif void > SLACK and least > deepest + MESH_ERROR:
        verdict, measured, limit, held, error = WARN, least, deepest, (0.0, deepest), MESH_ERROR
        says += f"; at most {limit:.2f} mm is usual: lay a {void:.2f} mm shim under it, or it bends down to the floor"
    if verdict == PASS:
        says += as_cut_words(bench, step, place_of.diameter)
    return range_finding(
        check="fit/run",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=error,
        limit=limit,
        held=held,
        basis=COMMON,
        at=place(bench.layout, (float(xs[k]), step.y, -step.depth_at(float(xs[k])))),
        remedy=remedy,
        more={"play": round(play, 4), "under_rod": round(least, 4)},
    )


def _anchor(bench: Bench, rod: manifold3d.Manifold, step: Step, anchor: Segment) -> Finding:
    part = extent(rod, anchor.x_start + SLICE, anchor.x_end - SLICE)
    tool = np.asarray(bench.tool_mesh(step.name).bounds)
    play, under = tidy(np.ptp(tool[:, 1]) - np.ptp(part[:, 1])), tidy(part[0, 2] - tool[0, 2])
    return _pocket(bench, step, "rod", StepName.ANCHOR, play, under, anchor.x_start)


def _washer(bench: Bench, step: Step) -> Finding:
    part, tool = whole_extent(bench.part("washer").solid), np.asarray(bench.tool_mesh(step.name).bounds)
    play, under = tidy(np.ptp(tool[:, 1]) - np.ptp(part[:, 1])), tidy(part[0, 2] - tool[0, 2])
    return _pocket(bench, step, StepName.WASHER, StepName.WASHER, play, under, step.x_start)


def _pocket(bench: Bench, step: Step, part: str, what: str, play: float, under: float, x: float) -> Finding:
    """Whether a part that does not move fits into its pocket."""
    channel, most = bench.design.channel, bench.design.limits.fit_run
    verdict, measured, limit, remedy, held = PASS, play, most, None, (0.0, most)
    says = f"{play:.2f} mm of play in width, {under:.2f} mm under the {what}"
    if min(play, under) < -SLACK:
        verdict, measured, limit = FAIL, min(play, under), 0.0
        says = f"the {what} is {-measured:.2f} mm too {'wide' if play <= under else 'deep'} for its pocket"
        key, value = ("wider_by", channel.wider_by) if play <= under else ("deeper_by", channel.deeper_by)
        remedy = reset(bench.design, f"channel.{key}", value - measured)
    elif play > most + SLACK:
        verdict, says = WARN, f"{says}; at most {most:.2f} mm in width is usual"
        remedy = reset(bench.design, "channel.wider_by", channel.wider_by - play)
    return range_finding(
        check=f"fit/{step.name}",
        part=part,
        verdict=verdict,
        says=says,
        measured=measured,
        error=SLACK,
        limit=limit,
        held=held,
        basis=COMMON,
        at=place(bench.layout, (x, step.y, -step.depth)),
        remedy=remedy,
        more={"play": round(play, 4), "under": round(under, 4)},
    )


def _strip(bench: Bench, place_of: RodPlace, rod: manifold3d.Manifold) -> list[Finding]:
    """The strip glued over the rod, cut through at places along it."""
    if place_of.strip is None:
        says = "no cover strip is stated: add rod.cover_strip with its thickness and wood"
        return [skipped_finding(check="cover/strip", part="rod", says=says)]
    strip = to_manifold(bench.mesh("cover-strip"), "the cover strip")
    xs = _stations(place_of.strip.x_start, place_of.strip.x_end)
    both = [(_at(strip, x), _at(rod, x)) for x in xs]
    return [_cover(bench, place_of, xs, both), _bearing(bench, place_of, place_of.strip, xs, both)]


def _cover(bench: Bench, place_of: RodPlace, xs: Floats, both: list[tuple[Floats, Floats]]) -> Finding:
    """cover/strip: wood over the rod, and the glue surface. both: boxes of strip and rod at each x."""
    limit = bench.design.limits.cover_strip
    thick = np.array([float(np.ptp(wood[:, 2])) for wood, _ in both])
    k = int(thick.argmin())
    tolerances = remaining(bench.design.workshop.tolerances, settled(bench.layout, StepName.RUN))
    least, worst = float(thick[k]), float(thick[k]) - tolerances.depth
    verdict = at_least(least, limit, worst)
    surface = 2 * float(np.sum(np.diff(xs) * (thick[1:] + thick[:-1]) / 2))
    says = f"at least {least:.2f} mm of the strip over the rod, glued to either wall of the channel"
    says += f", {short_by(least, limit)}" if verdict == FAIL else ""
    if verdict == WARN:
        says += f": routed {tolerances.depth:.2f} mm wrong in depth, it is only {worst:.2f} mm"
    return limit_finding(
        check="cover/strip",
        part="cover-strip",
        verdict=verdict,
        says=says,
        measured=least,
        error=MESH_ERROR,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, (float(xs[k]), place_of.y, 0.0)),
        remedy=_deeper_ends(bench, place_of, limit, least - worst) if verdict != PASS else None,
        more={"thickest": round(float(thick.max()), 4), "glue_surface_mm2": round(surface, 1)},
    )


def _bearing(
    bench: Bench, place_of: RodPlace, strip: CoverStrip, xs: Floats, both: list[tuple[Floats, Floats]]
) -> Finding:
    """fit/strip: whether the strip reaches down to the rod. both: boxes of strip and rod at each x."""
    gaps = np.array([float(wood[0, 2] - bar[1, 2]) for wood, bar in both])
    wide = int(gaps.argmax())
    gap, need = float(gaps[wide]), strip.underside.extremes()[1]
    thickness = "rod.cover_strip.thickness"
    loose = gap > MOST_LOOSE + MESH_ERROR
    says = f"the strip bears on the rod, at most {max(gap, 0.0):.2f} mm from it"
    if loose:
        says = f"the strip stays {gap:.2f} mm off the rod, which bears on nothing there"
    return range_finding(
        check="fit/strip",
        part="cover-strip",
        verdict=FAIL if loose else PASS,
        says=says,
        measured=gap,
        error=MESH_ERROR,
        limit=MOST_LOOSE,
        held=(None, MOST_LOOSE),
        basis=COMMON,
        at=place(bench.layout, (float(xs[wide]), place_of.y, float(both[wide][0][0, 2]))),
        remedy=graded(bench.design, lambda aim: change(bench.design, {thickness: aim.up(thickness, need)}))
        if loose
        else None,
    )


def _deeper_ends(bench: Bench, place_of: RodPlace, limit: float, loss: float) -> Remedy | None:
    """Each end of the axis deeper by as much as the strip is too thin there, and the middle where that is not enough.

    loss: what the worst case takes, mm.
    """
    strip, curve, depths = place_of.strip, place_of.curve, place_of.table.axis_depth
    if strip is None or curve is None or depths is None:
        return None
    ends = (("adjuster", strip.x_end), ("anchor", strip.x_start))
    ends = ends if place_of.at_heel else (("adjuster", strip.x_start), ("anchor", strip.x_end))

    def deeper(aim: Aim) -> Remedy | None:
        want, settings = limit + aim.spare + MESH_ERROR, {}
        for name, x in ends:
            lack, key = want - strip.underside.at(x), f"rod.axis_depth.{name}"
            if lack > 0:
                u = abs(x - (curve.x_start if x == strip.x_start else curve.x_end)) / curve.length
                settings[key] = aim.up(key, float(getattr(depths, name)) + lack / (1 - u) / (1 - 2 * u))
        lack, key = want - strip.underside.at((strip.x_start + strip.x_end) / 2), "rod.axis_depth.middle"
        if lack > 0:
            settings[key] = aim.up(key, depths.middle + lack)
        new = layout_with(bench.design, settings) if settings else None
        left = new.rod.strip if new is not None and new.rod is not None else None
        thick = left is not None and left.underside.extremes()[0] >= limit + aim.spare
        return change(bench.design, settings) if thick else None

    return graded(bench.design, deeper, loss)
