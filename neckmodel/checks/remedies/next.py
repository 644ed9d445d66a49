"""Adds what was measured at the bench to the findings that depend on it, with the number for the next cut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.measured import offered
from neckmodel.checks.remedies.recut import more_cut
from neckmodel.checks.remedies.remedy import either
from neckmodel.checks.remedies.uncut import open_ways
from neckmodel.checks.verdict import SLACK
from neckmodel.design.reading.measured import in_words, off_plan
from neckmodel.findings import FAIL, ways_of
from neckmodel.layout.channel.measured import SECTION
from neckmodel.layout.measured.carve import least_carve, next_cuts
from neckmodel.layout.measured.next import least_depth
from neckmodel.layout.measured.numbers import as_built

if TYPE_CHECKING:
    from neckmodel.design.reading.measured import Number
    from neckmodel.findings import Finding, Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.measured.carve import Carve, NextCuts

BEHIND = ("head.thickness", "head.end.")
# keys, beside the step's own sizes, on which a family of checks depends
BEARING = {
    "wall": ("neck.", "fretboard.thickness", "heel.depth", "heel.tenon.", "heel.wood_ends_at", *BEHIND),
    "section": ("neck.", "fretboard.", SECTION),
    "cover": ("fretboard.",),
    "glue": ("fretboard.", "channel.access-slot", "channel.adjuster"),
    "fret-slots": ("fretboard.",),
    "place": ("rod.", "bars.", "heel.wood_ends_at"),
    "fit": ("rod.",),
    "stock": ("board.", "heel.", "head."),
    "head": ("head.",),
    "heel": ("heel.",),
}


def tell_as_built(findings: list[Finding], layout: Layout, cuts: NextCuts | None = None) -> list[Finding]:
    """The findings; those that depend on a measured size name it, and their remedies allow for wood that is cut.

    cuts: the instructions for the next work, where they are known already, for finding them takes longer than most
    checks.
    """
    measured = as_built(layout)
    if not measured:
        return findings
    off, cuts = off_plan(measured), cuts or next_cuts(layout)
    return [replace(_with_measured(f, layout, off, cuts), remedy=_remedy(f, layout)) for f in findings]


def _remedy(finding: Finding, layout: Layout) -> Remedy | None:
    own = ways_of(finding.remedy)
    if finding.verdict != FAIL:
        return offered(layout, own)
    again, others = more_cut(finding, layout), offered(layout, [*own, *open_ways(finding, layout)])
    return either(*again, *ways_of(others)) if again else others


def _with_measured(finding: Finding, layout: Layout, off: list[Number], cuts: NextCuts) -> Finding:
    family, _, topic = finding.check.partition("/")
    bearing = (f"{SECTION}{topic}.", *BEARING.get(family, ()))
    found = [in_words(n) for n in off if n.key.startswith(bearing)]
    if not found:
        return finding
    says = f"{finding.says}; as built: {', '.join(found)}"
    more: dict[str, float] = {}
    step = next((s for s in layout.steps if family == "wall" and s.name == topic and s.x_end > 0), None)
    if step is not None and step.name in dict(cuts.no_deeper):
        words, more = _no_deeper(layout, step, dict(cuts.no_deeper)[step.name])
        says += words
    elif step is not None and (
        finding.at is None or finding.at.x <= layout.heel.x_joint
    ):  # only away from the wood's end
        words, more = _carve(layout, step, cuts.carve)
        says += words
    return replace(finding, says=says, more={**finding.more, **more})


def _no_deeper(layout: Layout, step: Step, deepest: float) -> tuple[str, dict[str, float]]:
    """How deep this step may be cut: in words, and as a number in mm."""
    says, need = f"; cut it no deeper than {deepest:.2f} mm", least_depth(layout, step)
    if deepest < need - SLACK:
        says += f", but what lies in it needs {need:.2f} mm and then no longer fits"
    return says, {"cut_no_deeper": round(deepest, 4)}


def _carve(layout: Layout, step: Step, carve: Carve | None) -> tuple[str, dict[str, float]]:
    """How thin the neck may be carved, and what must be cut before: in words, and as numbers in mm."""
    if carve is None:
        return "", {}
    own = least_carve(layout, step.name)
    before = "".join(f"; {cut.says}" for cut in carve.first)
    says = f"{before}{', then ' if before else '; '}{own.beside(carve) if own is not None else carve.says}"
    ends = {"carve_at_fret_1": carve.fret_1, "carve_at_fret_12": carve.fret_12}
    return says, {key: round(value, 4) for key, value in ends.items() if value is not None}
