"""fit/rod-way: whether a two-way rod's thread lies on the other side of half its height than its flat bar."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import manifold3d

from neckmodel.checks.measure.section import extent, tidy
from neckmodel.checks.remedies.remedy import any_of, possible
from neckmodel.checks.rod.adjuster import MESH_ERROR
from neckmodel.checks.verdict import COMMON, SLACK, place
from neckmodel.design.defaults.trade import size_words
from neckmodel.findings import PASS, WARN, Finding, limit_finding
from neckmodel.layout.rod.rod import Box
from neckmodel.layout.rod.way import THREAD

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.design import Design, Rod
    from neckmodel.findings import Remedy
    from neckmodel.layout.rod.rod import RodPlace

INSIDE = 0.01  # mm, a slice is taken this far inside a part's ends
OTHER = {"up": "down", "down": "up"}


def check_way(bench: Bench, placed: RodPlace, rod: manifold3d.Manifold) -> list[Finding]:
    """How far the adjuster's axis, which is the thread's, lies on the side of half the height that the bar leaves it.
    Measured on the rod's own solid; [] where the design does not say which way the bar lies."""
    layout = bench.layout
    if placed.bar is None:
        return []
    span = placed.segment(Box.SPAN)
    body = extent(rod, span.x_start + INSIDE, span.x_end - INSIDE)
    inner = placed.x_adjuster - placed.outward * (placed.wheel or placed.adjuster_length)
    nut = extent(rod, *(x + off for x, off in zip(sorted((placed.x_adjuster, inner)), (INSIDE, -INSIDE), strict=True)))
    radius = (nut[1, 1] - nut[0, 1]) / 2  # across: a wheel's upright hole takes some of its height
    axis, half = tidy(nut[0, 2] + radius), tidy((body[0, 2] + body[1, 2]) / 2)
    below = tidy(half - axis, 4)
    measured = below if placed.bar == "up" else -below
    lies = "at half the rod's height" if below == 0 else f"{abs(below):.2f} mm {'below' if below > 0 else 'above'} it"
    says = (
        f"the flat bar lies {placed.bar}, so the thread belongs {THREAD[placed.bar]} half the rod's height: its axis "
        f"lies {lies}"
    )
    wrong = measured < -SLACK
    top = tidy(body[1, 2] - axis, 4)
    if wrong:
        says += "; either the bar lies the other way, or the axis was measured with the rod turned over"
    remedy = any_of(possible(bench.design, {"rod.bar": OTHER[placed.bar]}), _turned_over(bench.design, placed.table))
    return [
        limit_finding(
            check="fit/rod-way",
            part="rod",
            verdict=WARN if wrong else PASS,
            says=says,
            measured=measured,
            error=MESH_ERROR,
            limit=0.0,
            basis=f"a flat bar and a thread side by side; {COMMON}",
            at=place(layout, (placed.x_adjuster, placed.y, axis)),
            remedy=remedy if wrong else None,
            more={"axis_below_top": top},
        )
    ]


def _turned_over(design: Design, rod: Rod) -> Remedy | None:
    """The rod with its other face up: pocket, slot and key follow its axis."""
    axis = round(rod.height - rod.adjuster.axis_below_top, 4)
    found = possible(design, {"rod.adjuster.axis_below_top": axis})
    if found is None:
        return None
    return replace(
        found, says=f"turn the rod over, so that its adjuster's axis lies {size_words(axis)} mm below its top"
    )
