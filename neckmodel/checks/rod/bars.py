"""Whether glued bars lie where they may."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.place import move_bars, room_of
from neckmodel.checks.rod.place import GEOMETRY, room_says
from neckmodel.checks.verdict import SLACK, at_least, place
from neckmodel.findings import PASS, Finding, limit_finding

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.rod.bars import Bar


def check_bars(bench: Bench) -> list[Finding]:
    """A finding for each glued bar."""
    return [_bar(bench, bar) for bar in bench.layout.bars]


def _bar(bench: Bench, bar: Bar) -> Finding:
    room = room_of(bar)
    worst = room.margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(room.margin, 0.0, worst)
    return limit_finding(
        check=f"place/{bar.name}",
        part=bar.name,
        verdict=verdict,
        says=room_says("bar", room, worst),
        measured=room.margin,
        error=SLACK,
        limit=0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (bar.x_start, bar.y, 0.0)),
        remedy=move_bars(bench.design, bar, room.margin - worst) if verdict != PASS else None,
    )
