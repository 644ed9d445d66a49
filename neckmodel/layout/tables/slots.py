"""Tables of a slotted head: its slots, its tuners, and the strings' way down into it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.tables.table import Row, Table, Voice

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def slots(layout: Layout, voice: Voice) -> Table:
    """The slots; no rows for a head without them."""
    pair, write, rows = layout.slots, voice.write, list[Row]()
    if pair is not None:
        ends = ", ".join(voice.row(pair.near, pair.far))
        rows = [
            ("from, to; along the face from the head line", ends),
            (f"width; ends {pair.ends}", write(pair.width)),
            ("outer, inner wall from the centre line", ", ".join(voice.row(pair.outer, pair.inner))),
            ("wood outside each, between them", ", ".join(voice.row(pair.edge, pair.core))),
        ]
        if pair.ramp is not None:
            rows.append(("ramp: length before the slot, angle", f"{write(pair.ramp[0])}, {pair.ramp[1]:.2f} deg"))
    return Table("Slots in the head", ("what", "value"), tuple(rows))


def rollers(layout: Layout, voice: Voice) -> Table:
    """The tuners of a slotted head, as they are bored from its sides."""
    rows = []
    for one in layout.rollers:
        string = "-" if one.string is None else str(one.string)
        sizes = voice.row(one.along, one.below, one.hole, layout.across(one.y_end))
        rows.append((one.name, str(one.side), string, *sizes))
    names = ("tuner", "side", "string", "along the face", "below it", "hole", "bored to y")
    return Table("Tuners, bored from the head's sides", names, tuple(rows), text=3)


def descents(layout: Layout, voice: Voice) -> Table:
    """By how much each string clears the wood on its way into its slot."""
    rows = [
        (str(descent.string), descent.tuner, descent.least.where, *voice.row(descent.least.room))
        for descent in layout.descents
    ]
    names = ("string", "tuner", "least room at its", "room")
    return Table("Strings into the slots, square to the head's face", names, tuple(rows), text=3)
