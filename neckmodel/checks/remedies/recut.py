"""Remedies that cut a step again which came out smaller than planned: wood can still be taken away, so a measured size
can still grow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import layout_with
from neckmodel.findings import Remedy
from neckmodel.layout.channel.step import FOR_THE_KEY, StepName, of_rod
from neckmodel.layout.measured.next import short_of_plan
from neckmodel.layout.rod.bars import BAR, is_bar

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

FOR_KEY = (*FOR_THE_KEY, StepName.ADJUSTER)


def more_cut(finding: Finding, layout: Layout) -> list[Remedy]:
    """Cuts that bring each step behind a failing finding to its planned size."""
    cuts = [cut for cut in short_of_plan(layout) if _is_about(finding, cut.step, cut.what)]
    ways = [Remedy(cut.says, {cut.key: cut.to}) for cut in cuts]
    return [way for way in ways if layout_with(layout.design, way.set) is not None]


def _is_about(finding: Finding, step: str, what: str) -> bool:
    """Whether this size of this step matters for the finding."""
    family, _, topic = finding.check.partition("/")
    kind, rod = of_rod(step)
    if rod and not topic.endswith(f"-{rod}"):
        return False  # a step of the other rod
    if family == "access":
        return kind in FOR_KEY
    if family == "fit":
        at_end = topic.removesuffix(f"-{rod}") == "end" and kind in (StepName.RUN, StepName.ANCHOR)
        return step == topic or (at_end and what.startswith("x_"))
    if family != "overlap":
        return False
    if topic.removesuffix(f"-{rod}").endswith("adjusting-key"):
        return kind in FOR_KEY
    if is_bar(step) or topic[:-1].endswith(BAR):
        return topic.endswith(f"-{step}")
    return kind not in FOR_THE_KEY
