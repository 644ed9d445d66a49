"""The defaults that follow from the kind of instrument, where `[design] instrument` states it. Lengths in mm.

All of it is common practice, with no published source. Without the key they are what they are for no kind at all.
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
"""Usual relief, where the kind of instrument is not stated."""


def stated(facts: Facts) -> Instrument | None:
    """The kind of instrument that the file says it is; None where it does not."""
    return INSTRUMENTS.get(facts.text("design.instrument") or "")


def strung(facts: Facts) -> Strung | None:
    """How the stated kind of instrument is strung, at its scale length."""
    said = stated(facts)
    return None if said is None else said.at_scale(facts.number("strings.scale.bass", 640))


def at_nut(facts: Facts) -> float:
    said = stated(facts)
    return 0.4 if said is None else said.at_nut


def at_12(facts: Facts) -> float:
    usual = strung(facts)
    return 1.8 if usual is None else usual.at_12


def relief(facts: Facts) -> float:
    usual = strung(facts)
    return 0.15 if usual is None else usual.relief


def relief_range(facts: Facts) -> Range:
    usual = strung(facts)
    return RELIEF if usual is None else usual.relief_range


def frets(facts: Facts) -> int:
    said = stated(facts)
    return 22 if said is None else said.frets


def heel_kind(facts: Facts) -> str:
    said = stated(facts)
    return "tenon" if said is not None and said.acoustic else "bolted"


def glued_in(facts: Facts) -> Instrument | None:
    """The stated kind of instrument, if it is acoustic and its neck is glued in with a tenon."""
    said = stated(facts)
    return said if said is not None and said.acoustic and facts.text("heel.kind") == "tenon" else None


def tenon(facts: Facts) -> dict[str, object] | None:
    """Of an acoustic instrument; others must state theirs."""
    if glued_in(facts) is None:
        return None
    depth = float(round(TENON_SHARE * facts.number("heel.depth")))
    return {"length": TENON_LENGTH, "width": TENON_WIDTH, "depth": depth}


def body_thickness(facts: Facts) -> float:
    said = stated(facts)
    return 45.0 if said is None else said.body


def past_joint(facts: Facts) -> float:
    inside = stated(facts) is not None and facts.text("heel.kind") == "tenon"
    return PAST_JOINT_OF_TENON if inside else 15.0


def head_kind(facts: Facts) -> str:
    said = stated(facts)
    return "angled" if said is not None and said.acoustic else "stepped"


def length_of_head(facts: Facts) -> float:
    said = stated(facts)
    if said is None:
        return 170.0
    listed = look_up(facts.raw, ("head", "tuners"))
    count = len(listed) if isinstance(listed, list) else 0
    places = [facts.number(f"head.tuners.{k}.x", -said.posts[0]) for k in range(count)]
    strings = facts.number("strings.courses", 6) * (2 if facts.truth("strings.paired") else 1)
    return head_length(said, int(strings), places)
