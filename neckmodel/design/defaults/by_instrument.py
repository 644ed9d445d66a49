"""Defaults that depend on the kind of instrument, where the file states it in `[design] instrument`. Lengths in mm.

All are common practice, with no published source. A file that states no instrument gets a six-string electric's
values, of the longer scale lengths.
"""

from __future__ import annotations

from neckmodel.design.defaults.assumed import ASSUMED, PLAIN, number
from neckmodel.design.defaults.instruments import (
    DOVETAIL_WIDTH,
    FLARE,
    GLUED_IN,
    INSTRUMENTS,
    PAST_JOINT,
    PAST_JOINT_OF_TENON,
    TAPER,
    TENON_LENGTH,
    TENON_SHARE,
    TENON_WIDTH,
    UNDER_HEEL,
    Instrument,
    Range,
    Strung,
    head_length,
)
from neckmodel.design.values.keys import Facts, look_up
from neckmodel.design.values.tuners import OF_A_SIDE_TUNER

FRETLESS_AT_NUT, FRETLESS_AT_12 = 0.2, 2.0
"""Heights of the strings over the wood of a fretless fretboard, mm: of a bass."""


def stated(facts: Facts) -> Instrument | None:
    """The kind of instrument that the file states; None where it states none."""
    return INSTRUMENTS.get(facts.text("design.instrument") or "")


def taken(facts: Facts) -> Instrument:
    """The kind of instrument that the file states, or whose values it gets where it states none."""
    return stated(facts) or PLAIN


def strung(facts: Facts) -> Strung:
    """How that instrument is strung: a stated one at its scale length."""
    said = stated(facts)
    return PLAIN.strung if said is None else said.at_scale(number(facts, "strings.scale.bass"))


def at_nut(facts: Facts) -> float:
    """`action.at_nut`, mm: height of the strings over fret 1 at the nut."""
    return FRETLESS_AT_NUT if facts.has("fretboard.fretless") else taken(facts).at_nut


def at_12(facts: Facts) -> float:
    """`action.at_12`, mm: height of the strings over fret 12."""
    return FRETLESS_AT_12 if facts.has("fretboard.fretless") else strung(facts).at_12


def relief(facts: Facts) -> float:
    """`action.wanted_relief`, mm."""
    return strung(facts).relief


def relief_range(facts: Facts) -> Range:
    """Range that the wanted relief usually lies in, mm."""
    return strung(facts).relief_range


def frets(facts: Facts) -> int:
    """`fretboard.frets`: how many frets."""
    return taken(facts).frets


def heel_kind(facts: Facts) -> str:
    """`heel.kind`: "tenon" on acoustic instruments, else "bolted"."""
    return "tenon" if taken(facts).acoustic else "bolted"


def glued_in(facts: Facts) -> Instrument | None:
    """The stated kind of instrument where it is acoustic and the heel is a glued tenon or dovetail; else None."""
    said = stated(facts)
    return said if said is not None and said.acoustic and facts.text("heel.kind") in GLUED_IN else None


def tenon(facts: Facts) -> dict[str, object] | None:
    """`heel.tenon` of an acoustic instrument, lengths in mm; None for others, whose files must state it."""
    if glued_in(facts) is None:
        return None
    depth = float(round(TENON_SHARE * facts.number("heel.depth")))
    width = TENON_WIDTH if facts.text("heel.kind") == "tenon" else DOVETAIL_WIDTH
    return {"length": TENON_LENGTH, "width": width, "depth": depth}


def flare(facts: Facts) -> float | None:
    """`heel.tenon.flare` of a dovetail, degrees; None for other heels."""
    return FLARE if facts.text("heel.kind") == "dovetail" else None


def taper(facts: Facts) -> float | None:
    """`heel.tenon.taper` of a dovetail, degrees; None for other heels."""
    return TAPER if facts.text("heel.kind") == "dovetail" else None


def body_thickness(facts: Facts) -> float:
    """`body.thickness`, mm."""
    if stated(facts) is None and facts.text("heel.kind") == "dovetail":  # a body whose sides are deeper than the heel
        return max(taken(facts).body, facts.number("heel.depth") + UNDER_HEEL)
    return taken(facts).body


def past_joint(facts: Facts) -> float:
    """`rod_place.past_joint`, mm: a rod in an acoustic instrument ends inside the tenon."""
    inside = stated(facts) is not None and facts.text("heel.kind") in GLUED_IN
    return PAST_JOINT_OF_TENON if inside else PAST_JOINT


def head_kind(facts: Facts) -> str:
    """`head.kind`: "angled" on acoustic instruments, and where the head has slots, else "stepped"."""
    return "angled" if taken(facts).acoustic or facts.has("head.slots") else "stepped"


HEAD_THICKNESS, SLOTTED_THICKNESS = 14.0, 20.0  # mm
SLOTTED_RANGE = Range(18, 22)
"""Range that the thickness of a head with slots usually lies in, mm."""
STRING_HEIGHT, INTO_CORE = 8.0, 6.0  # mm


def head_thickness(facts: Facts) -> float:
    """`head.thickness`, mm: rollers need more wood over and under them than posts round them."""
    return SLOTTED_THICKNESS if facts.has("head.slots") else HEAD_THICKNESS


def string_height(tuner: Facts) -> float | None:
    """`string_height` of a tuner whose post stands on the face, mm; None for one bored from the side."""
    return None if any(tuner.has(key) for key in OF_A_SIDE_TUNER) else STRING_HEIGHT


def into_core(tuner: Facts) -> float | None:
    """`into_core` of a tuner bored from the side, mm; None for one whose post stands on the face."""
    return INTO_CORE if any(tuner.has(key) for key in OF_A_SIDE_TUNER) else None


def length_of_head(facts: Facts) -> float:
    """`head.length`, mm: long enough for the tuners that the file lists, or for one tuner for each string."""
    said = stated(facts)
    if said is None:
        return ASSUMED["head.length"]
    listed = look_up(facts.raw, ("head", "tuners"))
    count = len(listed) if isinstance(listed, list) else 0
    places = [facts.number(f"head.tuners.{k}.x", -said.posts[0]) for k in range(count)]
    strings = number(facts, "strings.courses") * (2 if facts.truth("strings.paired") else 1)
    return head_length(said, int(strings), places)
