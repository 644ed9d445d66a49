"""`[woods]`: a maker's own woods, by the names that `neck.wood` and `fretboard.wood` use."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import ConfigDict, Field

from neckmodel.design.values.kinds import Number, Table
from neckmodel.limits import SHEAR_FREE, SPREAD_MODULUS


class OwnWood(Table):
    """`[woods.<name>]`: own values of one wood, at about 12 % moisture. What is not stated is taken from the table of
    woods, where it knows the name."""

    density: Annotated[float, Number(50, 1500, "kg/m3")] | None = Field(None, description="Density, kg/m3.")
    modulus: Annotated[float, Number(1000, 40000, "MPa")] | None = Field(
        None,
        description=f"Young's modulus along the grain, MPa: a handbook's bending modulus x {SHEAR_FREE:.2f}, for that "
        f"holds {100 * (SHEAR_FREE - 1):.0f} % of shear.",
    )
    modulus_spread: Annotated[float, Number(0, 0.5)] | None = Field(
        None, description=f"One standard deviation of the modulus, as a share of it; {SPREAD_MODULUS} unless stated."
    )
    bending_strength: Annotated[float, Number(10, 400, "MPa")] | None = Field(
        None, description="Modulus of rupture in static bending, MPa."
    )
    compression_parallel: Annotated[float, Number(5, 200, "MPa")] | None = Field(
        None, description="Strength in compression along the grain, MPa."
    )
    compression_across: Annotated[float, Number(0.5, 60, "MPa")] | None = Field(
        None, description="Strength in compression square to the grain, MPa."
    )
    shrinkage_radial: Annotated[float, Number(0.1, 15, "percent")] | None = Field(
        None, description="Radial shrinkage from green to ovendry, percent."
    )
    shrinkage_tangential: Annotated[float, Number(0.1, 20, "percent")] | None = Field(
        None, description="Tangential shrinkage from green to ovendry, percent."
    )


class Woods(Table):
    """`[woods]`: every name in it is a wood of its own."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, OwnWood] = Field(init=False)

    of_each: ClassVar[type[Table] | None] = OwnWood

    @property
    def own(self) -> dict[str, OwnWood]:
        """The woods by their names, as stated."""
        return self.__pydantic_extra__
