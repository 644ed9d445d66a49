"""`[seasons]`: the air in which the instrument will live."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from neckmodel.design.values.kinds import Number, Table


class Season(Table):
    """The air of one season, indoors."""

    humidity: Annotated[float, Number(5, 95, "%")] = Field(description="Relative humidity, %.")
    temperature: Annotated[float, Number(0, 45, "°C")] = Field(description="Temperature, °C.")


class DrySeason(Season):
    """The driest season, often a heated winter."""


class DampSeason(Season):
    """The dampest season."""


class Seasons(Table):
    """`[seasons]`: the driest and the dampest air that the instrument will live in."""

    dry: DrySeason = Field(description="The driest season, often a heated winter: {humidity, temperature}.")
    damp: DampSeason = Field(description="The dampest season: {humidity, temperature}.")
