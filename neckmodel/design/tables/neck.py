"""`[neck]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.defaults.defaults import FULLNESS, LEAN
from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Count, Length, Number, Table, Text, spreading

_FAMILIES = {"enum": list(FULLNESS)}


class Thickness(Table):
    """Thickness of the neck at the centre line, fretboard included, frets not."""

    fret_1: Annotated[float, Length(12, 35)] = Field(description="Thickness at fret 1.")
    fret_12: Annotated[float, Length(12, 35)] = Field(description="Thickness at fret 12.")


class Back(Table):
    """A cross-section of the back: half a superellipse |y/a|**p + |z/b|**p = 1."""

    family: Literal["V", "soft-V", "C", "D", "U"] = Field(description="Family of the shape, from sharp to square.")
    fullness: Annotated[float, Number(1.3, 4.0)] = Field(
        description="Exponent p of the superellipse: 2 is an ellipse, more is fuller. By the family unless stated."
    )
    lean: Annotated[float, Length(-10, 10)] = Field(
        description="How far the deepest line lies toward the bass side of the centre line."
    )

    @classmethod
    def spread(cls, value: object) -> object:
        """A family's name stands for a back of that family."""
        table = {"family": value} if isinstance(value, str) else value
        if not isinstance(table, dict):
            return value
        family = table.get("family")
        usual = FULLNESS.get(family) if isinstance(family, str) else None
        return {"fullness": 2.0 if usual is None else usual, "lean": LEAN, **table}


class BackPair(Table):
    """The back at fret 1 and at fret 12; between them fullness and lean change evenly."""

    fret_1: Annotated[Back, spreading(Back, _FAMILIES)] = Field(description="The back at fret 1 and toward the nut.")
    fret_12: Annotated[Back, spreading(Back, _FAMILIES)] = Field(description="The back at fret 12 and toward the body.")

    @classmethod
    def spread(cls, value: object) -> object:
        """One back stands for the backs at fret 1 and fret 12."""
        if isinstance(value, BackPair) or (isinstance(value, dict) and value.keys() & {"fret_1", "fret_12"}):
            return value
        return {"fret_1": value, "fret_12": value}


class Neck(Table):
    """`[neck]`: the shaft between head and heel."""

    reinforcement: Annotated[Literal["none"] | None, ADDED] = Field(
        None, description="Said of a neck that has neither a rod nor bars, as many with nylon strings; else left out."
    )
    wood: Annotated[str, Text(60)] = Field(
        description="Wood of the neck, by its trade name. With board.strips only of heel blocks and wings, and by "
        "default that of the widest strip."
    )
    joint_fret: Annotated[int, Count(8, 30)] = Field(description="Fret at which neck and body meet.")
    thickness: Thickness = Field(description="Thickness {fret_1, fret_12}: fretboard included, frets not.")
    back: Annotated[BackPair, spreading(BackPair, _FAMILIES, {"x-table": "Back"})] = Field(
        description='Shape of the back: a family ("C"), {family, fullness, lean}, or {fret_1, fret_12} of those.'
    )
