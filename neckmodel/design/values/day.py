"""A calendar day as a value of the design file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

from neckmodel.design.values.kinds import Kind, wrong


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

    def _schema(self) -> dict[str, Any]:
        return {"type": "string", "format": "date", "pattern": r"^\d{4}-\d\d-\d\d$"}
