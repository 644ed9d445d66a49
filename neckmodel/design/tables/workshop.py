"""`[workshop]`."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from neckmodel.design.values.kinds import Length, Number, Table, items


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
