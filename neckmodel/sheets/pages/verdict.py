"""The verdict on a sheet: that of the checks on this very design, or that it was not checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.findings import WARN
from neckmodel.layout.channel.step import StepName, of_rod, plain
from neckmodel.layout.rod.bars import is_bar
from neckmodel.lengths import with_unit

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

TIE = 1e-6  # mm, as in the checks: a tie passes


@dataclass(frozen=True)
class Verdict:
    """word: "PASS", "FAIL" or "NOT CHECKED". says: the line for every sheet. walls: a line for each step's wall."""

    word: str
    says: str
    walls: tuple[str, ...]


def verdict_of(layout: Layout, findings: Findings | None) -> Verdict:
    """The verdict. findings: of the checks on this design, None where there are none."""
    if findings is None:
        return Verdict(
            "NOT CHECKED",
            "NOT CHECKED on solids: walls are estimates by section. Run the checks before any wood is cut.",
            _by_section(layout),
        )
    failed = findings.failed
    warned = sum(found.verdict == WARN for found in findings.findings)
    walls = _measured(layout, findings)
    if failed:
        return Verdict("FAIL", f"CHECKS FAILED: {', '.join(failed)}. DO NOT CUT BY THIS SHEET.", walls)
    return Verdict("PASS", "Checked on solids: every check passes" + (f", {warned} warn." if warned else "."), walls)


def wall_limit(layout: Layout, step: str) -> float | None:
    """The least wall that the design allows round a step, mm; None where it has no limit of its own."""
    limits = layout.design.limits.wall
    kind, _ = of_rod(step)
    key = "bar" if is_bar(kind) else kind.replace("-", "_")
    if kind == StepName.KEY_SWING:
        key = "access_slot"
    found = getattr(limits, key, None)
    return found if isinstance(found, float) else None


def _by_section(layout: Layout) -> tuple[str, ...]:
    unit = layout.design.design.units
    lines = []
    for wall in layout.walls:
        limit = wall_limit(layout, wall.step)
        thin = limit is not None and wall.wall < limit - TIE
        line = f"{plain(wall.step)}: {with_unit(wall.wall, unit)} at x {with_unit(wall.x, unit)}, by section"
        lines.append(f"{line}: BELOW ITS LIMIT of {with_unit(limit, unit)}" if thin else line)
    return tuple(lines)


def _measured(layout: Layout, findings: Findings) -> tuple[str, ...]:
    unit = layout.design.design.units
    lines = []
    for found in findings.findings:
        if found.check.startswith("wall/") and found.measured is not None:
            at = "" if found.at is None else f" at x {with_unit(found.at.x, unit)}"
            limit = "" if found.limit is None else f", limit {with_unit(found.limit, unit)}"
            lines.append(f"{found.check}: {with_unit(found.measured, unit)}{at}{limit}: {found.verdict}")
    return tuple(lines)
