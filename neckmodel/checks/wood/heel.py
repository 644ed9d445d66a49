"""heel/end: a channel that comes out at the heel's end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.wood.head import _skin
from neckmodel.checks.wood.holes import screw_as_hole
from neckmodel.findings import Finding

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench


def check_heel_end(bench: Bench) -> list[Finding]:
    """The finding on the heel's end; none where no channel comes out there."""
    holes = [screw_as_hole(screw) for screw in bench.layout.screws]
    names = [screw.name for screw in bench.layout.screws]
    return _skin(bench, "heel/end", "heel.screws", names, holes, bench.design.limits.wall.screw)
