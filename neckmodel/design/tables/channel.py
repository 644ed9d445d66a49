"""`[channel]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.kinds import Length, Number, Table


class Channel(Table):
    """`[channel]`: how much larger than the rod it is cut."""

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
