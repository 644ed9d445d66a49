"""fit/<step>: the rod in its run and pockets, measured between the solids."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.findings import Finding, Remedy
from neckmodel.layout.channel import run_long
from neckmodel.meshes import to_manifold
from neckmodel.meshes.weld import Floats

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.channel import Step

MOST_BELOW = 0.3  # mm, the rod's top under the glue plane; common practice, no source
ADJUSTER_FROM, ADJUSTER_TO = 0.5, 1.5  # mm of clearance on the diameter; common practice, no source
MESH_ERROR = 0.02  # mm, round adjusters are meshed this fine
INSIDE = 0.01  # mm, a slice is taken this far inside a segment's ends


def extent(solid: manifold3d.Manifold, x0: float, x1: float) -> Floats:
    """(2, 3) bounds of the solid's part between x0 and x1, mm."""
    slab = manifold3d.Manifold.cube((x1 - x0, 1e4, 1e4), True).translate(((x0 + x1) / 2, 0.0, 0.0))
    return np.asarray((solid ^ slab).bounding_box()).reshape(2, 3)


def check_fit(bench: Bench) -> list[Finding]:
    rod = bench.layout.rod
    if rod is None:
        return []
    solid = to_manifold(bench.mesh("rod"), "the rod")
    steps = {step.name: step for step in bench.layout.steps}
    findings = [_adjuster(bench, solid, steps["adjuster"])]
    lying_in = [s for s in rod.segments if s.name not in steps]
    findings.append(_step(bench, solid, steps["run"], min(s.x_start for s in lying_in), max(s.x_end for s in lying_in)))
    for segment in rod.segments:
        if segment.name in steps:
            findings.append(_step(bench, solid, steps[segment.name], segment.x_start, segment.x_end))
    findings.append(_end(bench))
    return findings


def _step(bench: Bench, rod: manifold3d.Manifold, step: Step, x0: float, x1: float) -> Finding:
    """Play in width; proud or too deep a rod, or a floor that is not deep enough, decides first."""
    part = extent(rod, x0 + INSIDE, x1 - INSIDE)
    tool = np.asarray(bench.tool_mesh(step.name).bounds)
    play = float((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    top, floor = -float(part[1, 2]), float(part[0, 2] - tool[0, 2])
    limit = bench.design.limits.fit_run
    key, remedy, verdict = "channel.wider_by", None, "pass"
    says = f"{play:.2f} mm of play in width, the rod's top {top:.2f} mm below the glue plane"
    if play < -SLACK:
        verdict, says = "fail", f"the rod is {-play:.2f} mm wider than its {step.name}"
        wider = bench.design.channel.wider_by - play
        remedy = Remedy(f"{key} = {wider:.2f} mm", {key: round(wider + 0.005, 2)})
    elif top < -SLACK or floor < -SLACK:
        verdict = "fail"
        says = (
            f"the rod stands {-top:.2f} mm proud of the glue plane"
            if top < -SLACK
            else f"the floor is {-floor:.2f} mm too high"
        )
    elif play > limit + SLACK or top > MOST_BELOW + SLACK:
        verdict = "warn"
        says += f"; usual are at most {limit:.2f} and {MOST_BELOW:.2f} mm"
    return Finding(
        f"fit/{step.name}",
        "rod",
        verdict,
        says,
        play,
        SLACK,
        limit,
        basis=COMMON,
        at=place(bench.layout, ((x0 + x1) / 2, step.y, -step.depth)),
        remedy=remedy,
        more={"below_glue_plane": round(top, 4), "under_rod": round(floor, 4)},
    )


def _adjuster(bench: Bench, rod: manifold3d.Manifold, step: Step) -> Finding:
    """Clearance on the diameter, in width and under it, over the whole pocket: all of the adjuster's travel."""
    layout = bench.layout
    assert layout.rod is not None  # asked for only where there is one
    x0, x1 = layout.rod.x_adjuster, layout.rod.x_block
    part = extent(rod, x0 + INSIDE, x1 - INSIDE)
    tool = np.asarray(bench.tool_mesh("adjuster").bounds)
    wide = float((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    under = 2 * float(part[0, 2] - tool[0, 2])
    measured, ahead = min(wide, under), x0 - float(tool[0, 0])
    verdict = "fail" if measured <= SLACK or ahead < -SLACK else "pass"
    says = f"{measured:.2f} mm of clearance on the diameter, {ahead:.2f} mm in front of it backed right off"
    if verdict == "pass" and not ADJUSTER_FROM - MESH_ERROR <= measured <= ADJUSTER_TO + MESH_ERROR:
        verdict, says = "warn", says + f"; {ADJUSTER_FROM:.1f} to {ADJUSTER_TO:.1f} mm is usual"
    key = "channel.adjuster_clearance"
    remedy = Remedy(f"{key} = {ADJUSTER_FROM:.2f} mm", {key: ADJUSTER_FROM}) if verdict == "fail" else None
    return Finding(
        "fit/adjuster",
        "rod",
        verdict,
        says,
        measured,
        MESH_ERROR,
        0.0,
        basis=COMMON,
        at=place(layout, (x0, 0.0, -step.depth)),
        remedy=remedy,
    )


def _end(bench: Bench) -> Finding:
    """Whether a square anchor goes to the end of a channel whose corners the cutter has left round."""
    layout = bench.layout
    assert layout.rod is not None  # asked for only where there is one
    step = next(s for s in layout.steps if s.end_end != "open" and s.name in ("run", "anchor"))
    anchor = layout.rod.segment("anchor")
    have = float(bench.tool_mesh(step.name).bounds[1][0]) - anchor.x_end
    need = run_long(anchor.width, step.width, step.corner_end) if step.corner_end > 0 else 0.0
    good = have >= need - SLACK
    says = (
        f"{have:.2f} mm beyond the anchor"
        if good
        else (f"the anchor's square corners need {need:.2f} mm beyond them in this round end, there are {have:.2f}")
    )
    remedy = (
        None if good else Remedy('square the end with a chisel: channel.ends = "squared"', {"channel.ends": "squared"})
    )
    return Finding(
        "fit/end",
        "rod",
        "pass" if good else "fail",
        says,
        have,
        SLACK,
        need if np.isfinite(need) else None,
        basis="geometry",
        at=place(layout, (anchor.x_end, 0.0, -step.depth)),
        remedy=remedy,
    )
