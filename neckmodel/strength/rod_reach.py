"""Whether a rod can set a neck's relief: turns, force and reach over the whole range of the estimate. mm, N."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.strength.rod import TwoWayRod
from neckmodel.strength.woods import Wood

if TYPE_CHECKING:
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class RodOnNeck:
    """A rod in a neck of one choice of moduli. strings: relief by the strings, mm; per_moment: relief that 1 N mm of
    the rod's moment takes out, mm; angle_each: angle between the blocks for 1 N mm, 1/(N mm)."""

    strings: float
    per_moment: float
    angle_each: float


@dataclass(frozen=True)
class Setting:
    """One setting of the rod: how much relief it must take out (negative: add), how much it can at most, the turns and
    the force in its bars for it."""

    need: float
    reach: float
    turns: float
    force: float

    @property
    def spare(self) -> float:
        """How much more than needed the rod could do, mm; negative where it falls short."""
        return self.reach - abs(self.need)


@dataclass(frozen=True)
class RodEstimate:
    """The rod's settings for the wanted relief: likely, and the least and the most that may be needed, the most after
    years. turns_end: turns at which the adjuster's travel or the thread's proof stress ends. At the largest setting:
    end_force of each end on fretboard and floor, N; pressure on the wood and glue_pull on the glue line beside the
    channel over the same length, MPa; across: what the neck's wood bears across the grain (None: no table value)."""

    rod: TwoWayRod
    likely: Setting
    least: Setting
    most: Setting
    turns_end: float
    end_force: float
    pressure: float
    glue_pull: float
    across: float | None

    @property
    def worst(self) -> Setting:
        """The setting with the least to spare."""
        return min((self.likely, self.least, self.most), key=lambda s: s.spare)


def setting(rod: TwoWayRod, neck: RodOnNeck, relief: float, wanted: float, turns_end: float) -> Setting:
    """How to bring a relief to the wanted one."""
    need = relief - wanted
    moment = abs(need) / neck.per_moment
    end = min(rod.greatest_force, rod.force(max(turns_end - rod.dead_turns, 0.0), neck.angle_each))
    turns = rod.turns(moment, neck.angle_each) + rod.dead_turns
    return Setting(need, end * rod.spacing * neck.per_moment, turns, moment / rod.spacing)


def reach_of(layout: Layout, rod: TwoWayRod, cases: Sequence[RodOnNeck], aged: float, neck: Wood) -> RodEstimate | None:
    """cases: stiffest first, weakest last. aged: relief of the weakest one after years, mm."""
    design, place = layout.design, layout.rod
    assert design.rod is not None  # there is a rod
    assert place is not None
    if min(case.per_moment for case in cases) <= 0:
        return None  # lies so that it cannot take relief out at all
    wanted = design.action.wanted_relief
    travel = design.rod.adjuster.travel
    turns_end = travel / rod.pitch if travel > 0 else float("inf")
    middle = cases[1:-1]
    mean = RodOnNeck(
        *(sum(getattr(c, name) for c in middle) / len(middle) for name in ("strings", "per_moment", "angle_each"))
    )
    likely = setting(rod, mean, mean.strings, wanted, turns_end)
    least = setting(rod, cases[0], cases[0].strings, wanted, turns_end)
    most = setting(rod, cases[-1], aged, wanted, turns_end)
    moment = max(s.force for s in (likely, least, most)) * rod.spacing
    force = rod.end_force(moment)
    lever, run = rod.lever(moment), design.rod.width + design.channel.wider_by
    glue = 2 * layout.fretboard.half_width(place.segment("span").x_start) - run
    pressure, glue_pull = force / (design.rod.width * lever), force / (glue * lever)
    by_force = min(rod.turns(rod.greatest_force * rod.spacing, c.angle_each) for c in cases) + rod.dead_turns
    return RodEstimate(rod, likely, least, most, min(turns_end, by_force), force, pressure, glue_pull, neck.across)
