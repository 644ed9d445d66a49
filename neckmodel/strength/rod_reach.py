"""Whether a rod can set a neck's relief: turns, force and reach over the whole range of the estimate. mm, N."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.strength.bearing import Face, bearing_faces
from neckmodel.strength.compression import CompressionRod
from neckmodel.strength.rod import Rod, TwoWayRod
from neckmodel.strength.woods import Wood

if TYPE_CHECKING:
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class RodOnNeck:
    """A rod in a neck of one choice of moduli. strings: relief by the strings, mm; per_force: relief that 1 N in the
    rod takes out, mm; give: how far the adjuster runs for 1 N, rod and neck together, mm; arm: moment in the neck for
    1 N, at the place of the greatest relief, N mm."""

    strings: float
    per_force: float
    give: float
    arm: float = 0.0


@dataclass(frozen=True)
class Setting:
    """One setting of the rod: how much relief it must take out (negative: add), how much it can at most, the turns and
    the force in its bars for it (0 where it would have to add and cannot)."""

    need: float
    reach: float
    turns: float
    force: float

    @property
    def spare(self) -> float:
        """How much more than needed the rod could do, mm; negative where it falls short."""
        return self.reach - abs(self.need)


@dataclass(frozen=True)
class Blocks:
    """What a rod of two bars does to the wood at its ends, at its largest setting. end_force: of each end on fretboard
    and floor, N; pressure on the wood and glue_pull on the glue line beside the channel over the same length, MPa;
    across: what the neck's wood bears across the grain (None: no table value)."""

    end_force: float
    pressure: float
    glue_pull: float
    across: float | None


@dataclass(frozen=True)
class RodEstimate:
    """The rod's settings for the wanted relief: likely, and the least and the most that may be needed, the most after
    years. turns_end: turns at which the adjuster's travel or the thread's proof stress ends. moment: in the neck where
    relief is greatest, at the likely setting, N mm. blocks: of a rod of two bars; faces: what a compression rod
    presses on."""

    rod: Rod
    likely: Setting
    least: Setting
    most: Setting
    turns_end: float
    moment: float
    blocks: Blocks | None = None
    faces: tuple[Face, ...] = ()

    @property
    def worst(self) -> Setting:
        """The setting with the least to spare."""
        return min((self.likely, self.least, self.most), key=lambda s: s.spare)

    @property
    def force_high(self) -> float:
        """The most force in the rod, N: what the largest setting needs, or what ends it."""
        return min(max(s.force for s in (self.likely, self.least, self.most)), self.rod.greatest_force)

    @property
    def steel(self) -> float:
        """Stress in the thread's core at the likely setting, MPa."""
        return self.likely.force / self.rod.area_core

    @property
    def push_on_strip(self) -> float:
        """Most push on the strip over a compression rod, N for each mm; 0 for other rods."""
        return self.rod.push_on_strip(self.force_high) if isinstance(self.rod, CompressionRod) else 0.0


def setting(rod: Rod, neck: RodOnNeck, relief: float, wanted: float, turns_end: float) -> Setting:
    """How to bring a relief to the wanted one."""
    need = relief - wanted
    if need < 0 and not rod.adds:
        return Setting(need, 0.0, 0.0, 0.0)
    force = abs(need) / neck.per_force
    end = min(rod.greatest_force, max(turns_end - rod.dead_turns, 0.0) * rod.pitch / neck.give)
    return Setting(need, end * neck.per_force, force * neck.give / rod.pitch + rod.dead_turns, force)


def reach_of(layout: Layout, rod: Rod, cases: Sequence[RodOnNeck], aged: float, neck: Wood) -> RodEstimate | None:
    """cases: stiffest first, weakest last. aged: relief of the weakest one after years, mm."""
    design = layout.design
    assert design.rod is not None  # there is a rod
    if min(case.per_force for case in cases) <= 0:
        return None  # lies so that it cannot take relief out at all
    wanted = design.action.wanted_relief
    travel = design.rod.adjuster.travel
    turns_end = travel / rod.pitch if travel > 0 else float("inf")
    middle = cases[1:-1]
    mean = RodOnNeck(
        *(sum(getattr(c, name) for c in middle) / len(middle) for name in ("strings", "per_force", "give", "arm"))
    )
    likely = setting(rod, mean, mean.strings, wanted, turns_end)
    least = setting(rod, cases[0], cases[0].strings, wanted, turns_end)
    most = setting(rod, cases[-1], aged, wanted, turns_end)
    by_force = min(rod.greatest_force * c.give for c in cases) / rod.pitch + rod.dead_turns
    return RodEstimate(
        rod=rod,
        likely=likely,
        least=least,
        most=most,
        turns_end=min(turns_end, by_force),
        moment=likely.force * mean.arm,
        blocks=_blocks(layout, rod, max(s.force for s in (likely, least, most)), neck),
        faces=bearing_faces(layout),
    )


def _blocks(layout: Layout, rod: Rod, force: float, neck: Wood) -> Blocks | None:
    stated, place = layout.design.rod, layout.rod
    if not isinstance(rod, TwoWayRod) or stated is None or place is None:
        return None
    moment = force * rod.spacing
    end, lever, run = rod.end_force(moment), rod.lever(moment), stated.width + layout.design.channel.wider_by
    glue = 2 * layout.fretboard.half_width(place.segment("span").x_start) - run
    return Blocks(end, end / (stated.width * lever), end / (glue * lever), neck.across)
