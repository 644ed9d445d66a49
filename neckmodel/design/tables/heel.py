"""`[heel]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Number, Table, Text, items


class Tenon(Table):
    """A glued tenon, counted from the joint toward the body."""

    length: Annotated[float, Length(3, 150)] = Field(description="Length from the joint.")
    width: Annotated[float, Length(5, 95)] = Field(description="Width, cheek to cheek.")
    depth: Annotated[float, Length(3, 150)] = Field(description="Depth below the glue plane.")
    flare: Annotated[Annotated[float, Number(3, 25, "degrees")] | None, ADDED] = Field(
        None,
        description="Of a dovetail: the angle of each cheek in plan, by which it widens toward the body, degrees; "
        "by default 12. `width` is then that of its end face, at the glue plane.",
    )
    taper: Annotated[Annotated[float, Number(0, 12, "degrees")] | None, ADDED] = Field(
        None, description="Of a dovetail: the lean of each cheek inward on its way down, degrees; by default 3."
    )


ScrewKind = Literal["wood-screw", "insert", "dowel"]


class Screw(Table):
    """A heel screw, insert or dowel, square to the glue plane."""

    from_end: Annotated[float, Length(1, 400)] = Field(description="Distance from the wood's end toward the nut.")
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
        description="Where it begins, from the joint toward the body; negative toward the nut."
    )


class HeelWidth(Table):
    """Widths of a heel that narrows on its way down, for a glued tenon or dovetail."""

    joint: Annotated[float | None, Length(10, 200, word="follow-fretboard")] = Field(
        description='Width of the heel at the glue plane: a length, or "follow-fretboard".'
    )
    cap: Annotated[float, Length(10, 200)] = Field(description="Width of the heel at its bottom.")

    @classmethod
    def spread(cls, value: object) -> object:
        """One width stands for both."""
        return value if isinstance(value, dict | HeelWidth) else {"joint": value, "cap": value}


class HeelCap(Table):
    """A plate of wood glued under the heel last of all."""

    thickness: Annotated[float, Length(0.5, 15)] = Field(description="Thickness of the cap, below the heel's depth.")
    wood: Annotated[str, Text(60)] = Field(description="Wood of the cap, by its trade name.")


def _kind_of_width(value: object) -> str:
    return TWO_WIDTHS if isinstance(value, dict | HeelWidth) else ONE_WIDTH


ONE_WIDTH, TWO_WIDTHS = "(width)", "(widths)"


HeelKind = Literal["bolted", "tenon", "dovetail", "through"]


class Heel(Table):
    """`[heel]`: where the neck meets the body."""

    kind: HeelKind = Field(
        description="Bolted into a pocket, glued with a tenon or a dovetail, or running on as the body's centre block."
    )
    wood_ends_at: Annotated[float, Length(100, 1500)] | None = Field(
        None, description="x where the neck's wood ends, tenon included; by default under the fretboard's end."
    )
    width: Annotated[
        Annotated[float | None, Length(10, 200, word="follow-fretboard"), Tag(ONE_WIDTH)]
        | Annotated[HeelWidth, Tag(TWO_WIDTHS)],
        Discriminator(_kind_of_width),
    ] = Field(
        description='Width of the heel: a length, or "follow-fretboard", or {joint, cap} where it narrows on its way '
        "down."
    )
    cap: Annotated[HeelCap | None, ADDED] = Field(
        None, description="A cap {thickness, wood} glued under the heel, below its depth; for a tenon or a dovetail."
    )
    depth: Annotated[float, Length(5, 150)] = Field(description="Depth of the heel below the glue plane.")
    corner_radius: Annotated[float, Length(0, 60)] = Field(description="Radius of the rear corners, seen from above.")
    swell_from: Annotated[float, Length(5, 150)] = Field(
        description="How far on the nut's side of the joint the carve starts to swell into the heel."
    )
    tenon: Tenon | None = Field(
        None, description="The tenon {length, width, depth}, or the dovetail {length, width, depth, flare, taper}."
    )
    screws: Annotated[tuple[Screw, ...], items(16)] = Field(
        description="Heel screws, inserts or dowels: a list of {from_end, y, diameter, length, kind}."
    )
    wings: Annotated[tuple[HeelWing, ...], items(8)] = Field(
        description="The body glued to the sides of a neck that runs through, from its sides outward: a list of "
        "{side, width, length, from_joint}; where the body's outline is drawn, it is what lies within that."
    )
    plate: Annotated[float, Length(0, 15)] = Field(description="Thickness of the plate under the screws' heads.")
    neck_pocket_depth: Annotated[float, Length(0, 120)] = Field(description="Depth of the body's neck pocket.")
