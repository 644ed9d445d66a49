"""head/step: the wood under a stepped head's face, once the neck is carved or the step sawn. Until then a design with
too little is refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import change, first_good
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, at_least, place, short_by
from neckmodel.design.reading.measured import is_measured
from neckmodel.findings import FAIL, Finding, limit_finding
from neckmodel.layout.refusals.measured import FRETS, carve_by
from neckmodel.layout.refusals.step import holds_head, most_drop, step_cut, wood_under_step
from neckmodel.limits import LEAST_NECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout


def check_step(bench: Bench) -> list[Finding]:
    """The finding on the wood under the step; none where neither is cut yet."""
    layout, head = bench.layout, bench.layout.head
    if head.drop == 0 or not step_cut(bench.design):
        return []
    measured = wood_under_step(layout.outside)
    worst = measured - 2 * bench.design.workshop.tolerances.measuring  # of the thickness and of the step
    verdict = at_least(measured, LEAST_NECKING, worst)
    says = f"{measured:.2f} mm of wood under the step to hold the head"
    says += f", {short_by(measured, LEAST_NECKING)}" if verdict == FAIL else ""
    return [
        limit_finding(
            check="head/step",
            part="neck",
            verdict=verdict,
            says=says,
            measured=measured,
            error=SKIN_ERROR,
            limit=LEAST_NECKING,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, (head.x_line, 0.0, -head.drop)),
            remedy=first_good(bench.design, _ways(layout), _holds) if verdict == FAIL else None,
        )
    ]


def _holds(layout: Layout) -> bool:
    return holds_head(layout.outside)


def _ways(layout: Layout) -> Iterator[Remedy]:
    """A lower step, or a neck carved less thin, whichever is not cut yet."""
    design = layout.design
    if not is_measured(design, "head.drop"):
        most = most_drop(layout.outside)
        yield change(design, {"head.drop": most})
    found = carve_by(design, layout.outside, holds_head, thinner=False)
    if found is not None:
        yield change(design, dict(zip(FRETS, found, strict=True)))
