"""`[board]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.tables.workshop import TRUED_OFF, TRUED_OFF_EDGE
from neckmodel.design.values.kinds import Length, Number, Table


class Allowance(Table):
    """Wood left on the blank, to be taken off after the channel is cut."""

    sides: Annotated[float, Length(0.2, 50)] = Field(description="Allowance of the blank at each side.")
    ends: Annotated[float, Length(0, 200)] = Field(description="Allowance of the blank at each end.")
    back: Annotated[float, Length(0.2, 20)] = Field(description="Allowance under the back that is carved.")


class Board(Table):
    """`[board]`: the stock, in the sizes that it has now."""

    length: Annotated[float, Length(100, 4000)] = Field(description="Length of the board.")
    width: Annotated[float, Length(15, 600)] = Field(description="Width of the board.")
    thickness: Annotated[float, Length(8, 200)] = Field(description="Thickness of the board.")
    surface: Literal["trued", "rough"] = Field(
        description="Whether its faces and edges are planed true, or it is rough as sawn: truing then still takes 2 mm "
        "of the thickness and 1.5 mm at each edge."
    )
    allowance: Allowance = Field(description="Wood left on the blank {sides, ends, back}.")
    grain_slope: Annotated[float, Number(0, 1)] | None = Field(
        None, description="Slope of the grain, rise over run: 0.05 is 1 in 20."
    )
    rings: Literal["quarter", "flat"] = Field(description="The annual rings stand upright, or lie flat.")

    @property
    def trued(self) -> tuple[float, float, float]:
        """Length, width and thickness, mm, once its faces and edges are true."""
        off = 0.0 if self.surface == "trued" else 1.0
        return self.length, self.width - 2 * TRUED_OFF_EDGE * off, self.thickness - TRUED_OFF * off
