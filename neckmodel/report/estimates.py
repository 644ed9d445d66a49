"""A part of the page: the estimates of strength, moisture and weight."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from neckmodel.errors import Problem
from neckmodel.layout.tables import Table, Voice
from neckmodel.report.html import Html, el, section
from neckmodel.report.html import table as html_table
from neckmodel.strength import estimate, missing
from neckmodel.strength.materials.own import wood_of, woods_of
from neckmodel.strength.moisture import moisture_estimate
from neckmodel.strength.tables import bending, pulls, seasons, weights

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

SAYS = (
    "Estimates, no promise: no two pieces of wood are alike. The findings of strength say what they stand on "
    "and how they are judged. A knock or a fall is not covered."
)


def estimates_section(layout: Layout, findings: Findings, strips: Mapping[str, float] = MappingProxyType({})) -> Html:
    """The section; it names the missing key where there is no estimate of strength. strips: volume of each strip of the
    neck by its name, mm3."""
    problem = missing(layout)
    said = [el("p", SAYS, class_="small")]
    if problem is not None:
        said.append(el("p", f"No estimate of strength: {problem.key} {problem.says}."))
    shown = [
        html_table(t.title, t.columns, t.rows, t.text) for t in estimate_tables(layout, findings, strips) if t.rows
    ]
    return section("estimates", "Strength, moisture, weight", *said, *shown)


def estimate_tables(
    layout: Layout, findings: Findings, strips: Mapping[str, float] = MappingProxyType({})
) -> tuple[Table, ...]:
    """The tables of the estimates for which the design states enough."""
    design, voice = layout.design, Voice(layout.design.design.units)
    known = woods_of(design)
    found: list[Table] = []
    if missing(layout) is None:
        strength = estimate(layout)
        found += [pulls(layout, strength.pull, strength.head), bending(layout, strength, voice)]
    if not isinstance(known, Problem):
        neck, board = known
        found.append(seasons(layout, moisture_estimate(layout, neck, board), voice))
        woods = {"neck": neck[0], "fretboard": board}
        volumes = {part.name: part.volume for part in findings.parts}
        if layout.strips:
            woods = {strip.name: wood for strip, wood in zip(layout.strips, neck, strict=False)} | {"fretboard": board}
            volumes |= strips
        if (cap := layout.heel_cap) is not None and (of_cap := wood_of(design, cap.cap.wood)) is not None:
            woods["heel-cap"] = of_cap
        if layout.back_strip is not None:
            woods["back-strip"] = neck[-1]
        found.append(weights({name: (volumes[name], wood) for name, wood in woods.items() if name in volumes}))
    return tuple(found)
