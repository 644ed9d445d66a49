"""`[adjusting_key]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Table


class Handle(Table):
    """The handle at the outer end of an adjusting key."""

    diameter: Annotated[float, Length(2, 80)] = Field(description="Diameter of the handle.")
    length: Annotated[float, Length(2, 300)] = Field(description="Length of the handle.")


KeyKind = Literal["L-key", "straight", "ball-end", "bar"]


class AdjustingKey(Table):
    """`[adjusting_key]`: what turns the adjuster."""

    kind: KeyKind = Field(description="Kind of adjusting key.")
    size: Annotated[float, Length(1, 16)] = Field(description="Across flats, or the diameter of a bar.")
    handle: Handle | None = Field(None, description="The handle {diameter, length}; none is a plain rod.")
    length: Annotated[float, Length(20, 600)] | None = Field(
        None, description="Length over all of a straight key, a ball-end key or a bar, without its handle."
    )
    short_arm: Annotated[float, Length(5, 200)] | None = Field(
        None, description="Short arm of an L-key, measured to the outside of the bend."
    )
    long_arm: Annotated[float, Length(10, 500)] | None = Field(
        None, description="Long arm of an L-key, measured to the outside of the bend."
    )
    arm_in_socket: Literal["long", "short"] = Field(description="Arm of an L-key that goes into the socket.")
    bend_radius: Annotated[float, Length(0, 30)] = Field(description="Inner radius of an L-key's bend.")
    engaged_depth: Annotated[float, Length(0.5, 30)] = Field(description="How deep the key sits in the socket.")
    enters: Annotated[Literal["face", "soundhole"], ADDED] = Field(
        description="Where the key comes in: at the face of the wood, or of a rod turned from inside the body through "
        "its soundhole."
    )
    grip: Annotated[float, Length(5, 150), ADDED] = Field(
        description="How far a straight or ball-end key stands out past the soundhole's edge, or past the end of "
        "a neck without a head, to be held; its handle counts."
    )
