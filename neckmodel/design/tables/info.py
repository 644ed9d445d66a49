"""`[design]`: name, unit, hand, and the day it was made."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from neckmodel.design.values.kinds import Kind, Table, Text, wrong

SLUG = r"[A-Za-z0-9][A-Za-z0-9_-]*(?:\.[A-Za-z0-9_-]+)*"


@dataclass(frozen=True)
class Day(Kind):
    """A calendar day: a TOML date or a text such as "2031-05-30"; reads as the text."""

    def _read(self, value: object, _unit: str) -> str:
        if type(value) is date:
            return value.isoformat()
        try:
            if isinstance(value, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", value, re.ASCII):
                return date.fromisoformat(value).isoformat()
        except ValueError:
            pass
        raise wrong("is not a day", 'write year, month and day: "2031-05-30"')

    def _schema(self) -> dict[str, object]:
        return {"type": "string", "format": "date", "pattern": r"^\d{4}-\d\d-\d\d$"}


class Info(Table):
    """`[design]`: what the file is."""

    name: Annotated[str, Text(64, SLUG, "a name of letters, digits, - and _, with points only inside")] = Field(
        description="Name of the design and of its folder of exports: letters, digits, - _ and inner points."
    )
    remark: Annotated[str, Text(500)] = Field(description="One line about the design, printed in title blocks.")
    date: Annotated[str | None, Day()] = Field(None, description="Day of the design, printed in title blocks.")
    units: Literal["mm", "in"] = Field(description="The unit of every bare number in the file that is a length.")
    instrument: Literal["electric", "bass", "steel-string", "nylon-string", "mandolin"] | None = Field(
        None,
        description="Kind of instrument: what is not stated is then what is usual for it. Left out, it is guessed from "
        "courses, scale length and heel.",
    )
    hand: Literal["right", "left"] = Field(description="The player's hand: left mirrors the whole neck at the end.")
