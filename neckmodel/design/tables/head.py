"""`[head]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag

from neckmodel.design.tables.body import OutlineFile
from neckmodel.design.tables.clamp import Clamp, NutEnd
from neckmodel.design.tables.slots import HeadSlots, SideTuner
from neckmodel.design.values.added import ADDED
from neckmodel.design.values.kinds import Length, Number, Table, items
from neckmodel.design.values.tuners import OF_A_SIDE_TUNER


class HeadOutline(Table):
    """A generated outline: straight sides from the head line to the far end."""

    near: Annotated[float, Length(20, 200)] = Field(description="Width of the head at the head line.")
    far: Annotated[float, Length(20, 250)] = Field(description="Width of the head at its far end.")


class Volute(Table):
    """A thickening of the back where head and neck meet."""

    length: Annotated[float, Length(5, 100)] = Field(description="Length along the neck.")
    height: Annotated[float, Length(0.5, 15)] = Field(description="Height over the back, at its middle.")


class Wing(Table):
    """A piece glued beside the head to make it wide enough."""

    side: Literal["bass", "treble"] = Field(description="Side of the head.")
    width: Annotated[float, Length(3, 100)] = Field(description="Width of the piece.")
    length: Annotated[float, Length(20, 400)] = Field(description="Length of the piece along the head.")


class Housing(Table):
    """The tuner's housing under the back of the head."""

    length: Annotated[float, Length(3, 60)] = Field(description="Length along the head.")
    width: Annotated[float, Length(3, 60)] = Field(description="Width across the head.")


class StringTree(Table):
    """What holds a string down between the nut and its tuner."""

    x: Annotated[float, Length(-390, -1)] = Field(
        description="Place along the head's face, from the head line toward the far end negative."
    )
    height: Annotated[float, Length(0.5, 25)] = Field(
        description="Height of the string's underside over the face there."
    )


class Tuner(Table):
    """One tuner; x runs along the head's face from the head line, toward the far end negative."""

    x: Annotated[float, Length(-400, -1)] = Field(description="Place along the head's face.")
    y: Annotated[float, Length(-120, 120)] = Field(description="Distance from the centre line, treble side positive.")
    hole: Annotated[float, Length(2, 30)] = Field(description="Diameter of the hole.")
    housing: Housing = Field(description="The housing under the back {length, width}.")
    string_height: Annotated[float, Length(1, 25)] = Field(
        description="Height over the head's face at which the string leaves the post."
    )
    tree: StringTree | None = Field(None, description="A string tree on the way of its string {x, height}.")


def _kind_of_outline(value: object) -> str:
    return FILE if isinstance(value, OutlineFile) or (isinstance(value, dict) and "file" in value) else WIDTHS


def _kind_of_tuner(value: object) -> str:
    beside = isinstance(value, dict) and any(key in value for key in OF_A_SIDE_TUNER)
    return SIDE if beside or isinstance(value, SideTuner) else POST


WIDTHS, FILE = "(widths)", "(file)"
POST, SIDE = "(post)", "(side)"

AnyTuner = Annotated[Annotated[Tuner, Tag(POST)] | Annotated[SideTuner, Tag(SIDE)], Discriminator(_kind_of_tuner)]

HeadKind = Literal["stepped", "angled", "scarfed", "none"]


class Head(Table):
    """`[head]`: the far end, behind the nut."""

    kind: HeadKind = Field(
        description="Flat and stepped down, angled back in one piece, angled with a glued scarf, or none: a neck "
        "without a head, its strings held by a clamp."
    )
    starts_at: Annotated[float, Length(-100, -0.5)] = Field(description="x of the head line, where the head begins.")
    angle: Annotated[float, Number(3, 17, "degrees")] = Field(
        description="Angle of the head, degrees; for angled and scarfed heads."
    )
    drop: Annotated[float, Length(1, 25)] = Field(description="Step below the glue plane; for stepped heads.")
    thickness: Annotated[float, Length(6, 30)] = Field(description="Thickness of the head, square to its face.")
    length: Annotated[float, Length(40, 400)] = Field(description="Length of the head along its face.")
    outline: Annotated[
        Annotated[HeadOutline, Tag(WIDTHS)] | Annotated[OutlineFile, Tag(FILE)], Discriminator(_kind_of_outline)
    ] = Field(
        description="Outline: widths {near, far}, or a drawing {file, layer} with x along the face from the head line, "
        "the far end negative, and y to the treble side; it is followed from the end of the swell on."
    )
    scarf: Literal["under", "on-ramp"] = Field(
        description="The head piece lies under the shaft, or on its ramp; for scarfed heads."
    )
    swell_length: Annotated[float, Length(5, 120)] = Field(
        description="Length behind x = 0 over which the neck flows into the head, or into the nut end."
    )
    volute: Volute | None = Field(None, description="A volute {length, height}.")
    wings: Annotated[tuple[Wing, ...], items(8)] = Field(description="Glued-on pieces: {side, width, length}.")
    slots: Annotated[HeadSlots | None, ADDED] = Field(
        None, description="Two slots through the head for its rollers {from, to, width, edge, ends, ramp}."
    )
    tuners: Annotated[tuple[AnyTuner, ...], items(24)] = Field(
        description="The tuners: a list of {x, y, hole, housing = {length, width}, string_height, tree}; in a head "
        "with slots of {x, side, below_face, hole, into_core, string}."
    )
    end: Annotated[NutEnd | None, ADDED] = Field(
        None, description="The nut end {length, thickness, width} of a neck without a head."
    )
    clamp: Annotated[Clamp | None, ADDED] = Field(
        None, description="The clamp {length, width, height, screws} of a neck without a head."
    )

    @property
    def posts(self) -> tuple[Tuner, ...]:
        """The tuners whose posts stand on the face, as listed; () in a head with slots."""
        return tuple(tuner for tuner in self.tuners if isinstance(tuner, Tuner))

    @property
    def side_tuners(self) -> tuple[SideTuner, ...]:
        """The tuners bored from the side, as listed; () in a head without slots."""
        return tuple(tuner for tuner in self.tuners if isinstance(tuner, SideTuner))

    @property
    def wood(self) -> tuple[str, float]:
        """(key, value, mm) of the thickness of what lies behind the nut: the head, or the nut end."""
        if self.kind == "none" and self.end is not None:
            return "head.end.thickness", self.end.thickness
        return "head.thickness", self.thickness
