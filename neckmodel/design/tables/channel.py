"""`[channel]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Number, Table, Text


class BackStrip(Table):
    """`[channel] back_strip`: the strip glued in behind the rod of a channel cut from the back."""

    wood: Annotated[str, Text(60)] = Field(description="Wood of the strip, by its trade name.")
    width: Annotated[Annotated[float, Length(2, 40)] | None, ADDED] = Field(
        None, description="Width of the strip, where its groove is wider than the channel; left out, the channel's."
    )


class Channel(Table):
    """`[channel]`: how much larger than the rod it is cut."""

    cut_from: Annotated[Literal["front", "back"], ADDED] = Field(
        description="Routed from the front, under the fretboard, or from the back, behind a strip."
    )
    back_strip: Annotated[BackStrip | None, ADDED] = Field(
        None, description="Strip that closes a channel cut from the back {wood, width}."
    )
    wider_by: Annotated[float, Length(0, 2)] = Field(description="Run wider than the rod by this, in all.")
    deeper_by: Annotated[float, Length(0, 3)] = Field(description="Run deeper than the rod by this.")
    adjuster_clearance: Annotated[float, Length(0, 6)] = Field(description="Adjuster pocket over the diameter, in all.")
    end_clearance: Annotated[float, Length(0, 15)] = Field(description="Room beyond each end of the rod.")
    ends: Literal["round", "squared", "run-long"] = Field(
        description="Ends as the cutter leaves them, squared with a chisel, or run long so that square blocks go in."
    )
    key_swing: Annotated[float, Number(0, 180, "degrees")] = Field(
        description="Whole angle through which an adjusting key can turn before it is set anew, degrees."
    )
    key_clearance: Annotated[float, Length(0, 6)] = Field(description="Room round the adjusting key, each side.")

    @property
    def from_behind(self) -> bool:
        """Whether it is routed from the back."""
        return self.cut_from == "back"
