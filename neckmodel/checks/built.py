"""What was measured at the bench, told in the findings that it bears on, with the number for the next cut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.cut_on import with_more_cut
from neckmodel.layout.measured import SECTION, as_built
from neckmodel.layout.next_cut import Carve, least_carve, most_depth

if TYPE_CHECKING:
    from neckmodel.design.as_built import Number
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

WORTH_SAYING = 0.005  # mm off the plan
# what beside the step's own sizes bears on a family of checks
BEARING = {
    "wall": ("neck.", "fretboard.thickness", "heel.depth", "heel.wood_ends_at", "head.thickness"),
    "section": ("neck.", "fretboard.", SECTION),
    "cover": ("fretboard.",),
    "glue": ("fretboard.", "channel.access-slot.", "channel.adjuster."),
    "fret-slots": ("fretboard.",),
    "place": ("rod.", "bars.", "heel.wood_ends_at"),
    "fit": ("rod.",),
    "stock": ("board.", "heel.", "head."),
    "head": ("head.",),
    "heel": ("heel.",),
}


def tell_as_built(findings: list[Finding], layout: Layout) -> list[Finding]:
    """The findings, with a word of it in those that a measured size bears on."""
    measured = as_built(layout)
    if not measured:
        return findings
    off = [n for n in measured if n.planned is None or abs(n.value - n.planned) > WORTH_SAYING]
    carve = least_carve(layout)
    return [with_more_cut(_told(finding, layout, off, carve), layout) for finding in findings]


def _told(finding: Finding, layout: Layout, off: list[Number], carve: Carve | None) -> Finding:
    family, _, topic = finding.check.partition("/")
    bearing = (f"{SECTION}{topic}.", *BEARING.get(family, ()))
    found = [_number(n) for n in off if n.key.startswith(bearing)]
    if not found:
        return finding
    says, more = f"{finding.says}; as built: {', '.join(found)}", {}
    step = next((s for s in layout.steps if family == "wall" and s.name == topic and s.x_end > 0), None)
    if step is not None and carve is not None:
        says += f"; {carve.says}"
        ends = {"carve_at_fret_1": carve.fret_1, "carve_at_fret_12": carve.fret_12}
        more = {key: round(value, 4) for key, value in ends.items() if value is not None}
    elif step is not None and (deepest := most_depth(layout, step)) is not None:
        says += f"; cut it no deeper than {deepest:.2f} mm"
        more = {"cut_no_deeper": round(deepest, 4)}
    return replace(finding, says=says, more={**finding.more, **more})


def _number(number: Number) -> str:
    planned = "" if number.planned is None else f", planned {number.planned:.2f} mm"
    return f"{number.key} = {number.value:.2f} mm{planned}"
