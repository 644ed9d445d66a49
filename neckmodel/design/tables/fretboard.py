"""`[fretboard]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import NO_LENGTH, Count, Length, Table, Text, nearest, spreading, wrong

LEAST_WIDTH, MOST_WIDTH = 25, 95  # mm, of a fretboard


class Margin(Table):
    """Edge margins: from an outer string's centre to the fretboard's edge, measured across the neck."""

    nut: Annotated[float, Length(0.5, 15)] = Field(description="Edge margin at the nut.")
    last_fret: Annotated[float, Length(0.5, 15)] = Field(description="Edge margin at the last fret.")

    @classmethod
    def spread(cls, value: object) -> object:
        """One margin stands for the margins at both ends."""
        return value if isinstance(value, dict | Margin) else {"nut": value, "last_fret": value}


class Width(Table):
    """Widths of the fretboard, edge to edge."""

    nut: Annotated[float, Length(LEAST_WIDTH, MOST_WIDTH)] = Field(description="Width of the fretboard at the nut.")
    end: Annotated[float, Length(LEAST_WIDTH, MOST_WIDTH)] = Field(description="Width of the fretboard at its end.")


class Radius(Table):
    """Radius of the fretboard's crown; equal ends make a cylinder, unequal ones a cone."""

    nut: Annotated[float, Length(80, 3000)] = Field(description="Crown radius at the nut.")
    end: Annotated[float, Length(80, 3000)] = Field(description="Crown radius at the fretboard's end.")

    @classmethod
    def spread(cls, value: object) -> object:
        """One radius, or "flat", stands for both ends."""
        if value is None or value == "flat":
            return None
        if isinstance(value, str) and nearest(value, ["flat"]):
            raise wrong(NO_LENGTH, attempt='did you mean "flat"?')
        return value if isinstance(value, dict | Radius) else {"nut": value, "end": value}


class FretSlot(Table):
    """The fret slots."""

    width: Annotated[float, Length(0.2, 2)] = Field(description="Width of a fret slot.")
    depth: Annotated[float, Length(0.3, 10)] = Field(description="Depth of a fret slot at the centre of the fretboard.")
    floor: Literal["curved", "flat"] = Field(
        description="The floor follows the crown, or is flat and shallower toward the edges."
    )
    filler: Annotated[Annotated[str, Text(60)] | None, ADDED] = Field(
        None, description="Wood that fills the slots of a lined fretless fretboard, flush with its crown."
    )


class Fretboard(Table):
    """`[fretboard]`: the separate piece glued on z = 0, or the same wood as the neck."""

    frets: Annotated[int, Count(5, 36)] = Field(description="Number of frets.")
    fretless: Annotated[Literal["plain", "lined"] | None, ADDED] = Field(
        None,
        description="Without frets: a plain fretboard with side marks only, or one whose fret slots are filled as "
        "lines. `frets` then counts the positions. Left out, it has frets.",
    )
    zero_fret: bool = Field(description="A fret stands at x = 0 and the nut behind it only guides the strings.")
    past_last_fret: Annotated[float, Length(0, 200)] | None = Field(
        None,
        description="How far the fretboard reaches past its last fret, whose line its end follows; instead of ends_at.",
    )
    ends_at: Annotated[float, Length(100, 900)] | None = Field(
        None, description="x of the fretboard's end, square to the centre line; instead of past_last_fret."
    )
    thickness: Annotated[float, Length(2, 15)] = Field(
        description="Thickness of the fretboard at the centre line, from the glue plane to the crown, without frets."
    )
    edge_margin: Annotated[Margin, spreading(Margin, Length(0.5, 15))] = Field(
        description="From the outer strings' centres to the edge: one length, or {nut, last_fret}; instead of width."
    )
    width: Width | None = Field(None, description="Width of the fretboard {nut, end}; instead of edge_margin.")
    step_at_fret: Annotated[Annotated[int, Count(1, 36)] | None, ADDED] = Field(
        None,
        description="Fret up to which the bass side is narrower, beside a string that starts later; by default where "
        "that string starts.",
    )
    step_length: Annotated[float, Length(3, 60), ADDED] = Field(
        description="Length along the neck over which the bass side widens, before that fret."
    )
    radius: Annotated[Radius | None, spreading(Radius, Length(80, 3000), {"const": "flat"})] = Field(
        description='Crown radius: one length, {nut, end}, or "flat".'
    )
    fret_slot: FretSlot = Field(description="The fret slots {width, depth, floor}.")
    fret_height: Annotated[float, Length(0.2, 4)] = Field(description="Height of the frets over the fretboard.")
    in_one: Annotated[bool, ADDED] = Field(
        description="Neck and fretboard are one piece of wood, without a seam at z = 0."
    )
    wood: Annotated[str, Text(60)] = Field(description="Wood of the fretboard, by its trade name.")
    rings: Literal["quarter", "flat"] = Field(
        description="The annual rings stand upright, or lie flat: how far the fretboard moves across with the seasons."
    )

    @property
    def fret_stands(self) -> float:
        """How high what the strings are stopped on stands over the wood, mm: a fret, or nothing."""
        return 0.0 if self.fretless is not None else self.fret_height

    @property
    def slotted(self) -> bool:
        """Whether fret slots are sawn into it."""
        return self.fretless != "plain"
