"""`[neck]`, `[heel]` and `[body]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.defaults.defaults import FULLNESS, LEAN
from neckmodel.design.values.kinds import Count, Length, Number, Table, Text, items, spreading

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
        table = {"family": value} if isinstance(value, str) else value
        if not isinstance(table, dict):
            return value
        family = table.get("family")
        usual = FULLNESS.get(family) if isinstance(family, str) else None
        return {"fullness": 2.0 if usual is None else usual, "lean": LEAN, **table}


class BackPair(Table):
    """The back at fret 1 and at fret 12; between them fullness and lean change evenly."""

    fret_1: Annotated[Back, spreading(Back, _FAMILIES)] = Field(description="The back at fret 1 and toward the head.")
    fret_12: Annotated[Back, spreading(Back, _FAMILIES)] = Field(description="The back at fret 12 and toward the body.")

    @classmethod
    def spread(cls, value: object) -> object:
        if isinstance(value, BackPair) or (isinstance(value, dict) and value.keys() & {"fret_1", "fret_12"}):
            return value
        return {"fret_1": value, "fret_12": value}


class Neck(Table):
    """`[neck]`: the shaft between head and heel."""

    wood: Annotated[str, Text(60)] = Field(description="Wood of the neck, by its trade name.")
    joint_fret: Annotated[int, Count(8, 30)] = Field(description="Fret at which neck and body meet.")
    thickness: Thickness = Field(description="Thickness {fret_1, fret_12}: fretboard included, frets not.")
    back: Annotated[BackPair, spreading(BackPair, _FAMILIES, {"x-table": "Back"})] = Field(
        description='Shape of the back: a family ("C"), {family, fullness, lean}, or {fret_1, fret_12} of those.'
    )


class Tenon(Table):
    """A glued tenon, counted from the joint toward the body."""

    length: Annotated[float, Length(3, 150)] = Field(description="Length from the joint.")
    width: Annotated[float, Length(5, 95)] = Field(description="Width, cheek to cheek.")
    depth: Annotated[float, Length(3, 150)] = Field(description="Depth below the glue plane.")


class Screw(Table):
    """A heel screw, insert or dowel, square to the glue plane."""

    from_end: Annotated[float, Length(1, 400)] = Field(description="Distance from the wood's end toward the head.")
    y: Annotated[float, Length(-60, 60)] = Field(description="Distance from the centre line, treble side positive.")
    diameter: Annotated[float, Length(1, 20)] = Field(description="Diameter of the shank, insert or dowel.")
    length: Annotated[float, Length(3, 200)] = Field(description="Length under the screw's head.")
    kind: Literal["wood-screw", "insert", "dowel"] = Field(description="What it is.")


class HeelWing(Table):
    """A piece of the body glued to the side of a neck that runs through."""

    side: Literal["bass", "treble"] = Field(description="Side of the neck.")
    width: Annotated[float, Length(5, 350)] = Field(description="Width of the piece.")
    length: Annotated[float, Length(20, 900)] = Field(description="Length of the piece along the neck.")
    from_joint: Annotated[float, Length(-400, 400)] = Field(
        description="Where it begins, from the joint toward the body; negative on the head side."
    )


class Heel(Table):
    """`[heel]`: where the neck meets the body."""

    kind: Literal["bolted", "tenon", "through"] = Field(
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


class OutlineFile(Table):
    """A closed contour in a DXF or SVG file."""

    file: Annotated[str, Text(255)] = Field(
        description="Path of the drawing, DXF or SVG, as seen from the design file; its own unit counts."
    )
    layer: Annotated[str, Text(255)] | None = Field(
        None, description="Layer (in an SVG the id or label of a group) whose first closed contour counts."
    )


class Cutout(Table):
    """A hole in the body that wood and rod may not reach: from x to x."""

    from_: Annotated[float, Length(0, 1500)] = Field(alias="from", description="x where the cut-out starts.")
    to: Annotated[float, Length(0, 1500)] = Field(description="x where the cut-out ends.")


class Body(Table):
    """`[body]`: what of the body limits the neck."""

    outline: OutlineFile | None = Field(
        None,
        description="The body template {file, layer}: a closed DXF or SVG path, placed by the straight lines on its "
        'layers "centre line" and "joint line"; closed lines on "cut-outs" are holes that wood and rod may not reach.',
    )
    cutouts: Annotated[tuple[Cutout, ...], items(16)] = Field(
        description="Cut-outs of the body in the neck's way: a list of {from, to}, in x."
    )
    thickness: Annotated[float, Length(10, 200)] = Field(description="Thickness of the body at the neck.")
    under_pocket: Annotated[float, Length(0, 200)] = Field(description="Wood of the body under the neck pocket.")
    top: Annotated[float, Length(-150, 60)] = Field(description="z of the body's top at the joint.")
