"""A step that came out smaller than planned is cut again: more wood can be taken away, what was measured grows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.checks.remedies import either, tried, ways_of
from neckmodel.checks.verdict import down, step_words, up
from neckmodel.findings import Remedy
from neckmodel.layout.measured import SECTION, WORTH_SAYING, channel_numbers

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

SAYS = {
    "depth": "cut the {} to {:.2f} mm deep",
    "width": "widen the {} to {:.2f} mm",
    "x_start": "lengthen the {} back to x {:.2f} mm",
    "x_end": "lengthen the {} to x {:.2f} mm",
}
FOR_KEY = ("access-slot", "key-swing", "adjuster")


def with_more_cut(finding: Finding, layout: Layout) -> Finding:
    """A failing finding with the cuts that would bring the steps it is about to what is planned, before its own
    remedies; any other finding as it is."""
    if finding.verdict != "fail":
        return finding
    ways = [
        remedy
        for step, what, remedy in _to_cut(layout)
        if _is_about(finding, step, what) and tried(layout.design, remedy.set) is not None
    ]
    return replace(finding, remedy=either(*ways, *ways_of(finding.remedy))) if ways else finding


def _to_cut(layout: Layout) -> list[tuple[str, str, Remedy]]:
    """(step, which measure of it, the cut that it lacks) for all that was measured and is short of the plan."""
    found = []
    for number in channel_numbers(layout):
        _, step, what = number.key.split(".")
        starts = what == "x_start"
        if number.planned is None or (number.planned - number.value) * (-1 if starts else 1) < WORTH_SAYING:
            continue
        to = (down if starts else up)(number.planned)
        remedy = Remedy(SAYS[what].format(step_words(step), to), {f"measured.{SECTION}{step}.{what}": to})
        found.append((step, what, remedy))
    return found


def _is_about(finding: Finding, step: str, what: str) -> bool:
    """Whether this measure of this step bears on what the finding is about."""
    family, _, topic = finding.check.partition("/")
    if family == "access":
        return step in FOR_KEY
    if family == "fit":
        return step == topic or (topic == "end" and step in ("run", "anchor") and what.startswith("x_"))
    if family != "overlap":
        return False
    if topic.endswith("adjusting-key"):
        return step in FOR_KEY
    if step.startswith("bar-") or topic[:-1].endswith("bar-"):
        return topic.endswith(f"-{step}")
    return step not in FOR_KEY[:2]
