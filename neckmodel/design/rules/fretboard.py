"""What must hold of fretboard and nut."""

from __future__ import annotations

from collections.abc import Iterator

from neckmodel.design.design import Design
from neckmodel.design.rules.neck import at_fret
from neckmodel.design.rules.rule import Broken, at_least, at_most, length, needs
from neckmodel.design.tables.fretboard import LEAST_WIDTH, MOST_WIDTH
from neckmodel.design.values.scale import fret_share


@needs("strings", "fretboard")
def fretboard_width(design: Design) -> Iterator[Broken]:
    """The fretboard must be as wide at its end as at the nut, reach past the outer strings, and keep to its bounds."""
    fretboard, strings = design.fretboard, design.strings
    if fretboard.width is not None:
        if fretboard.width.end < fretboard.width.nut:
            yield Broken("fretboard.width.end", "is less than at the nut", at_least(fretboard.width.nut))
        if fretboard.width.nut < strings.spacing_at_nut + 1:
            least = at_least(strings.spacing_at_nut + 1)
            yield Broken("fretboard.width.nut", "leaves no edge beside the outer strings", least)
        return
    last = fret_share(fretboard.frets)
    at_last = strings.spacing_at_nut + (strings.spacing_at_bridge - strings.spacing_at_nut) * last
    for key, width in (
        ("strings.spacing_at_nut", strings.spacing_at_nut + 2 * fretboard.edge_margin.nut),
        ("strings.spacing_at_bridge", at_last + 2 * fretboard.edge_margin.last_fret),
    ):
        if not LEAST_WIDTH <= width <= MOST_WIDTH:
            yield Broken(
                key, f"makes the fretboard {length(width)} wide", f"allowed are {LEAST_WIDTH} to {MOST_WIDTH} mm"
            )


@needs("strings", "fretboard")
def fretboard_length(design: Design) -> Iterator[Broken]:
    """The fretboard must end between its last fret and the bridge, and its end is stated in one way only."""
    fretboard = design.fretboard
    last, bridge = at_fret(design, fretboard.frets), design.strings.spans.centre
    if fretboard.ends_at is not None and fretboard.past_last_fret is not None:
        yield Broken("fretboard.ends_at", "is stated beside past_last_fret", attempt="keep one of the two")
    elif fretboard.ends_at is not None and not last < fretboard.ends_at < bridge:
        where = "before the last fret" if fretboard.ends_at <= last else "beyond the bridge"
        yield Broken("fretboard.ends_at", f"lies {where}", f"allowed are {length(last)} to {length(bridge)}")
    elif fretboard.past_last_fret is not None and last + fretboard.past_last_fret >= bridge:
        yield Broken("fretboard.past_last_fret", "takes the fretboard beyond the bridge", at_most(bridge - last))


@needs("fretboard")
def fret_slots(design: Design) -> Iterator[Broken]:
    """The fret slots must be shallower than the fretboard is thick."""
    fretboard = design.fretboard
    if fretboard.slotted and fretboard.fret_slot.depth >= fretboard.thickness:
        thick = length(fretboard.thickness)
        yield Broken("fretboard.fret_slot.depth", f"cuts through the fretboard, which is {thick} thick")


@needs("nut", "fretboard")
def nut_height(design: Design) -> Iterator[Broken]:
    """The nut must reach the fretboard's top, from the bottom of its groove where it stands in one."""
    least = design.fretboard.thickness + (design.nut.seat_depth if design.nut.seat == "groove" else 0.0)
    if design.nut.height < least:
        yield Broken("nut.height", "does not reach the fretboard's top", at_least(least))
