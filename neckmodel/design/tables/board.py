"""`[board]`."""

from __future__ import annotations

import itertools
from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Number, Table, Text, items
from neckmodel.limits import TRUED_OFF, TRUED_OFF_EDGE


class Allowance(Table):
    """Wood left on the blank, to be taken off after the channel is cut."""

    sides: Annotated[float, Length(0.2, 50)] = Field(description="Allowance of the blank at each side.")
    ends: Annotated[float, Length(0, 200)] = Field(description="Allowance of the blank at each end.")
    back: Annotated[float, Length(0.2, 20)] = Field(description="Allowance under the back that is carved.")


LEAST_STRIP = 0.5  # mm; a thinner veneer cannot be planed or glued true. Common practice, no source


class Strip(Table):
    """One strip of a board that is glued up; a veneer is one too."""

    width: Annotated[float, Length(LEAST_STRIP, 300)] = Field(description="Width of the strip once it is planed.")
    wood: Annotated[str, Text(60)] = Field(description="Wood of the strip, by its trade name.")


class Board(Table):
    """`[board]`: the stock, in the sizes that it has now."""

    model_config = ConfigDict(json_schema_extra={"anyOf": [{"required": ["width"]}, {"required": ["strips"]}]})

    length: Annotated[float, Length(100, 4000)] = Field(description="Length of the board.")
    width: Annotated[float, Length(15, 600)] = Field(
        description="Width of the board; of strips that are glued up, what they come to."
    )
    thickness: Annotated[float, Length(8, 200)] = Field(description="Thickness of the board.")
    strips: Annotated[tuple[Strip, ...], items(40, 2), ADDED] = Field(
        (),
        description="Strips {width, wood} that the board is glued up from, from the bass side; their seams stand "
        "upright and run along it, the board's middle on the neck's centre line. Left out, it is of one wood.",
    )
    surface: Literal["trued", "rough"] = Field(
        description="Whether its faces and edges are planed true, or it is rough as sawn: truing then still takes "
        f"{TRUED_OFF:g} mm of the thickness and {TRUED_OFF_EDGE} mm at each edge."
    )
    allowance: Allowance = Field(description="Wood left on the blank {sides, ends, back}.")
    grain_slope: Annotated[float, Number(0, 1)] | None = Field(
        None, description="Slope of the grain, rise over run: 0.05 is 1 in 20."
    )
    rings: Literal["quarter", "flat"] = Field(description="The annual rings stand upright, or lie flat.")

    @property
    def seams(self) -> tuple[float, ...]:
        """y of every seam between two strips, from the bass side, mm: the middle of all strips lies on y = 0."""
        edges = tuple(itertools.accumulate((s.width for s in self.strips), initial=-self.laid / 2))
        return edges[1:-1]

    @property
    def laid(self) -> float:
        """What the strips come to side by side, mm; 0 for a board in one piece."""
        return sum(strip.width for strip in self.strips)

    @property
    def trued(self) -> tuple[float, float, float]:
        """Length, width and thickness, mm, once its faces and edges are true."""
        off = 0.0 if self.surface == "trued" else 1.0
        return self.length, self.width - 2 * TRUED_OFF_EDGE * off, self.thickness - TRUED_OFF * off
