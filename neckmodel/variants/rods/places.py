"""The places tried for a rod, and those at which it goes into the channel as cut. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from neckmodel.design import Design, changed
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.measured import SECTION
from neckmodel.lengths import rounded_down, rounded_up
from neckmodel.variants.limits import SLACK, Margin, Room
from neckmodel.variants.rods.measured import AS_CUT, cut_margins

PLACES = 33  # tried between the first and the last possible place, both and the middle included
FINE = 6  # decimals of a mm at which two places count as different


def places_in(room: Room) -> list[float]:
    """Places to 0.01 mm, inward from both ends of the room."""
    first, last = rounded_up(room.x_from), rounded_down(room.x_good)
    if last <= first:
        return [room.x_from]
    return sorted({round(float(x), 2) for x in np.linspace(first, last, PLACES)})


def laid_at(design: Design, x: float) -> Layout | None:
    """The design with its rod's nut-side end at x, laid out; None where it cannot be laid out so."""
    try:
        return lay_out(changed(design, {"rod_place.from_nut": f"{x} mm"}))
    except DesignError:
        return None


def where_it_goes_in(design: Design, room: Room) -> tuple[Room, Margin | None]:
    """The room narrowed to the places where the rod goes into the channel as cut, and None. Where there are none: the
    room unchanged, and the margin that is missed by the least amount."""
    if not any(key.startswith(SECTION) for key, _ in design.measured or ()):
        return room, None
    looked = _margins_by_place(design, places_in(replace(room, x_good=room.x_to)))
    turns = {x + sign * m.value for x, found in looked.items() for m in found if m.kind == "place" for sign in (-1, 1)}
    looked |= _margins_by_place(design, sorted({round(x, FINE) for x in turns if room.x_from <= x <= room.x_to}))
    least = {x: min(found, key=lambda m: m.value) for x, found in looked.items() if found}
    good = [x for x, margin in least.items() if margin.value >= -SLACK]
    if not least:
        return room, None
    if not good:
        return room, _lacking(looked[max(least, key=lambda x: least[x].value)])
    if len(good) == len(least):
        return room, None
    low, high = min(good), max(good)
    narrow = replace(room, x_from=low, x_to=high, x_good=min(high, max(low, room.x_good)))
    if low > room.x_from + SLACK:
        narrow = replace(narrow, low=_binding(looked[low]))
    if high < room.x_to - SLACK:
        narrow = replace(narrow, high=_binding(looked[high]))
    return narrow, None


def _margins_by_place(design: Design, places: Iterable[float]) -> dict[float, tuple[Margin, ...]]:
    """The margins of the cut channel for the rod at each place that can be laid out."""
    laid = ((x, laid_at(design, x)) for x in places)
    return {x: tuple(cut_margins(layout)) for x, layout in laid if layout is not None}


def _lacking(margins: Iterable[Margin]) -> Margin:
    """The margin that is missed most; for a step too short at both ends, the sum, for no place mends that."""
    found = tuple(margins)
    most = min(found, key=lambda margin: margin.value)
    step, as_cut, _ = most.what.partition(AS_CUT)
    ends = [m for m in found if m.kind == "place" and m.value < -SLACK and m.what.startswith(step + as_cut)]
    return Margin(f"{step}{as_cut}", sum(m.value for m in ends), "place") if len(ends) > 1 else most


def _binding(margins: Iterable[Margin]) -> str:
    return min(margins, key=lambda margin: abs(margin.value)).what
