"""fit/<step>: the rod in its run and pockets, measured between the solids."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.fit_bent import check_bent
from neckmodel.checks.fit_ends import check_adjuster, check_end, key_set
from neckmodel.checks.measure.extent import extent
from neckmodel.checks.remedies import first_good
from neckmodel.checks.verdict import COMMON, SLACK, down, place, step_words, up
from neckmodel.findings import Finding
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.channel import Step
    from neckmodel.layout.rod import Segment

MOST_BELOW = 0.3  # mm, the rod's top under the glue plane; common practice, no source
INSIDE = 0.01  # mm, a slice is taken this far inside a segment's ends


def check_fit(bench: Bench) -> list[Finding]:
    rod = bench.layout.rod
    if rod is None:
        return []
    solid = to_manifold(bench.mesh("rod"), "the rod")
    inner = check_bent(bench, solid) if rod.curve is not None else _boxes(bench, solid)
    return [check_adjuster(bench, solid), *inner, *check_end(bench)]


def _boxes(bench: Bench, solid: manifold3d.Manifold) -> list[Finding]:
    """The rod's boxes in the run, and each that has a pocket of its own in that."""
    layout = bench.layout
    assert layout.rod is not None  # asked for only where there is one
    steps = {step.name: step for step in layout.steps}
    boxes = [s for s in layout.rod.segments if s.x_end - s.x_start > 2 * INSIDE]
    lying_in = [s for s in boxes if s.name not in steps]
    own = [(steps[s.name], [s]) for s in boxes if s.name in steps]
    run = [(steps["run"], lying_in)] if "run" in steps and lying_in else []
    return [_step(bench, solid, step, lying) for step, lying in (*run, *own)]


def _step(bench: Bench, rod: manifold3d.Manifold, step: Step, lying: list[Segment]) -> Finding:
    """Play in width; proud or too deep a rod, or a floor that is not deep enough, decides first.

    lying: the rod's boxes in this step.
    """
    x0, x1, drop = lying[0].x_start, lying[-1].x_end, min(s.top for s in lying)
    parts = np.array([extent(rod, s.x_start + INSIDE, s.x_end - INSIDE) for s in lying])
    part = np.array([parts[:, 0].min(axis=0), parts[:, 1].max(axis=0)])
    tool = np.asarray(bench.tool_mesh(step.name).bounds)
    play = float((tool[1, 1] - tool[0, 1]) - (part[1, 1] - part[0, 1]))
    top, floor = -float(part[1, 2]), float(part[0, 2] - tool[0, 2])
    channel, most = bench.design.channel, bench.design.limits.fit_run
    verdict, measured, limit, remedy = "pass", play, most, None
    says = f"{play:.2f} mm of play in width, the rod's top {top:.2f} mm below the glue plane"
    if play < -SLACK:
        verdict, limit, says = "fail", 0.0, f"the rod is {-play:.2f} mm wider than its {step_words(step.name)}"
        remedy = key_set("channel.wider_by", up(channel.wider_by - play))
    elif min(top, floor) < -SLACK:
        verdict, measured, limit = "fail", min(top, floor), 0.0
        says = f"the rod stands {-top:.2f} mm proud of the glue plane"
        if floor < top:
            says = f"the floor of the {step_words(step.name)} is {-floor:.2f} mm too high"
        remedy = key_set("channel.deeper_by", up(channel.deeper_by - measured))
    elif play > most + SLACK:
        verdict, says = "warn", f"{says}; at most {most:.2f} mm in width is usual"
        remedy = key_set("channel.wider_by", down(channel.wider_by - (play - most)))
    elif top - drop > MOST_BELOW + SLACK:
        verdict, measured, limit = "warn", top - drop, MOST_BELOW
        says += f"; at most {MOST_BELOW:.2f} mm below is usual"
        remedy = key_set("channel.deeper_by", down(channel.deeper_by - (top - drop - MOST_BELOW)))
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
