"""The rules between strings, fretboard, neck, heel and head."""

from __future__ import annotations

from neckmodel.design.rules.fretboard import fret_slots, fretboard_length, fretboard_width, nut_height
from neckmodel.design.rules.heel import glued_only
from neckmodel.design.rules.later import peg, starts_later, step
from neckmodel.design.rules.neck import body, head_line, heel_wood, joint_fret, tuners, wood_under_fretboard
from neckmodel.design.rules.rule import Needing
from neckmodel.design.rules.slots import SLOT_RULES
from neckmodel.design.rules.strings import string_spacing, strings_listed

RULES: tuple[Needing, ...] = (
    strings_listed,
    string_spacing,
    starts_later,
    step,
    peg,
    fretboard_width,
    fretboard_length,
    fret_slots,
    joint_fret,
    wood_under_fretboard,
    nut_height,
    head_line,
    tuners,
    *SLOT_RULES,
    heel_wood,
    glued_only,
    body,
)
