"""`[rod]`, `[rod_place]` and `[bars]`."""

from __future__ import annotations

from typing import Annotated, Literal, NamedTuple

from pydantic import Field

from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Count, Length, Table, Text, items


class Socket(Table):
    """Where the adjusting key goes in."""

    kind: Literal["hex", "spokes"] = Field(description="A hexagon socket, or a wheel with holes for a bar.")
    size: Annotated[float, Length(1, 16)] = Field(description="Across flats of the hexagon, or diameter of the holes.")
    depth: Annotated[float, Length(1, 30)] = Field(description="Depth of the socket.")
    holes: Annotated[int, Count(2, 16)] | None = Field(None, description="Number of holes round a spoke wheel.")


class Adjuster(Table):
    """The rod's nut, measured with it backed right off."""

    diameter: Annotated[float, Length(2, 30)] = Field(description="Diameter of the adjuster.")
    length: Annotated[float, Length(2, 60)] = Field(
        description="From its outer face to the block, backed right off: travel included."
    )
    travel: Annotated[float, Length(0, 30)] = Field(description="How far the adjuster runs in.")
    axis_below_top: Annotated[float, Length(0.5, 25)] = Field(
        description="From the rod's top to the adjuster's axis; not of a compression rod, whose axis is axis_depth."
    )
    wheel: Annotated[float, Length(2, 30)] | None = Field(None, description="Width of a spoke wheel, inside length.")
    socket: Socket = Field(description="The socket {kind, size, depth}; spokes also need holes.")


class Block(Table):
    """A block at one end of the rod."""

    length: Annotated[float, Length(0, 80)] = Field(description="Length along the rod; 0 is no block.")
    width: Annotated[float, Length(1, 40)] = Field(description="Width; the rod's unless stated.")
    height: Annotated[float, Length(1, 40)] = Field(description="Height; the rod's unless stated.")


class Segment(Table):
    """A length of an odd rod, from the adjuster inward."""

    length: Annotated[float, Length(0.5, 900)] = Field(description="Length of the segment.")
    width: Annotated[float, Length(1, 40)] = Field(description="Width of the segment.")
    height: Annotated[float, Length(1, 40)] = Field(description="Height of the segment.")
    top: Annotated[float, Length(0, 20)] = Field(description="How far its top lies below the rod's top.")


class AxisDepth(Table):
    """Depth of a compression rod's axis below the glue plane."""

    adjuster: Annotated[float, Length(1, 30)] = Field(description="At the adjuster.")
    middle: Annotated[float, Length(1, 30)] = Field(description="At the middle.")
    anchor: Annotated[float, Length(1, 30)] = Field(description="At the anchor.")


class Washer(Table):
    """The washer under a compression rod's adjuster."""

    diameter: Annotated[float, Length(3, 40)] = Field(description="Diameter of the washer.")
    thickness: Annotated[float, Length(0.3, 8)] = Field(description="Thickness of the washer.")


class CoverStrip(Table):
    """The strip glued over a compression rod."""

    thickness: Annotated[float, Length(1, 20)] = Field(description="Thickness of the strip.")
    wood: Annotated[str, Text(60)] = Field(description="Wood of the strip.")


class Bent(NamedTuple):
    """A round bar along a curved axis, mm."""

    axis_depth: AxisDepth
    diameter: float


RodKind = Literal["two-way", "one-way", "compression"]
AdjusterEnd = Literal["head", "heel"]
RodWay = Literal["up", "down"]


class Rod(Table):
    """`[rod]`: the truss rod as measured with callipers, the adjuster backed right off."""

    kind: RodKind = Field(description="Kind of truss rod.")
    bar: Annotated[RodWay | None, ADDED] = Field(
        None,
        description="Which way a two-way rod of a flat bar and a thread lies: its flat bar up, toward the fretboard, "
        "or down. axis_below_top is measured as it lies.",
    )
    count: Annotated[int, Count(1, 2), ADDED] = Field(
        description="One rod on the centre line, or two alike, one either side of it."
    )
    offset: Annotated[float | None, Length(2, 40), ADDED] = Field(
        None, description="From the centre line to the axis of each of two rods."
    )
    adjuster_at: AdjusterEnd = Field(description="End at which the adjuster lies.")
    length: Annotated[float, Length(50, 900)] = Field(description="Length over all.")
    width: Annotated[float, Length(2, 20)] = Field(description="Width of the rod between its blocks.")
    height: Annotated[float, Length(2, 25)] = Field(description="Height of the rod between its blocks.")
    adjuster: Adjuster = Field(description="The adjuster {diameter, length, travel, axis_below_top, socket}.")
    block: Block = Field(description="The block at the adjuster {length, width, height}.")
    anchor: Block = Field(description="The block at the other end {length, width, height}.")
    diameter: Annotated[float, Length(2, 12)] | None = Field(None, description="Diameter of a compression rod.")
    axis_depth: AxisDepth | None = Field(None, description="Axis of a compression rod {adjuster, middle, anchor}.")
    washer: Washer | None = Field(None, description="Washer of a compression rod {diameter, thickness}.")
    cover_strip: CoverStrip | None = Field(None, description="Strip over a compression rod {thickness, wood}.")
    segments: Annotated[tuple[Segment, ...], items(12)] = Field(
        description="An odd rod, from the adjuster inward: {length, width, height, top}; replaces blocks and span."
    )

    @property
    def bent(self) -> Bent | None:
        """The bent round bar of a compression rod, whose two sizes a rule asks for; None of any other rod."""
        if self.kind != "compression" or self.axis_depth is None or self.diameter is None:
            return None
        return Bent(self.axis_depth, self.diameter)

    @property
    def lines(self) -> tuple[float, ...]:
        """y of each rod's axis, bass side first, mm: the centre line for one rod."""
        return (0.0,) if self.count == 1 or self.offset is None else (-self.offset, self.offset)

    @property
    def at_heel(self) -> bool:
        """Whether the adjuster lies at the heel."""
        return self.adjuster_at == "heel"


class RodPlace(Table):
    """`[rod_place]`: where the rod goes."""

    from_nut: Annotated[float | None, Length(0, 200, word="auto")] = Field(
        description='From the nut to the rod\'s nearer end, or "auto" for the middle of what is possible.'
    )
    past_joint: Annotated[float, Length(-50, 120)] = Field(description="How far the anchor reaches past the joint.")
    past_joint_of: Literal["outer", "inner"] = Field(
        description="Face of the anchor that past_joint counts to; inner is the stricter rule."
    )
    wood_beyond_rod: Annotated[float, Length(0, 100)] = Field(description="Wood left beyond the rod's end.")


class Bars(Table):
    """`[bars]`: glued reinforcement, beside the rod or instead of it."""

    count: Annotated[int, Count(1, 2)] = Field(
        description="One bar, or a pair that lies either side of the centre line."
    )
    width: Annotated[float, Length(1, 25)] = Field(description="Width of a bar.")
    height: Annotated[float, Length(1, 25)] = Field(description="Height of a bar.")
    length: Annotated[float, Length(20, 900)] = Field(description="Length of a bar.")
    from_nut: Annotated[float, Length(0, 200)] = Field(description="From the nut to the bars' nearer end.")
    offset: Annotated[float, Length(0, 40)] = Field(description="From the centre line to a bar's centre line.")
    material: Annotated[str, Text(60)] = Field(description="Material of the bars.")
