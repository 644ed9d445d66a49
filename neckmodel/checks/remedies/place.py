"""Remedies for a rod or bars in a place where they may not lie: another place, another length, more wood. Lengths
mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import any_of, change, graded, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.layout.rod.boxes import held_past_joint
from neckmodel.layout.rod.rod import bounds_in_wood

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.design import Design
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.bounds import Bound
    from neckmodel.layout.rod.rod import RodPlace

STEP = 0.5  # mm: a rod placed automatically lies at a multiple of this
PLACE, LENGTH, WOOD = "rod_place.from_nut", "rod.length", "heel.wood_ends_at"


@dataclass(frozen=True)
class Room:
    """Where the nut-side end of a rod or bar may lie, by wood and the key's reach. Its cover is a check of its own."""

    low: Bound
    high: Bound
    x: float

    @property
    def margin(self) -> float:
        """How far x lies inside the interval, mm; negative outside."""
        return min(self.x - self.low.x, self.high.x - self.x)

    @property
    def nearest(self) -> Bound:
        """The bound nearest to x."""
        return self.low if self.x - self.low.x < self.high.x - self.x else self.high

    @property
    def short(self) -> float:
        """How much the interval lacks, mm; 0 or less where there is one."""
        return self.low.x - self.high.x

    def nearest_to(self, key: str, aim: Aim) -> float:
        """The place nearest to x that lies as far inside the interval as the aim asks, mm."""
        if self.x > self.high.x - aim.spare:
            return aim.down(key, self.high.x - aim.spare)
        return aim.up(key, self.low.x + aim.spare)


def room_of(place: RodPlace | Bar) -> Room:
    """The room of a rod or bar in its place."""
    return Room(*bounds_in_wood(place), place.x_start)


def rod_placed(layout: Layout, spare: float = 0.0) -> bool:
    """Whether the rod, or each of two, lies inside its room by this much, mm."""
    return bool(layout.rods) and all(room_of(rod).margin >= spare - SLACK for rod in layout.rods)


def move_rod(design: Design, rod: RodPlace, loss: float) -> Remedy | None:
    """Moves the rod inside its interval. Where there is none, or where that does not help, the rod gets shorter or
    longer, or the wood longer."""
    return _good(design, lambda aim: _rod_ways(design, rod, room_of(rod), aim), rod_placed, loss)


def _rod_ways(design: Design, rod: RodPlace, room: Room, aim: Aim) -> Iterator[Remedy]:
    beyond = room.x > room.high.x - aim.spare  # the rod lies too near to the body, or is too long
    lack = aim.spare - (room.high.x - room.x if beyond else room.x - room.low.x)
    in_wood = room.high.key == WOOD and beyond
    moved = change(design, {PLACE: room.nearest_to(PLACE, aim)})
    if beyond or room.low.key != PLACE:
        less = rod.length - lack if rod.stated else rod.length - room.short - 2 * aim.spare
        resized = change(design, {LENGTH: aim.down(LENGTH, less) if beyond else aim.up(LENGTH, rod.length + lack)})
        yield from (resized, moved) if room.low.key == "rod_place.past_joint" and not beyond else (moved, resized)
    else:
        yield moved
    if in_wood:  # a rod placed automatically keeps clear of both bounds, in steps of 0.5
        more = lack if rod.stated else lack + aim.spare + STEP
        yield change(design, {WOOD: aim.up(WOOD, room.high.value + more)})
    if room.short > SLACK and rod.stated:
        yield change(design, {PLACE: "auto", LENGTH: aim.down(LENGTH, rod.length - room.short - 2 * aim.spare)})
    if not beyond and rod.fitting_from <= rod.fitting_to:
        yield change(design, {LENGTH: aim.up(LENGTH, rod.fitting_from + aim.spare), PLACE: "auto"})


def reach_joint(design: Design, rod: RodPlace, short: float, loss: float) -> Remedy | None:
    """Moves the rod farther from the nut where there is room; else takes a longer rod, if that has a place. short: how
    much it lacks past the joint, mm."""

    def ways(aim: Aim) -> Iterator[Remedy]:
        by = short + aim.spare
        yield change(design, {LENGTH: aim.up(LENGTH, rod.length + by)})
        yield change(design, {PLACE: aim.up(PLACE, rod.x_start + by)})
        if rod.fitting_from <= rod.fitting_to:
            yield change(design, {LENGTH: aim.up(LENGTH, rod.fitting_from + aim.spare), PLACE: "auto"})

    def reaches(new: Layout, spare: float) -> bool:
        held = min((held_past_joint(new.design, rod) for rod in new.rods), default=0.0)
        return rod_placed(new) and held >= new.design.rod_place.past_joint + spare - SLACK

    return _good(design, ways, reaches, loss)


def before_fret_1(design: Design, rod: RodPlace) -> Remedy | None:
    """Moves the rod nearer to the nut, until it bends the neck from fret 1 on."""

    def spans(new: Layout, spare: float) -> bool:
        return rod_placed(new, spare) and all(rod.x_start <= rod.x_span + SLACK for rod in new.rods)

    return _good(design, lambda aim: iter([change(design, {PLACE: aim.down(PLACE, rod.x_span)})]), spans)


def clear_of_fretboard(layout: Layout, rod: RodPlace, spare: float, loss: float) -> Remedy | None:
    """For a wheel behind the fretboard: moves the rod nearer to the body, or shortens the fretboard. spare: gap between
    the two, mm."""
    design, ends = layout.design, "fretboard.ends_at"

    def ways(aim: Aim) -> Iterator[Remedy]:
        yield change(design, {PLACE: aim.up(PLACE, rod.x_wheel + aim.spare)})
        yield change(design, {ends: aim.down(ends, layout.fretboard.x_end + spare - aim.spare)})

    def clear(new: Layout, spare: float) -> bool:
        return rod_placed(new) and all(rod.x_start >= rod.x_wheel + spare - SLACK for rod in new.rods)

    return _good(design, ways, clear, loss)


def move_bars(design: Design, bar: Bar, loss: float) -> Remedy | None:
    """Moves the bar inside its interval, or changes its length."""
    start, size, room = "bars.from_nut", "bars.length", room_of(bar)
    length = bar.x_end - bar.x_start

    def ways(aim: Aim) -> Iterator[Remedy]:
        yield change(design, {start: room.nearest_to(start, aim)})
        yield change(design, {size: aim.down(size, length + room.margin - aim.spare)})
        # it starts at the gap from the nut, and is just long enough to reach past the joint
        least = aim.up(start, max(b.x for b in bar.lower if b.key == start) + aim.spare)
        reach = next(b.x for b in bar.lower if b.key == "rod_place.past_joint") + length - least
        yield change(design, {size: aim.up(size, reach + aim.spare), start: least})

    def placed(new: Layout, spare: float) -> bool:
        return all(room_of(b).margin >= spare - SLACK for b in new.bars)

    return _good(design, ways, placed, loss)


def _good(
    design: Design,
    ways: Callable[[Aim], Iterator[Remedy]],
    good: Callable[[Layout, float], bool],
    loss: float = 0.0,
) -> Remedy | None:
    """Those of the ways that can be laid out and are then good, with as much to spare as the aim asks."""

    def make(aim: Aim) -> Remedy | None:
        return any_of(*(possible(design, way.set, lambda new: good(new, aim.spare)) for way in ways(aim)))

    return graded(design, make, loss)
