"""`[head] slots`, and the tuners that are bored into a slotted head from its sides."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.kinds import Count, Length, Number, Table


class Ramp(Table):
    """What is pared off the head's face before each slot, so that the strings come down into it."""

    length: Annotated[float, Length(2, 80)] = Field(
        description="How far before the slot's near end the ramp begins, along the face."
    )
    angle: Annotated[float, Number(3, 60, "degrees")] = Field(
        description="Angle by which the ramp falls from the face, degrees."
    )


class HeadSlots(Table):
    """Two slots through the head, mirrored about the centre line and square to the face."""

    from_: Annotated[float, Length(-400, -1)] = Field(
        alias="from", description="Near end of the slots: x along the head's face from the head line, negative."
    )
    to: Annotated[float, Length(-400, -1)] = Field(
        description="Far end of the slots: x along the head's face from the head line, negative."
    )
    width: Annotated[float, Length(5, 60)] = Field(description="Width of each slot.")
    edge: Annotated[float, Length(2, 80)] = Field(
        description="Wood outside each slot, from its outer wall to the head's side where that is narrowest over it."
    )
    ends: Literal["round", "squared"] = Field(
        description="Ends of the slots: round as a cutter of their own width leaves them, or squared."
    )
    ramp: Ramp | None = Field(None, description="A ramp before each slot {length, angle}.")


class SideTuner(Table):
    """A tuner of a slotted head, bored from the side; x runs along the head's face, toward the far end negative."""

    x: Annotated[float, Length(-400, -1)] = Field(description="Place along the head's face.")
    side: Literal["bass", "treble"] = Field(description="Side of the head from which it is bored.")
    below_face: Annotated[float, Length(2, 28)] = Field(
        description="Depth of the roller's axis below the head's face, square to it."
    )
    hole: Annotated[float, Length(2, 30)] = Field(description="Diameter of the hole, which the roller fills.")
    into_core: Annotated[float, Length(0.5, 40)] = Field(
        description="How deep the hole goes into the wood between the slots: the roller's bearing."
    )
    string: Annotated[int, Count(1, 24)] | None = Field(
        None,
        description="Number of its string, counted from the bass side. Left out: on each side the outermost string "
        "goes to the tuner nearest the nut, and so on inward.",
    )
