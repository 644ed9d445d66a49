"""What was measured at the bench, told in the findings that it bears on, with the number for the next cut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.cut_on import with_more_cut
from neckmodel.checks.verdict import SLACK, step_words
from neckmodel.layout.measured import SECTION, as_built, off_plan, told
from neckmodel.layout.next_cut import least_carve, least_depth, most_depth

if TYPE_CHECKING:
    from neckmodel.design.as_built import Number
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

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
    off = off_plan(measured)
    return [with_more_cut(_told(finding, layout, off), layout) for finding in findings]


def _told(finding: Finding, layout: Layout, off: list[Number]) -> Finding:
    family, _, topic = finding.check.partition("/")
    bearing = (f"{SECTION}{topic}.", *BEARING.get(family, ()))
    found = [told(n) for n in off if n.key.startswith(bearing)]
    if not found:
        return finding
    says = f"{finding.says}; as built: {', '.join(found)}"
    more: dict[str, float] = {}
    step = next((s for s in layout.steps if family == "wall" and s.name == topic and s.x_end > 0), None)
    if step is not None and (finding.at is None or finding.at.x <= layout.heel.x_joint):  # not at the wood's end
        words, more = _next_cut(layout, step)
        says += words
    return replace(finding, says=says, more={**finding.more, **more})


def _next_cut(layout: Layout, step: Step) -> tuple[str, dict[str, float]]:
    """How deep this step may be cut, or else how thin the neck may be carved for it: in words, and as numbers."""
    deepest = most_depth(layout, step)
    if deepest is not None:
        says, need = f"; cut it no deeper than {deepest:.2f} mm", least_depth(layout, step)
        if deepest < need - SLACK:
            says += f", but what lies in it needs {need:.2f} mm and then no longer fits"
        return says, {"cut_no_deeper": round(deepest, 4)}
    carve, whole = least_carve(layout, (step,)), least_carve(layout)
    if carve is None:
        return "", {}
    says = f"; {carve.says}"
    if whole is not None and whole.step != step.name:
        says += f" for the {step_words(step.name)} alone, the {step_words(whole.step)} needs more"
    ends = {"carve_at_fret_1": carve.fret_1, "carve_at_fret_12": carve.fret_12}
    return says, {key: round(value, 4) for key, value in ends.items() if value is not None}
