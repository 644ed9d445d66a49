"""The tables that page and terminal both show, in their order."""

from __future__ import annotations

from neckmodel.layout.tables import rod, slots, soundhole, strings, wood

STRINGS = (strings.frets, strings.slanted_frets, strings.strings, strings.string_marks)
NECK = (
    strings.action,
    strings.fretboard,
    wood.back,
    wood.ends,
    rod.rod,
    rod.bounds,
    rod.bars,
    rod.channel,
    rod.cutting,
    rod.corners,
    wood.screws,
    wood.tuners,
    slots.slots,
    slots.rollers,
    slots.descents,
    strings.over_nut,
    rod.key,
    soundhole.way,
)
