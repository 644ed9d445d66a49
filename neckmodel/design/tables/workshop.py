"""`[board]`, `[workshop]`, `[limits]`, `[measured]` and `[calibration]`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.kinds import Length, Number, Table, items, spreading


class Allowance(Table):
    """Wood left on the blank, to be taken off after the channel is cut."""

    sides: Annotated[float, Length(0.2, 50)] = Field(description="Allowance of the blank at each side.")
    ends: Annotated[float, Length(0, 200)] = Field(description="Allowance of the blank at each end.")
    back: Annotated[float, Length(0.2, 20)] = Field(description="Allowance under the back that is carved.")


TRUED_OFF = 2.0  # mm of a rough board's thickness; common practice, no source
TRUED_OFF_EDGE = 1.5  # mm at each of its edges; common practice, no source


class Board(Table):
    """`[board]`: the stock, in the sizes that it has now."""

    length: Annotated[float, Length(100, 4000)] = Field(description="Length of the board.")
    width: Annotated[float, Length(15, 600)] = Field(description="Width of the board.")
    thickness: Annotated[float, Length(8, 200)] = Field(description="Thickness of the board.")
    surface: Literal["trued", "rough"] = Field(
        description="Whether its faces and edges are planed true, or it is rough as sawn: truing then still takes 2 mm "
        "of the thickness and 1.5 mm at each edge."
    )
    allowance: Allowance = Field(description="Wood left on the blank {sides, ends, back}.")
    grain_slope: Annotated[float, Number(0, 1)] | None = Field(
        None, description="Slope of the grain, rise over run: 0.05 is 1 in 20."
    )
    rings: Literal["quarter", "flat"] = Field(description="The annual rings stand upright, or lie flat.")

    @property
    def trued(self) -> tuple[float, float, float]:
        """Length, width and thickness, mm, once its faces and edges are true."""
        off = 0.0 if self.surface == "trued" else 1.0
        return self.length, self.width - 2 * TRUED_OFF_EDGE * off, self.thickness - TRUED_OFF * off


class Cutter(Table):
    """One straight router cutter."""

    diameter: Annotated[float, Length(0.5, 60)] = Field(description="Diameter, as measured.")
    flute_length: Annotated[float, Length(1, 120)] = Field(description="Length of the cutting edges.")
    stick_out: Annotated[float, Length(1, 200)] = Field(description="Longest safe stick-out from the collet.")


class Printer(Table):
    """The printer that makes jigs."""

    bed: Annotated[tuple[Annotated[float, Length(50, 2000)], ...], items(3, 3)] = Field(
        description="Size of what it can print: a list of three lengths."
    )
    nozzle: Annotated[float, Length(0.1, 2)] = Field(description="Diameter of the nozzle.")
    fit_per_side: Annotated[float, Length(0, 1)] = Field(description="Play per side between printed parts.")
    overhang: Annotated[float, Number(0, 90, "degrees")] = Field(
        description="Steepest overhang that prints without support, from the vertical."
    )


class Tolerances(Table):
    """How far off the work may be, either way."""

    depth: Annotated[float, Length(0, 2)] = Field(description="Depth of a channel or pocket.")
    sideways: Annotated[float, Length(0, 2)] = Field(description="Place of a channel across the neck.")
    glue_plane: Annotated[float, Length(0, 2)] = Field(description="Truth of the glue plane.")
    carve: Annotated[float, Length(0, 3)] = Field(description="The carved back against its gauge.")
    tilt: Annotated[float, Number(0, 0.2)] = Field(description="Tilt of the router, as a slope.")
    stock: Annotated[float, Length(0, 2)] = Field(description="Thickness of the stock.")
    measuring: Annotated[float, Length(0, 1)] = Field(description="Measuring at the bench.")


class Workshop(Table):
    """`[workshop]`: what the work is done with."""

    cutters: Annotated[tuple[Cutter, ...], items(60)] = Field(
        description="The router cutters in the rack: a list of {diameter, flute_length, stick_out}."
    )
    deepest_pass: Annotated[float, Length(0.2, 30)] | None = Field(
        None, description="Deepest that one pass of the router may be; half the cutter's diameter unless stated."
    )
    router_base: Annotated[float, Length(15, 250)] | None = Field(
        None,
        description="From the cutter's middle to the edge of the router's base that runs along the fence: its radius.",
    )
    guide_bush: Annotated[float, Length(4, 80)] | None = Field(
        None, description="Outside diameter of the guide bush; none is worked along fences."
    )
    kerf: Annotated[float, Length(0.1, 10)] = Field(description="Width of the saw's cut.")
    printer: Printer = Field(description="The printer {bed, nozzle, fit_per_side, overhang}.")
    tolerances: Tolerances = Field(
        description="Tolerances {depth, sideways, glue_plane, carve, tilt, stock, measuring}."
    )


_PLACES = ("run", "block", "anchor", "adjuster", "access_slot", "rod_end", "screw", "tuner", "bar", "washer")


class WallLimits(Table):
    """Least wood between a cut and the finished skin, by what was cut."""

    run: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the rod run.")
    block: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a block pocket.")
    anchor: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the anchor pocket.")
    adjuster: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the adjuster pocket.")
    access_slot: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at the access slot.")
    rod_end: Annotated[float, Length(0, 20)] = Field(description="Limit of the wood beyond the rod's end.")
    screw: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall between channel and screws.")
    tuner: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall between access slot and tuners.")
    bar: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a bar's channel.")
    washer: Annotated[float, Length(0, 20)] = Field(description="Limit of the wall at a washer's pocket.")

    @classmethod
    def spread(cls, value: object) -> object:
        return value if isinstance(value, dict | WallLimits) else dict.fromkeys(_PLACES, value)


class Limits(Table):
    """`[limits]`: what the checks hold their measurements against, by the check's name."""

    wall: Annotated[WallLimits, spreading(WallLimits, Length(0, 20))] = Field(
        description="Least wall: one length, or {run, block, anchor, adjuster, access_slot, ...}."
    )
    glue_nut: Annotated[float, Length(0, 20)] = Field(description="Least glue surface either side at the nut.")
    cover_run: Annotated[float, Length(0, 20)] = Field(
        description="Least width of fretboard beyond the edges of the run and of the adjuster pocket."
    )
    cover_strip: Annotated[float, Length(0, 20)] = Field(
        description="Least thickness of the cover strip over a compression rod."
    )
    place_adjuster: Annotated[float, Length(0, 50)] = Field(
        description='Least gap from the nut to the adjuster; what from_nut = "auto" keeps to.'
    )
    fit_run: Annotated[float, Length(0, 2)] = Field(description="Most play of the rod in its run, in all.")
    fret_slots_edge: Annotated[float, Length(0, 5)] = Field(
        description="Least depth of a fret slot at the fretboard's edge: the seat of the fret's tang."
    )
    heel_screws: Annotated[float, Length(0, 100)] = Field(description="Least bite of a heel screw in the neck.")
    head_break_angle: Annotated[float, Number(0, 30, "degrees")] = Field(
        description="Least angle by which a string should bend down over the nut, degrees."
    )
    stock_grain: Annotated[float, Number(0, 1)] = Field(description="Steepest slope of the grain, rise over run.")


class Calibration(Table):
    """`[calibration]`: what was found on finished necks or bare rods."""

    relief_unstrung: Annotated[float, Length(-3, 3)] | None = Field(
        None, description="Relief without strings, the rod slack; with relief_strung."
    )
    relief_strung: Annotated[float, Length(-3, 5)] | None = Field(
        None, description="Relief with strings at pitch, the rod slack."
    )
    weight: Annotated[float, Number(0.1, 1000, "N")] | None = Field(
        None, description="Dead weight put on the middle of the board before it is cut, N; with span and sag."
    )
    span: Annotated[float, Length(50, 1500)] | None = Field(
        None, description="Distance of the board's supports, long enough that shear does not rule the sag."
    )
    sag: Annotated[float, Length(0, 20)] | None = Field(None, description="Sag of the board under that weight.")
    rod_bow_per_turn: Annotated[float, Length(0.1, 50)] | None = Field(
        None, description="Bow of the bare rod for one turn of its adjuster; a compression rod has none."
    )
