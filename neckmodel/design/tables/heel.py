"""`[heel]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.kinds import Length, Table, items


class Tenon(Table):
    """A glued tenon, counted from the joint toward the body."""

    length: Annotated[float, Length(3, 150)] = Field(description="Length from the joint.")
    width: Annotated[float, Length(5, 95)] = Field(description="Width, cheek to cheek.")
    depth: Annotated[float, Length(3, 150)] = Field(description="Depth below the glue plane.")


ScrewKind = Literal["wood-screw", "insert", "dowel"]


class Screw(Table):
    """A heel screw, insert or dowel, square to the glue plane."""

    from_end: Annotated[float, Length(1, 400)] = Field(description="Distance from the wood's end toward the head.")
    y: Annotated[float, Length(-60, 60)] = Field(description="Distance from the centre line, treble side positive.")
    diameter: Annotated[float, Length(1, 20)] = Field(description="Diameter of the shank, insert or dowel.")
    length: Annotated[float, Length(3, 200)] = Field(description="Length under the screw's head.")
    kind: ScrewKind = Field(description="What it is.")


class HeelWing(Table):
    """A piece of the body glued to the side of a neck that runs through."""

    side: Literal["bass", "treble"] = Field(description="Side of the neck.")
    width: Annotated[float, Length(5, 350)] = Field(description="Width of the piece.")
    length: Annotated[float, Length(20, 900)] = Field(description="Length of the piece along the neck.")
    from_joint: Annotated[float, Length(-400, 400)] = Field(
        description="Where it begins, from the joint toward the body; negative on the head side."
    )


HeelKind = Literal["bolted", "tenon", "through"]


class Heel(Table):
    """`[heel]`: where the neck meets the body."""

    kind: HeelKind = Field(
        description="Bolted into a pocket, glued with a tenon, or running on as the body's centre block."
    )
    wood_ends_at: Annotated[float, Length(100, 1500)] | None = Field(
        None, description="x where the neck's wood ends, tenon included; by default under the fretboard's end."
    )
    width: Annotated[float | None, Length(10, 200, word="follow-fretboard")] = Field(
        description='Width of the heel: a length, or "follow-fretboard".'
    )
    depth: Annotated[float, Length(5, 150)] = Field(description="Depth of the heel below the glue plane.")
    corner_radius: Annotated[float, Length(0, 60)] = Field(description="Radius of the rear corners, seen from above.")
    swell_from: Annotated[float, Length(5, 150)] = Field(
        description="How far on the head side of the joint the carve starts to swell into the heel."
    )
    tenon: Tenon | None = Field(None, description="The tenon {length, width, depth}; only for kind = tenon.")
    screws: Annotated[tuple[Screw, ...], items(16)] = Field(
        description="Heel screws, inserts or dowels: a list of {from_end, y, diameter, length, kind}."
    )
    wings: Annotated[tuple[HeelWing, ...], items(8)] = Field(
        description="The body glued to the sides of a neck that runs through, from its sides outward: a list of "
        "{side, width, length, from_joint}; where the body's outline is drawn, it is what lies within that."
    )
    plate: Annotated[float, Length(0, 15)] = Field(description="Thickness of the plate under the screws' heads.")
    neck_pocket_depth: Annotated[float, Length(0, 120)] = Field(description="Depth of the body's neck pocket.")
