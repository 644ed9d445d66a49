"""Whether a rod can set a neck's relief: turns, force and reach over the whole range of the estimate. mm, N."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.rod.rod import Box
from neckmodel.strength.materials.woods import Wood
from neckmodel.strength.rod.bearing import Face, bearing_faces
from neckmodel.strength.rod.compression import CompressionRod
from neckmodel.strength.rod.rod import Rod, TwoWayRod

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace


@dataclass(frozen=True)
class RodOnNeck:
    """A rod, or each of two turned alike, in a neck of one choice of moduli. strings: relief by the strings, mm;
    per_force: relief that 1 N in the rod takes out, mm; give: how far the adjuster runs for 1 N, through rod and neck
    together, mm; arm: moment in the neck for 1 N, where the relief is greatest, N mm. Of two rods, 1 N in each."""

    strings: float
    per_force: float
    give: float
    arm: float = 0.0


@dataclass(frozen=True)
class Setting:
    """One setting of the rod. need: relief that it must take out, mm (negative: add); reach: the most relief it can
    take out or add that way. turns, force (N in its bars): for as much of the need as it can reach; both negative where
    it adds relief, 0 where it would have to add and cannot. turns_end: turns at which its travel or its thread's proof
    load ends."""

    need: float
    reach: float
    turns: float
    force: float
    turns_end: float

    @property
    def spare(self) -> float:
        """How much more relief than needed the rod could set, mm; negative where it falls short."""
        return self.reach - abs(self.need)


@dataclass(frozen=True)
class Blocks:
    """What the ends of a rod of two bars do to the wood, at one force. end_force: of each end on fretboard and floor,
    N; pressure on the wood, and glue_pull on the glue line beside the channel over the same length, MPa."""

    end_force: float
    pressure: float
    glue_pull: float


@dataclass(frozen=True)
class RodEstimate:
    """The rod's settings for the wanted relief: the likely one, the one for the least need, and the one for the most
    need after years.

    moment: in the neck where relief is greatest, at the likely setting, N mm. blocks, blocks_high: of a rod of two bars
    at the likely setting and at the largest; across: what the neck's wood bears across the grain, MPa (None: no table
    value). faces: those on which a compression rod presses.
    """

    rod: Rod
    likely: Setting
    least: Setting
    most: Setting
    moment: float
    blocks: Blocks | None = None
    blocks_high: Blocks | None = None
    across: float | None = None
    faces: tuple[Face, ...] = ()

    @property
    def worst(self) -> Setting:
        """The setting with the least to spare."""
        return min((self.likely, self.least, self.most), key=lambda s: s.spare)

    @property
    def slack(self) -> bool:
        """Whether the likely neck bows less than wanted and the rod cannot add relief: the rod then stays slack."""
        return self.likely.need < 0 and not self.rod.adds

    @property
    def measured(self) -> bool:
        """Whether its turns are computed from a bow measured on the bare rod."""
        return self.rod.pitch != self.rod.thread

    @property
    def force_high(self) -> float:
        """The largest force in the rod of all settings, N, turned either way."""
        return max(abs(s.force) for s in (self.likely, self.least, self.most))

    @property
    def steel(self) -> float:
        """Stress in the thread's core at the likely setting, MPa."""
        return abs(self.likely.force) / self.rod.area_core

    @property
    def push_on_strip(self) -> float:
        """Most push on the strip over a compression rod, N for each mm; 0 for other rods."""
        return self.rod.push_on_strip(self.force_high) if isinstance(self.rod, CompressionRod) else 0.0


def setting(rod: Rod, neck: RodOnNeck, relief: float, wanted: float, travel: float) -> Setting:
    """The setting that brings a relief to the wanted one, or as near as the rod can. travel: turns that its adjuster
    runs."""
    need = relief - wanted
    end = min(rod.greatest_force, max(travel - rod.dead_turns, 0.0) * rod.pitch / neck.give)
    turns_end = end * neck.give / rod.pitch + rod.dead_turns
    if need < 0 and not rod.adds:
        return Setting(need, 0.0, 0.0, 0.0, turns_end)
    force = min(abs(need) / neck.per_force, end)
    turns = force * neck.give / rod.pitch + rod.dead_turns
    return Setting(need, end * neck.per_force, math.copysign(turns, need), math.copysign(force, need), turns_end)


def reach_of(
    layout: Layout, place: RodPlace, rod: Rod, cases: Sequence[RodOnNeck], aged: float, neck: Wood
) -> RodEstimate | None:
    """The rod's settings over the range of the estimate; None where it lies so that it cannot take relief out at all.

    cases: stiffest first, weakest last. aged: relief of the weakest neck after years, mm.
    """
    design = layout.design
    if min(case.per_force for case in cases) <= 0:
        return None  # it lies where its pull takes no relief out
    wanted, stated = design.action.wanted_relief, place.table.adjuster.travel
    travel = stated / rod.thread if stated > 0 else math.inf
    middle = cases[1:-1]
    mean = RodOnNeck(
        *(sum(getattr(c, name) for c in middle) / len(middle) for name in ("strings", "per_force", "give", "arm"))
    )
    likely = setting(rod, mean, mean.strings, wanted, travel)
    found = RodEstimate(
        rod=rod,
        likely=likely,
        least=setting(rod, cases[0], cases[0].strings, wanted, travel),
        most=setting(rod, cases[-1], aged, wanted, travel),
        moment=likely.force * mean.arm,
        faces=bearing_faces(layout),
    )
    if not isinstance(rod, TwoWayRod):
        return found
    ends = _blocks(layout, place, rod, abs(likely.force)), _blocks(layout, place, rod, found.force_high)
    return replace(found, blocks=ends[0], blocks_high=ends[1], across=neck.across)


def _blocks(layout: Layout, place: RodPlace, rod: TwoWayRod, force: float) -> Blocks:
    stated = place.table
    moment = force * rod.spacing
    end, lever, run = rod.end_force(moment), rod.lever(moment), stated.width + layout.design.channel.wider_by
    glue = 2 * layout.fretboard.half_width(place.segment(Box.SPAN).x_start) / len(layout.rods) - run  # each its share
    return Blocks(end, end / (stated.width * lever), end / (glue * lever))
