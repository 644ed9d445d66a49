"""fit/<step>: the rod in its run and pockets, measured between the solids."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.remedies import first_good
from neckmodel.checks.verdict import COMMON, SLACK, down, place, up
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
    channel, most = bench.design.channel, bench.design.limits.fit_run
    verdict, measured, limit, remedy = "pass", play, most, None
    says = f"{play:.2f} mm of play in width, the rod's top {top:.2f} mm below the glue plane"
    if play < -SLACK:
        verdict, limit, says = "fail", 0.0, f"the rod is {-play:.2f} mm wider than its {step.name}"
        remedy = _set("channel.wider_by", up(channel.wider_by - play))
    elif min(top, floor) < -SLACK:
        verdict, measured, limit = "fail", min(top, floor), 0.0
        says = f"the rod stands {-top:.2f} mm proud of the glue plane"
        if floor < top:
            says = f"the floor of the {step.name} is {-floor:.2f} mm too high"
        remedy = _set("channel.deeper_by", up(channel.deeper_by - measured))
    elif play > most + SLACK:
        verdict, says = "warn", f"{says}; at most {most:.2f} mm in width is usual"
        remedy = _set("channel.wider_by", down(channel.wider_by - (play - most)))
    elif top > MOST_BELOW + SLACK:
        verdict, measured, limit = "warn", top, MOST_BELOW
        says += f"; at most {MOST_BELOW:.2f} mm below is usual"
        remedy = _set("channel.deeper_by", down(channel.deeper_by - (top - MOST_BELOW)))
    return Finding(
        f"fit/{step.name}",
        "rod",
        verdict,
        says,
        measured,
        SLACK,
        limit,
        basis=COMMON,
        at=place(bench.layout, ((x0 + x1) / 2, step.y, -step.depth)),
        remedy=first_good(bench.design, remedy) if remedy else None,
        more={"play": round(play, 4), "below_glue_plane": round(top, 4), "under_rod": round(floor, 4)},
    )


def _set(key: str, value: float) -> list[Remedy]:
    return [Remedy(f"{key} = {value:.2f} mm", {key: value})]


def _adjuster(bench: Bench, rod: manifold3d.Manifold, step: Step) -> Finding:
    """Clearance on the diameter, beside, under and over it, over the whole pocket: all of the adjuster's travel."""
    layout = bench.layout
    assert layout.rod is not None  # asked for only where there is one
    x0, x1 = layout.rod.x_adjuster, layout.rod.x_block
    part = extent(rod, x0 + INSIDE, x1 - INSIDE)
    tool = np.asarray(bench.tool_mesh("adjuster").bounds)
    wide = float((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    under, over = 2 * float(part[0, 2] - tool[0, 2]), -2 * float(part[1, 2])
    measured, ahead = min(wide, under, over), x0 - float(tool[0, 0])
    verdict, remedy = "pass", None
    says = f"{measured:.2f} mm of clearance on the diameter, {ahead:.2f} mm in front of it backed right off"
    if over < SLACK:
        verdict, says = "fail", f"the adjuster stands {-over / 2:.2f} mm proud of the glue plane, against the fretboard"
        remedy = _set("channel.deeper_by", up(bench.design.channel.deeper_by + (ADJUSTER_FROM - over) / 2))
    elif measured <= SLACK or ahead < -SLACK:
        verdict, says = "fail", f"{says}; the adjuster cannot turn"
        remedy = _set("channel.adjuster_clearance", ADJUSTER_FROM)
    elif not ADJUSTER_FROM - MESH_ERROR <= measured <= ADJUSTER_TO + MESH_ERROR:
        verdict, says = "warn", says + f"; {ADJUSTER_FROM:.1f} to {ADJUSTER_TO:.1f} mm is usual"
        if over > measured:
            remedy = _set("channel.adjuster_clearance", ADJUSTER_FROM if measured < ADJUSTER_FROM else ADJUSTER_TO)
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
        remedy=first_good(layout.design, remedy) if remedy else None,
        more={"beside": round(wide, 4), "under": round(under, 4), "over": round(over, 4), "in_front": round(ahead, 4)},
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
