"""Defaults that depend on the kind of instrument, where the file states it in `[design] instrument`. Lengths in mm.

All are common practice, with no published source. A file that states no instrument gets one general default for each.
"""

from __future__ import annotations

from neckmodel.design.defaults.instruments import (
    INSTRUMENTS,
    PAST_JOINT_OF_TENON,
    TENON_LENGTH,
    TENON_SHARE,
    TENON_WIDTH,
    Instrument,
    Range,
    Strung,
    head_length,
)
from neckmodel.design.values.keys import Facts, look_up

RELIEF = Range(0.1, 0.3)
"""Usual relief, where the kind of instrument is not states no kind."""


def stated(facts: Facts) -> Instrument | None:
    """The kind of instrument that the file states; None where it states none."""
    return INSTRUMENTS.get(facts.text("design.instrument") or "")


def strung(facts: Facts) -> Strung | None:
    """How the stated kind of instrument is strung at its scale length; None where the file states no kind."""
    said = stated(facts)
    return None if said is None else said.at_scale(facts.number("strings.scale.bass", 640))


def at_nut(facts: Facts) -> float:
    """`action.at_nut`, mm: height of the strings over fret 1 at the nut."""
    said = stated(facts)
    return 0.4 if said is None else said.at_nut


def at_12(facts: Facts) -> float:
    """`action.at_12`, mm: height of the strings over fret 12."""
    usual = strung(facts)
    return 1.8 if usual is None else usual.at_12


def relief(facts: Facts) -> float:
    """`action.wanted_relief`, mm."""
    usual = strung(facts)
    return 0.15 if usual is None else usual.relief


def relief_range(facts: Facts) -> Range:
    """Range that the wanted relief usually lies in, mm."""
    usual = strung(facts)
    return RELIEF if usual is None else usual.relief_range


def frets(facts: Facts) -> int:
    """`fretboard.frets`: how many frets."""
    said = stated(facts)
    return 22 if said is None else said.frets


def heel_kind(facts: Facts) -> str:
    """`heel.kind`: "tenon" on acoustic instruments, else "bolted"."""
    said = stated(facts)
    return "tenon" if said is not None and said.acoustic else "bolted"


def glued_in(facts: Facts) -> Instrument | None:
    """The stated kind of instrument where it is acoustic and the heel is a glued tenon; else None."""
    said = stated(facts)
    return said if said is not None and said.acoustic and facts.text("heel.kind") == "tenon" else None


def tenon(facts: Facts) -> dict[str, object] | None:
    """`heel.tenon` of an acoustic instrument, lengths in mm; None for others, whose files must state it."""
    if glued_in(facts) is None:
        return None
    depth = float(round(TENON_SHARE * facts.number("heel.depth")))
    return {"length": TENON_LENGTH, "width": TENON_WIDTH, "depth": depth}


def body_thickness(facts: Facts) -> float:
    """`body.thickness`, mm."""
    said = stated(facts)
    return 45.0 if said is None else said.body


def past_joint(facts: Facts) -> float:
    """`rod_place.past_joint`, mm: a rod in an acoustic instrument ends inside the tenon."""
    inside = stated(facts) is not None and facts.text("heel.kind") == "tenon"
    return PAST_JOINT_OF_TENON if inside else 15.0


def head_kind(facts: Facts) -> str:
    """`head.kind`: "angled" on acoustic instruments, else "stepped"."""
    said = stated(facts)
    return "angled" if said is not None and said.acoustic else "stepped"


def length_of_head(facts: Facts) -> float:
    """`head.length`, mm: long enough for the tuners that the file lists, or for one tuner for each string."""
    said = stated(facts)
    if said is None:
        return 170.0
    listed = look_up(facts.raw, ("head", "tuners"))
    count = len(listed) if isinstance(listed, list) else 0
    places = [facts.number(f"head.tuners.{k}.x", -said.posts[0]) for k in range(count)]
    strings = facts.number("strings.courses", 6) * (2 if facts.truth("strings.paired") else 1)
    return head_length(said, int(strings), places)
