"""fit/adjuster and fit/end: room for the adjuster to turn, and room for the anchor at the channel's other end."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.measure.section import extent
from neckmodel.checks.remedies.remedy import change, graded, ladder
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, step_words
from neckmodel.design.defaults.defaults import RANGES, default
from neckmodel.design.defaults.trade import sizes_of
from neckmodel.findings import FAIL, PASS, WARN, Finding, Remedy, limit_finding, range_finding
from neckmodel.layout.channel.cutters import narrower
from neckmodel.layout.channel.run import run_long
from neckmodel.layout.channel.step import End, EndKind, StepName

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.design import Design
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.rod import RodPlace

USUAL = RANGES["channel.adjuster_clearance"]
ADJUSTER_FROM, ADJUSTER_TO = USUAL.low, USUAL.high  # mm of clearance on the diameter
MESH_ERROR = 0.02  # mm, deflection of the mesh of a round adjuster
INSIDE = 0.01  # mm by which a slice lies inside the ends


def reset(design: Design, key: str, none: float) -> Remedy | None:
    """A remedy that sets a fit of [channel] to its usual play, or else to none. none: the key's value that leaves no
    play, mm; part of the play may not depend on the key."""
    sizes = sizes_of(key, design.design.units)
    usual = none + default(key)
    return ladder(design, {key: sizes.up(usual)}, {key: sizes.up(none)}, {key: sizes.up(none, fine=True)})


def as_cut_words(bench: Bench, step: Step, own: float) -> str:
    """How much of the play of a part (`own` mm wide) is left where one line of a cutter narrower than the step cuts it,
    in words."""
    cutting = bench.layout.cutting(step.name)
    if cutting is None or not narrower(cutting, step.width):
        return ""
    return (
        f"; in one line along the fence it comes out {cutting.width:.2f} mm wide, which leaves "
        f"{cutting.width - own:.2f} mm and what the cutter's runout adds"
    )


def check_adjuster(bench: Bench, place_of_rod: RodPlace, rod: manifold3d.Manifold) -> Finding:
    """The adjuster's clearance on its diameter, beside, under and over it, over the whole pocket: all of its travel."""
    step = next((s for s in bench.layout.steps if s.name == StepName.ADJUSTER), None)
    return _beyond(bench, place_of_rod) if step is None else _turning(bench, place_of_rod, rod, step)


def _beyond(bench: Bench, rod: RodPlace) -> Finding:
    """An adjuster at the heel behind the neck's wood: how far past the wood's end it begins."""
    layout = bench.layout
    measured = rod.x_adjuster - (rod.wheel or rod.adjuster_length) - layout.heel.x_end
    worst = measured - bench.design.workshop.tolerances.measuring
    turns = "the body's recess" if layout.soundhole_way is None else "its bore in the body"
    says = f"it lies beyond the neck's wood, {measured:.2f} mm from its end, and turns in {turns}"
    at = place(layout, (rod.x_adjuster, rod.y, -rod.axis))
    verdict = at_least(measured, 0.0, worst)
    return limit_finding(
        check="fit/adjuster",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=SLACK,
        limit=0.0,
        worst_case=worst,
        basis="geometry",
        at=at,
    )


def _under_fretboard(bench: Bench, x0: float, x1: float) -> bool:
    (start, *_), (end, *_) = np.asarray(bench.mesh("fretboard").bounds)
    return bool(x0 < end - MESH_ERROR and x1 > start + MESH_ERROR)


def _turning(bench: Bench, place_of_rod: RodPlace, rod: manifold3d.Manifold, step: Step) -> Finding:
    layout = bench.layout
    inner = place_of_rod.x_adjuster - place_of_rod.outward * (place_of_rod.wheel or place_of_rod.adjuster_length)
    x0, x1 = sorted((place_of_rod.x_adjuster, inner))
    part = extent(rod, x0 + INSIDE, x1 - INSIDE)
    tool = np.asarray(bench.tool_mesh(StepName.ADJUSTER).bounds)
    wide = float((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    under = 2 * float(part[0, 2] - tool[0, 2])
    over = -2 * float(part[1, 2]) if _under_fretboard(bench, x0, x1) else math.inf
    if step.behind:
        over = 2 * float(tool[1, 2] - part[1, 2])
    ahead = x0 - float(tool[0, 0])
    if place_of_rod.at_heel:
        ahead = math.inf if step.end_end == EndKind.OPEN else float(tool[1, 0]) - x1
    measured = min(wide, under, over)
    verdict, remedy, clearance = PASS, None, "channel.adjuster_clearance"
    says = f"{measured:.2f} mm of clearance on the diameter, "
    says += f"{ahead:.2f} mm in front of it backed right off" if math.isfinite(ahead) else "open in front of it"
    if over < SLACK:
        verdict, says = FAIL, f"the adjuster stands {-over / 2:.2f} mm proud of the glue plane, against the fretboard"
        remedy = _deeper(bench, -over / 2)
    elif measured <= SLACK or ahead < -SLACK:
        verdict, says = FAIL, f"{says}; the adjuster cannot turn"
        remedy = ladder(layout.design, {clearance: default(clearance)}, {clearance: ADJUSTER_FROM})
        if ahead < -SLACK:  # the pocket was cut too short: the rod must lie farther inward
            inward = -place_of_rod.outward * -ahead
            x, key = place_of_rod.x_start + inward, "rod_place.from_nut"
            remedy = graded(
                layout.design,
                lambda aim: change(layout.design, {key: aim.up(key, x) if inward > 0 else aim.down(key, x)}),
            )
    elif not ADJUSTER_FROM - MESH_ERROR <= measured <= ADJUSTER_TO + MESH_ERROR:
        verdict, says = WARN, says + f"; {ADJUSTER_FROM:.1f} to {ADJUSTER_TO:.1f} mm is usual"
        if over > measured:
            remedy = ladder(layout.design, {clearance: default(clearance)})
    room = {"beside": wide, "under": under, "over": over, "in_front": ahead}
    return range_finding(
        check="fit/adjuster",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=MESH_ERROR,
        limit=0.0,
        held=(ADJUSTER_FROM, ADJUSTER_TO),
        basis=COMMON,
        at=place(layout, (place_of_rod.x_adjuster, step.y, -step.depth)),
        remedy=remedy,
        more={name: round(value, 4) for name, value in room.items() if math.isfinite(value)},
    )


def _deeper(bench: Bench, by: float) -> Remedy | None:
    """The adjuster deeper by this much, mm, with the usual or the least clearance: a bent rod's own axis, or the whole
    rod."""
    design, stated = bench.design, bench.design.rod
    key, now = "channel.deeper_by", design.channel.deeper_by
    if stated is not None and stated.kind == "compression" and stated.axis_depth is not None:
        key, now = "rod.axis_depth.adjuster", stated.axis_depth.adjuster
    sizes = sizes_of(key, design.design.units)
    usual, least = (now + by + clearance / 2 for clearance in (default("channel.adjuster_clearance"), ADJUSTER_FROM))
    return ladder(design, {key: sizes.up(usual)}, {key: sizes.up(least)}, {key: sizes.up(least, fine=True)})


def check_end(bench: Bench, rod: RodPlace) -> list[Finding]:
    """Whether a square anchor fits against the end of a channel whose corners the cutter has left round."""
    layout = bench.layout
    anchor = (rod.segments[0] if rod.at_heel else rod.segments[-1]) if rod.segments else None
    width = rod.diameter if anchor is None else anchor.width
    far = End.START if rod.at_heel else End.END
    ends = [
        (step, step.corner_start if rod.at_heel else step.corner_end)
        for step in layout.steps
        if step.name in (StepName.RUN, StepName.ANCHOR) and step.end(far)[0] != EndKind.OPEN
    ]
    if not ends:
        return []  # the channel does not end here: the wood's end cuts it off, which another check reports
    step, corner = ends[0]
    bounds = np.asarray(bench.tool_mesh(step.name).bounds)[:, 0]
    have = rod.x_anchor_end - float(bounds[0]) if rod.at_heel else float(bounds[1]) - rod.x_anchor_end
    need = run_long(width, step.width, corner) if corner > 0 else 0.0
    good = have >= need - SLACK
    says, remedy = f"{have:.2f} mm beyond the anchor", None
    if have < -SLACK:
        says = f"the {step_words(step.name)} ends {-have:.2f} mm before the anchor does: it is too short"
    elif not good:
        says = f"the anchor's square corners need {need:.2f} mm beyond them in this round end, there are {have:.2f} mm"
        if math.isinf(need):
            says = "the anchor's square corners do not go into this round end, however long it is"
    if not good and corner > 0:
        remedy = ladder(layout.design, {"channel.ends": "squared"})
    return [
        limit_finding(
            check="fit/end",
            part="rod",
            verdict=PASS if good else FAIL,
            says=says,
            measured=have,
            error=SLACK,
            limit=need if math.isfinite(need) else None,
            basis="geometry",
            at=place(layout, (rod.x_anchor_end, step.y, -step.depth)),
            remedy=remedy,
        )
    ]
