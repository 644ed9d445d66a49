"""`[body]`, and outlines read from a drawing."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Table, Text, items


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


class Soundhole(Table):
    """The hole in the body's top: an ellipse about the centre line."""

    from_: Annotated[float, Length(0, 1500)] = Field(alias="from", description="x of the soundhole's edge at the neck.")
    to: Annotated[float, Length(0, 1500)] = Field(description="x of the soundhole's far edge.")
    width: Annotated[float, Length(20, 400)] = Field(description="Width of the soundhole across.")

    def along(self, y: float) -> Soundhole:
        """The soundhole as a key finds it on a line at y, mm: between the edges of the ellipse there."""
        if y == 0.0:
            return self
        cut = (self.to - self.from_) / 2 * (1 - math.sqrt(max(1 - (2 * y / self.width) ** 2, 0.0)))
        return self.model_copy(update={"from_": self.from_ + cut, "to": self.to - cut})


class Brace(Table):
    """A brace that crosses the centre line under the body's top, between the neck's block and the soundhole."""

    from_: Annotated[float, Length(0, 1500)] = Field(alias="from", description="x where the brace starts.")
    to: Annotated[float, Length(0, 1500)] = Field(description="x where the brace ends.")
    depth: Annotated[float, Length(1, 100)] = Field(
        description="How far the brace reaches below the top's under side, on the centre line."
    )


class Body(Table):
    """`[body]`: what of the body limits the neck, and what a key from the soundhole passes."""

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
    soundhole: Annotated[Soundhole | None, ADDED] = Field(
        None,
        description="The soundhole {from, to, width}, an ellipse about the centre line; wood and rod end before it.",
    )
    top_thickness: Annotated[float, Length(0.5, 15), ADDED] = Field(
        description="Thickness of the body's top, and of its back."
    )
    head_block_ends_at: Annotated[Annotated[float, Length(50, 1500)] | None, ADDED] = Field(
        None, description="x of the inner face of the body's block that holds the neck."
    )
    braces: Annotated[tuple[Brace, ...], items(8), ADDED] = Field(
        description="What crosses the centre line under the top between that block and the soundhole: a list of "
        "{from, to, depth}."
    )
