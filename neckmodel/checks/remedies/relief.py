"""Remedies for a neck without reinforcement that the strings bow too far: a thicker neck, or a bar. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.fixed import changes_measured
from neckmodel.checks.remedies.remedy import Aim, any_of, change, graded, layout_with
from neckmodel.checks.verdict import SLACK
from neckmodel.design.defaults.defaults import default
from neckmodel.design.defaults.trade import FLAT_BAR, FLAT_BAR_IN, INCH
from neckmodel.errors import DesignError
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.strength.estimate import estimate, missing

if TYPE_CHECKING:
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout

    Settings = dict[str, float | str]

THICKER = 10.0  # mm, a neck is not tried thicker by more
CLOSE = 0.003  # mm to which it is found
BAR_WIDTHS = {"mm": 6.0, "in": 0.25 * INCH}  # of a bar by itself; common practice, no source
UNDER_BAR = 4.0  # mm of wood that is aimed at under a bar: 3.0 and what tolerances take
FRET_1, FRET_12, HEEL = "neck.thickness.fret_1", "neck.thickness.fret_12", "heel.depth"


def stiffer(layout: Layout, limit: float) -> Remedy | None:
    """What brings the likely relief down to the limit, and, where the worst case counts, the stiffest and oldest too.

    limit: mm. None where neither a neck up to THICKER thicker nor a bar does.
    """

    def ways(aim: Aim) -> Remedy | None:
        return any_of(_thicker(layout, limit, aim), _bar(layout, limit, aim))

    return graded(layout.design, ways, 1.0)  # the worst case is reckoned anew for each way, not taken off a length


def _keeps(new: Layout | None, limit: float, worst: bool) -> bool:
    if new is None or missing(new) is not None:
        return False
    try:
        found = estimate(new)
    except DesignError:  # a reading that the changed neck cannot have given
        return False
    most = max(found.relief.high, found.relief_years.high) if worst else found.relief.likely
    return most <= limit + SLACK


def _thicker(layout: Layout, limit: float, aim: Aim) -> Remedy | None:
    """The neck thicker by the same at both frets; heel and head with it where they must be."""
    design, thick = layout.design, layout.design.neck.thickness

    def grown(by: float) -> Iterator[Settings]:
        both = {FRET_1: thick.fret_1, FRET_12: thick.fret_12}
        neck: Settings = {k: aim.up(k, t + by) for k, t in both.items() if not changes_measured(design, [k])}
        heel: Settings = {HEEL: aim.up(HEEL, design.heel.depth + by)}
        behind, wood = design.head.wood
        head: Settings = {behind: aim.up(behind, wood + by)}
        if neck:
            yield from (neck, neck | heel, neck | head, neck | heel | head)

    def settings(by: float) -> Settings | None:
        return next((found for found in grown(by) if layout_with(design, found) is not None), None)

    def enough(by: float) -> bool:
        found = settings(by)
        return found is not None and _keeps(layout_with(design, found), limit, aim.spare > 0)

    by = nearest_enough(enough, 0.0, THICKER, CLOSE)
    found = None if by is None else settings(by)
    return None if found is None else change(design, found)


def _bar(layout: Layout, limit: float, aim: Aim) -> Remedy | None:
    """A bar of carbon in the middle of the neck, of the least height that is sold and will do."""
    design, inches = layout.design, layout.design.design.units == "in"
    to = min(layout.heel.x_end - default("rod_place.wood_beyond_rod"), layout.fretboard.x_end)
    from_nut = design.limits.place_adjuster + 1.0
    spare = default("channel.end_clearance") + design.workshop.tolerances.measuring
    length = Aim(aim.unit).down("bars.length", to - spare - from_nut)  # a bar is sawn to any length
    for height in (size * INCH for size in FLAT_BAR_IN) if inches else FLAT_BAR:
        if height > layout.back.depth(0.0) - UNDER_BAR:
            return None
        bar: Settings = {"bars.material": "carbon", "bars.width": BAR_WIDTHS[design.design.units]}
        bar |= {"bars.height": height, "bars.length": length}
        if _keeps(layout_with(design, bar), limit, aim.spare > 0):
            return change(design, bar)
    return None
