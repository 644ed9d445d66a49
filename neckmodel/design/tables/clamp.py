"""`[head]` of a neck without a head: the nut end, and the clamp that holds the strings there."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from neckmodel.design.values.kinds import Length, Table, items


class NutEnd(Table):
    """The wood behind the nut of a neck without a head, square all round, its top level with the glue plane."""

    length: Annotated[float, Length(8, 150)] = Field(
        description="Length from x = 0 to the neck's end, the nut's seat included."
    )
    thickness: Annotated[float, Length(6, 40)] = Field(description="Thickness below the glue plane.")
    width: Annotated[float, Length(20, 200)] = Field(description="Width of the nut end.")


class ClampScrew(Table):
    """One screw of the clamp, driven down from the glue plane."""

    x: Annotated[float, Length(-150, -0.5)] = Field(description="Place from the nut; toward the nut end negative.")
    y: Annotated[float, Length(-90, 90)] = Field(description="Distance from the centre line, treble side positive.")
    diameter: Annotated[float, Length(1.5, 12)] = Field(description="Diameter of its hole.")
    depth: Annotated[float, Length(2, 40)] = Field(description="Depth of its hole below the glue plane.")


class Clamp(Table):
    """What holds the strings behind the nut: its envelope stands on the glue plane, from the nut's far side on, its
    middle on the centre line."""

    length: Annotated[float, Length(3, 150)] = Field(description="Length along the neck.")
    width: Annotated[float, Length(3, 200)] = Field(description="Width across the neck.")
    height: Annotated[float, Length(1, 60)] = Field(description="Height over the glue plane.")
    screws: Annotated[tuple[ClampScrew, ...], items(12)] = Field(
        description="Its screws: a list of {x, y, diameter, depth}."
    )
