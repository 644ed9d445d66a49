"""`[strings]`, `[action]` and `[nut]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Count, Length, Number, OneOrMore, Table, Text, items, spreading
from neckmodel.design.values.scale import Spans, spans

PULL_FROM = ("mass_per_length", "tension", "wound", "material")
"""The keys that may tell a string's pull; a string states one of them."""

NOTES = "write letter and octave: a guitar has E2 A2 D3 G3 B3 E4, a bass E1 A1 D2 G2, a sharp is F#3"


class Scale(Table):
    """Scale length, mm. One scale length reads as two equal ones with `square_fret` 0."""

    bass: Annotated[float, Length(300, 900)] = Field(description="Scale length along the outermost bass string.")
    treble: Annotated[float, Length(300, 900)] = Field(description="Scale length along the outermost treble string.")
    square_fret: Annotated[float, Number(0, 36)] = Field(
        description="Fret that stands square to the centre line; 0 is the nut."
    )

    @classmethod
    def spread(cls, value: object) -> object:
        """One length stands for one scale length on both sides."""
        return value if isinstance(value, dict | Scale) else {"bass": value, "treble": value, "square_fret": 0}

    @property
    def single(self) -> bool:
        """Whether both sides have the same scale length."""
        return self.bass == self.treble


_WRAP = Length(0.03, 1.5)


class Wound(Table):
    """A wound string: round wires about a core, turn by turn."""

    core: Annotated[float, Length(0.08, 2.5)] = Field(description="Diameter of the core.")
    on: Literal["steel", "nylon"] = Field(description="Material of the core.")
    wrap: Annotated[tuple[Annotated[float, _WRAP], ...], OneOrMore(_WRAP, 4)] = Field(
        description="Diameter of the wire wound on it; a list, from the core outward, where there are several."
    )
    material: Literal["bronze", "nickel-steel", "stainless", "copper"] = Field(description="Material of that wire.")

    @property
    def diameter(self) -> float:
        """Outside diameter, mm: the core and twice each wrap."""
        return self.core + 2 * sum(self.wrap)


class Peg(Table):
    """The peg of a string that starts later than the nut: its hole in the neck."""

    from_: Literal["side", "back"] = Field(
        alias="from",
        description="The hole is bored in from the bass side, square to the centre line, or up from the back.",
    )
    x: Annotated[float, Length(-100, 900)] = Field(description="x of the peg's axis, on the head side of that fret.")
    y: Annotated[float, Length(-60, 60)] | None = Field(
        None, description="Place across the neck, y, of the axis of a peg from the back; the bass side is negative."
    )
    below: Annotated[float, Length(0, 60)] | None = Field(
        None, description="Depth of the axis of a peg from the side, below the glue plane."
    )
    hole: Annotated[float, Length(1, 20)] = Field(description="Diameter of the hole.")
    depth: Annotated[float, Length(1, 60)] = Field(description="Depth of the hole, from the side or from the back.")


class String(Table):
    """One string, as measured or as its packet says. Of what its pull follows from, one is stated: `mass_per_length`,
    `tension`, `material` or `wound`."""

    model_config = ConfigDict(json_schema_extra={"anyOf": [{"required": ["diameter"]}, {"required": ["wound"]}]})

    note: Annotated[str, Text(24, r"[A-G](#|b)?-?\d", "a note", NOTES)] | None = Field(
        None, description="Open note in scientific pitch notation: A4 is 440 Hz, C4 the middle C."
    )
    diameter: Annotated[float, Length(0.1, 4.5)] = Field(
        description="Outside diameter of the string; of a wound one by default its core and twice each wrap."
    )
    mass_per_length: Annotated[float, Number(0.01, 60, "g/m")] | None = Field(
        None, description="Mass of the string per metre, g/m, as weighed or as its packet says."
    )
    tension: Annotated[float, Number(1, 500, "N")] | None = Field(
        None, description="Its pull at pitch on its own scale length, N, as its packet says; instead of a mass."
    )
    material: Literal["steel", "nylon"] | None = Field(
        None, description="Material of a plain string, from which its mass follows; instead of mass_per_length."
    )
    wound: Wound | None = Field(
        None,
        description="What a wound string is made of {core, on, wrap, material}, from which its mass is estimated; "
        "instead of mass_per_length.",
    )
    starts_at_fret: Annotated[Annotated[int, Count(1, 36)] | None, ADDED] = Field(
        None,
        description="Fret at which the first string, on the bass side, starts, as a short fifth string does; that fret "
        "is its zero fret. The strings' spacing counts it as if it ran on to the nut.",
    )
    peg: Annotated[Peg | None, ADDED] = Field(
        None, description="The peg of a string that starts at a fret {from, x, y, below, hole, depth}: its hole."
    )


class Strings(Table):
    """`[strings]`: how many, how long, how far apart."""

    courses: Annotated[int, Count(3, 12)] = Field(description="Number of courses: what the hand frets.")
    paired: bool = Field(description="Each course is a pair of strings.")
    pair_gap: Annotated[float, Length(0.5, 8)] | None = Field(
        None, description="Distance inside a pair, from string centre to string centre."
    )
    scale: Annotated[Scale, spreading(Scale, Length(300, 900))] = Field(
        description="Scale length: one length, or {bass, treble, square_fret} for two."
    )
    spacing_at_nut: Annotated[float, Length(8, 90)] = Field(
        description="Distance between the centres of the outermost strings where they leave the nut."
    )
    spacing_at_bridge: Annotated[float, Length(8, 160)] = Field(
        description="Distance between the centres of the outermost strings at the bridge."
    )
    divided_by: Literal["gaps", "centres"] = Field(
        description="What is even across the strings: the gaps between them, or the distances of their centres."
    )
    each: Annotated[tuple[String, ...], items(24)] = Field(
        description="Every string from the bass side (strings, not courses); needed for gaps and for string pull."
    )

    @property
    def count(self) -> int:
        """Number of strings."""
        return self.courses * (2 if self.paired else 1)

    @property
    def later(self) -> String | None:
        """The first string, where it starts at a fret instead of at the nut; None where every string starts there."""
        first = self.each[0] if self.each else None
        return first if first is not None and first.starts_at_fret is not None else None

    @property
    def spans(self) -> Spans:
        """The outer strings from nut to saddle, as spans along the neck."""
        scale = self.scale
        return spans(scale.bass, scale.treble, scale.square_fret, self.spacing_at_nut, self.spacing_at_bridge)


class Action(Table):
    """`[action]`: how high the strings lie, measured as a player does: from the fret's top to the string's bottom."""

    at_nut: Annotated[float, Length(0, 3)] = Field(
        description="Height of the strings over the frets' tops at the nut; over the wood of a fretless fretboard."
    )
    at_12: Annotated[float, Length(0.3, 8)] = Field(description="Height of the strings over fret 12.")
    bridge_height: Annotated[float, Length(0, 80)] | None = Field(
        None, description="Height of the strings over the body at the bridge."
    )
    fretboard_above_body: Annotated[float, Length(-20, 60)] | None = Field(
        None,
        description="Height of the frets' tops, or of a fretless fretboard, over the body at the joint; if left out, "
        "from body.top.",
    )
    wanted_relief: Annotated[float, Length(0, 1.5)] = Field(description="Relief that the strung neck should have.")


class Nut(Table):
    """`[nut]`: the block the strings leave from. Its face toward the body is x = 0."""

    thickness: Annotated[float, Length(1.5, 15)] = Field(description="Thickness of the nut along the neck.")
    height: Annotated[float, Length(2, 25)] = Field(description="Height of the nut over all.")
    seat: Literal["ledge", "groove"] = Field(
        description="The nut stands on the glue plane against the fretboard's end, or in a groove cut across the wood."
    )
    seat_depth: Annotated[float, Length(0.2, 10)] = Field(description="Depth of the groove; only for seat = groove.")
