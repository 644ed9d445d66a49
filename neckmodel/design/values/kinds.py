"""The kinds of value in a design file: lengths, numbers, counts, texts and lists.

Each is a small class for `Annotated[...]`. It reads a value, checks its bounds and describes itself in the JSON schema.
A refusal has three parts (what is wrong, what is allowed, what to try), which the message keeps apart.
"""

from __future__ import annotations

import difflib
import math
import re
from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from neckmodel.units import bare_fraction, to_mm

WRONG = "neckmodel"  # the pydantic error type of every refusal made here
NO_LENGTH = "is not a length"
LENGTH_TEXT = "LengthText"  # where the JSON schema keeps what a length with its own unit looks like


class Mm(float):
    """A length that is in mm already, whatever the unit of the file: how defaults are filled in."""


class Table(BaseModel):
    """A table of the design file: frozen, strict, and an unknown key in it is an error."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", validate_by_alias=True, validate_by_name=False)

    of_each: ClassVar[type[Table] | None] = None
    """The table under each name, where the maker chooses the names."""

    @classmethod
    def spread(cls, value: object) -> object:
        """The full table that a short form stands for; anything else comes back as it is."""
        return value


def wrong(says: str, allowed: str = "", attempt: str = "", at: tuple[str | int, ...] = ()) -> PydanticCustomError:
    """The error for one wrong value: what is wrong, what is allowed, what to try.

    at: where below the value it is wrong, for a kind that reads a whole table."""
    return PydanticCustomError(WRONG, "{says}", {"says": says, "allowed": allowed, "attempt": attempt, "at": at})


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The known word nearest to a mistaken one; None where none is near."""
    known = {known.lower(): known for known in words}
    found = difflib.get_close_matches(word.lower(), known, 1, 0.6)
    return known[found[0]] if found else None


def plain(number: float) -> str:
    """A bound as a person writes it: 12 rather than 12.0."""
    return f"{number:g}"


def outside(number: float, low: float) -> str:
    """`is too large`, `is too small` or `is negative`: what is wrong with a number outside its bounds, given the
    lower one."""
    if number >= low:
        return "is too large"
    return "is negative" if number < 0 <= low else "is too small"


class Kind(ABC):
    """Base of the kinds: `_read` takes the raw value and the file's unit; `_schema` is its JSON schema."""

    @abstractmethod
    def _read(self, value: object, unit: str) -> object: ...

    @abstractmethod
    def _schema(self) -> dict[str, Any]: ...

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        def read(value: object, info: core_schema.ValidationInfo) -> object:
            return self._read(value, (info.context or {}).get("unit", "mm"))

        return core_schema.with_info_plain_validator_function(read)

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        return self._schema()


@dataclass(frozen=True)
class Length(Kind):
    """A length in mm between two bounds, both allowed. `word` may stand instead of it and reads as None."""

    low: float
    high: float
    word: str | None = None

    def _read(self, value: object, unit: str) -> float | None:
        if self.word is not None and (value == self.word or value is None):
            return None
        if isinstance(value, Mm):
            size = float(value)
        else:
            try:
                size = to_mm(value, unit)
            except ValueError as error:
                wanted = str(error).replace(" or ", ", ") + f' or "{self.word}"' if self.word else str(error)
                raise wrong(NO_LENGTH, f"write a length: {wanted}", self._hint(value)) from None
        if not self.low <= size <= self.high:
            raise wrong(
                outside(size, self.low),
                f"allowed are {plain(self.low)} to {plain(self.high)} mm",
                self._other_sign(value, unit) or self._other_unit(value, unit),
            )
        return size

    def _hint(self, value: object) -> str:
        if not isinstance(value, str):
            return ""
        text = value.strip()
        if self.word and nearest(text, [self.word]):
            return f'did you mean "{self.word}"?'
        if re.fullmatch(r"[+-]?\d+,\d+.*", text):
            return f'try "{text.replace(",", ".")}": the decimal sign is a point'
        if re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", text):
            return f"try {text} without the quotes, or with its unit inside them"
        if bare_fraction(text):
            return f'a fraction is of an inch: try "{text} in"'
        return ""

    def _other_sign(self, value: object, unit: str) -> str:
        """The hint that a bare number is allowed with the other sign; empty where it is not."""
        if isinstance(value, Mm | bool) or not isinstance(value, int | float) or not self.holds(-value, unit):
            return ""
        if self.high <= 0:
            return f"places behind the nut are negative; try {-value}"
        return f"try {-value}, without the minus"

    def holds(self, value: int | float, unit: str) -> bool:
        """Whether a bare number in this unit lies between the bounds."""
        try:
            return self.low <= to_mm(value, unit) <= self.high
        except ValueError:  # infinite, or too large for a length
            return False

    def _other_unit(self, value: object, unit: str) -> str:
        """The hint that a bare number is allowed in the other unit; empty where it is not."""
        if isinstance(value, Mm | bool) or not isinstance(value, int | float):
            return ""
        for other, named in (("mm", "mm"), ("in", "inches"), ("cm", "cm")):
            if other != unit and self.holds(value, other):
                return f'if it is meant in {named}, try "{value} {other}"'
        return ""

    def _schema(self) -> dict[str, Any]:
        kinds: list[dict[str, Any]] = [{"type": "number"}, {"x-table": LENGTH_TEXT}]
        if self.word:
            kinds.append({"const": self.word})
        return {"anyOf": kinds, "x-unit": "mm", "x-least": self.low, "x-most": self.high}


@dataclass(frozen=True)
class Number(Kind):
    """A number that is no length (an angle, a force, a ratio); `unit` is only for messages and the schema."""

    low: float
    high: float
    unit: str = ""

    def _read(self, value: object, _unit: str) -> float:
        named = f" in {self.unit}" if self.unit else ""
        number = None if isinstance(value, bool) or not isinstance(value, int | float) else value
        if number is None or (isinstance(number, float) and not math.isfinite(number)):
            raise wrong("is not a number", f"write a number{named}, {plain(self.low)} to {plain(self.high)}")
        if not self.low <= number <= self.high:
            raise wrong(
                outside(number, self.low),
                f"allowed are {plain(self.low)} to {plain(self.high)}{' ' + self.unit if self.unit else ''}",
            )
        return float(number)

    def _schema(self) -> dict[str, Any]:
        unit = {"x-unit": self.unit} if self.unit else {}
        return {"type": "number", "minimum": self.low, "maximum": self.high, **unit}


@dataclass(frozen=True)
class Count(Kind):
    """A whole number between two bounds, both allowed."""

    low: int
    high: int

    def _read(self, value: object, _unit: str) -> int:
        allowed = f"write a whole number, {self.low} to {self.high}"
        if isinstance(value, bool) or not isinstance(value, int):
            raise wrong("is not a whole number", allowed)
        if not self.low <= value <= self.high:
            raise wrong(outside(value, self.low), f"allowed are {self.low} to {self.high}")
        return value

    def _schema(self) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True)
class Text(Kind):
    """A text of one line, without control characters. `pattern`, if given, must fit the whole; `wanted` names what
    does, `attempt` says how to write it."""

    longest: int
    pattern: str = ""
    wanted: str = ""
    attempt: str = ""

    def _read(self, value: object, _unit: str) -> str:
        if not isinstance(value, str):
            raise wrong("is not a text", "write it in quotes")
        if any(not sign.isprintable() for sign in value):
            raise wrong("holds a character that cannot be printed", "write one line of plain text")
        if len(value) > self.longest:
            raise wrong("is too long", f"allowed are {self.longest} characters")
        if self.pattern and not re.fullmatch(self.pattern, value):
            allowed = "" if value or self.attempt else f"write {self.wanted}"
            raise wrong(f"is not {self.wanted}" if value else "is empty", allowed, self.attempt)
        return value

    def _schema(self) -> dict[str, Any]:
        pattern = {"pattern": f"^(?:{self.pattern})$"} if self.pattern else {}
        return {"type": "string", "maxLength": self.longest, **pattern}


def items(most: int, least: int = 0) -> BeforeValidator:
    """Turns a TOML list into the tuple that a frozen table holds, and bounds how many items it may have."""

    def read(value: object) -> object:
        if not isinstance(value, list | tuple):
            raise wrong("is not a list", "write its items in square brackets: [ , ]")
        if not least <= len(value) <= most:
            number = f"{least} to {most}" if least != most else str(most)
            raise wrong(f"has {len(value)} item{'' if len(value) == 1 else 's'}", f"allowed are {number}")
        return tuple(value)

    return BeforeValidator(read)


@dataclass(frozen=True)
class OneOrMore:
    """Turns one value, or a list of up to `most`, into the tuple that a frozen table holds."""

    kind: Kind
    most: int

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self._listed, handler(source))

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        listed = {"type": "array", "items": self.kind._schema(), "minItems": 1, "maxItems": self.most}
        return {"anyOf": [self.kind._schema(), listed]}

    def _listed(self, value: object) -> object:
        found = tuple(value) if isinstance(value, list | tuple) else (value,)
        if not 1 <= len(found) <= self.most:
            raise wrong(f"has {len(found)} items", f"allowed are 1 to {self.most}")
        return found


@dataclass(frozen=True)
class Spreading:
    """Lets a short form stand for a table, as `table.spread` defines it. short: the kinds, or JSON schemas, of the
    short forms."""

    table: type[Table]
    short: tuple[Kind | dict[str, Any], ...]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.table.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        forms = (form._schema() if isinstance(form, Kind) else form for form in self.short)
        return {"anyOf": [*forms, handler(schema)]}


def spreading(table: type[Table], *short: Kind | dict[str, Any]) -> Spreading:
    """Marks a field whose value may be a short form of this table."""
    return Spreading(table, short)
