"""How far a laid-out design keeps each of its limits, without any solid: place, walls by section, fit. Lengths mm."""

from __future__ import annotations

import math

from neckmodel.layout import Layout
from neckmodel.layout.rod import RodPlace
from neckmodel.layout.walls import limit_of
from neckmodel.variants.as_cut import cut_margins
from neckmodel.variants.limits import SLACK, WALL, Margin, Room


def room_of(layout: Layout, rod: RodPlace) -> Room:
    """The interval of the check of its place, and further the cover of fretboard over the channel's end."""
    low = max(((b.x, b.reason) for b in rod.lower), key=lambda pair: pair[0])
    low = max(low, (rod.x_wheel, "the wheel clear of the fretboard"), key=lambda pair: pair[0])
    cover = (rod.x_cover - layout.design.limits.cover_run, "the fretboard's end")
    high = min([(b.x, b.reason) for b in rod.upper] + [cover], key=lambda pair: pair[0])
    good = min(high[0], rod.x_span)
    return Room(low[0], high[0], low[1], high[1], good if good >= low[0] - SLACK else high[0])


def margins_at(layout: Layout, room: Room | None) -> tuple[Margin, ...]:
    """Every margin of a layout, the least first."""
    found = [*_place(layout, room), *walls(layout), *_fit(layout)]
    return tuple(sorted(found, key=lambda margin: margin.value))


def least(layout: Layout, room: Room | None, kinds: tuple[str, ...] = ("place", WALL, "fit")) -> float:
    return min((m.value for m in margins_at(layout, room) if m.kind in kinds), default=math.inf)


def walls(layout: Layout) -> tuple[Margin, ...]:
    """Walls by section over their limits, one for each step under the fretboard."""
    return tuple(
        Margin(f"the wall round the {wall.step}", wall.wall - limit_of(layout, wall.step), WALL)
        for wall in layout.walls
        if math.isfinite(wall.wall)
    )


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
    """Cutters that reach, the adjuster below the glue plane, and what is cut already large enough."""
    found = []
    for cutting in layout.cuttings:
        spare = -math.inf if cutting.diameter is None else cutting.stick_out - cutting.reach
        found.append(Margin(f"a cutter for the {cutting.step}", spare, "fit"))
    rod = layout.rod
    if rod is not None and not rod.at_heel:
        found.append(Margin("the adjuster below the glue plane", -rod.proud, "fit"))
    return [*found, *cut_margins(layout)]
