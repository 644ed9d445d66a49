"""How far a laid-out design keeps each of its limits, without any solid: place, walls by section, fit. Lengths mm."""

from __future__ import annotations

import math

from neckmodel.layout import Layout
from neckmodel.layout.channel.behind import over_channel
from neckmodel.layout.channel.between import least_between
from neckmodel.layout.channel.walls import limit_of
from neckmodel.layout.rod.bounds import Bound
from neckmodel.layout.rod.lengths import too_long_or_short
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.strength.estimate import estimate, missing
from neckmodel.variants.limits import SLACK, WALL, Margin, Room
from neckmodel.variants.rods.measured import cut_margins


def room_of(layout: Layout, rod: RodPlace) -> Room:
    """The room of the rod: the interval that the place checks use, bounded also by the fretboard's cover over the
    channel's end."""
    least = layout.design.limits.cover_run
    covered = Bound(
        f"{least:.2f} mm of fretboard past the channel", rod.x_well_covered, "limits.cover_run", shifts=True
    )
    low = max([*rod.lower, rod.wheel_bound], key=lambda bound: bound.x)
    high = min([*rod.upper, covered], key=lambda bound: bound.x)
    good = min(high.x, rod.x_span)
    wrong = too_long_or_short(low, high) if low.x > high.x + SLACK else ""
    return Room(low.x, high.x, low.reason, high.reason, good if good >= low.x - SLACK else high.x, wrong)


def margins_at(layout: Layout, room: Room | None) -> tuple[Margin, ...]:
    """Every margin of a layout, the least first; of several margins to one limit only the least."""
    found = sorted(
        (*_place(layout, room), *walls(layout), *_fit(layout), *_relief(layout)), key=lambda margin: margin.value
    )
    return tuple({margin.what: margin for margin in reversed(found)}.values())[::-1]


def least(layout: Layout, room: Room | None, kinds: tuple[str, ...] = ("place", WALL, "fit")) -> float:
    """The least margin of these kinds, mm."""
    return min((m.value for m in margins_at(layout, room) if m.kind in kinds), default=math.inf)


def walls(layout: Layout) -> tuple[Margin, ...]:
    """Walls by section less their limits, one for each step under the fretboard; the wood between two rods; that over
    and behind a rod put in from the back."""
    between, limits = least_between(layout.steps), layout.design.limits
    found = [] if between is None else [("the wood between the two rods", between.wood - limits.wall.between)]
    if layout.back_strip is not None:
        over, top = over_channel(layout.steps, layout.fretboard).wall, limits.wall.top
        found.append(("the wood over the channel", over - (limits.wall.run if top is None else top)))
        found.append(("the wood behind the rod", layout.back_strip.over - limits.cover_back_strip))
    return tuple(
        Margin(f"the wall round the {wall.step}", wall.wall - limit_of(layout.design.limits, wall.step), WALL)
        for wall in layout.walls
        if math.isfinite(wall.wall)
    ) + tuple(Margin(what, by, WALL) for what, by in found)


def _relief(layout: Layout) -> tuple[Margin, ...]:
    """What a neck with neither rod nor bar is held to: the likely relief. Nothing where the pull is not known."""
    if layout.rod or layout.bars or missing(layout) is not None:
        return ()
    likely = estimate(layout).relief.likely
    return (Margin("the likely relief", layout.design.limits.strength_relief - likely, "relief"),)


def _place(layout: Layout, room: Room | None) -> list[Margin]:
    rod = layout.rod
    if rod is None or room is None:
        return []
    x = rod.x_start
    found = [Margin(room.low, x - room.x_from, "place"), Margin(room.high, room.x_to - x, "place")]
    if math.isfinite(room.x_good) and room.x_good < room.x_to - SLACK:
        found.append(Margin("the block before fret 1", room.x_good - x, "place"))
    return found


def _fit(layout: Layout) -> list[Margin]:
    """Whether cutters reach, whether the adjuster lies below the glue plane, and whether the channel as cut is large
    enough."""
    found = []
    for cutting in layout.cuttings:
        spare = -math.inf if cutting.diameter is None else cutting.stick_out - cutting.reach
        found.append(Margin(f"a cutter for the {cutting.step}", spare, "fit"))
    rod = layout.rod
    if rod is not None and not rod.at_heel:
        found.append(Margin("the adjuster below the glue plane", -rod.proud, "fit"))
    return [*found, *cut_margins(layout)]
