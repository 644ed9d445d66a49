"""The JSON schema of the design file, with which editors complete and check a file."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from neckmodel.design.defaults.defaults import DEFAULTS, OPTIONAL
from neckmodel.design.design import Design
from neckmodel.design.values import fields
from neckmodel.design.values.keys import ByInstrument, Facts
from neckmodel.design.values.kinds import LENGTH_TEXT, plain
from neckmodel.units import FRACTION_PATTERN, LENGTH_PATTERN

_REQUIRED = ("design", "strings", "fretboard", "neck")
_FILLED_IN_PLACE = {"Back": ("fullness", "lean")}  # keys whose default follows from `family` in the same table


def json_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a design file as a maker may write it.

    Lengths are numbers in the file's unit or texts with their own; their bounds, in mm, stand under `x-least` and
    `x-most`, because a schema cannot know the unit. What has a default is not required, and its description names it.
    """
    schema = Design.model_json_schema(by_alias=True, mode="validation")
    schema["$defs"][LENGTH_TEXT] = {
        "description": 'A length with its own unit: "5.5 mm", "7/32 in", "1 1/2 in"; in a file in inches "1/4" too.',
        "type": "string",
        "pattern": f"{LENGTH_PATTERN}|{FRACTION_PATTERN}",
    }
    _relax(schema)
    schema["required"] = list(_REQUIRED)
    unreinforced = {"properties": {"neck": {"required": ["reinforcement"]}}}
    schema["anyOf"] = [{"required": ["rod"]}, {"required": ["bars"]}, unreinforced]
    _tidy(schema)
    return {
        "$schema": GenerateJsonSchema.schema_dialect,
        **schema,
        "title": "Design of a neck",
        "description": 'Bare numbers that are lengths are in the file\'s unit; texts carry their own: "7/32 in".',
    }


def _relax(schema: dict[str, Any]) -> None:
    """Takes what has a default out of every list of required keys, and names the default."""
    for key, default in DEFAULTS.items():
        parts = [part for part in key.split(".") if part != "*"]
        for depth in range(2, len(parts) + 1):
            if ".".join(parts[:depth]) in OPTIONAL:
                continue
            for table in fields.tables_at(Design, tuple(parts[: depth - 1])):
                found = schema["$defs"].get(table.__name__, {})
                if parts[depth - 1] in found.get("required", ()):
                    found["required"].remove(parts[depth - 1])
        if isinstance(default, ByInstrument):
            _name_default(schema, parts, default(Facts({})), " Follows design.instrument where that is stated.")
        elif not callable(default):
            _name_default(schema, parts, default)
    for table_name, names in _FILLED_IN_PLACE.items():
        found = schema["$defs"][table_name]
        found["required"] = [name for name in found["required"] if name not in names]


def _name_default(schema: dict[str, Any], parts: list[str], default: object, before: str = "") -> None:
    if default in ("", [], None):
        return
    unit = " mm" if isinstance(default, float) and fields.length_at(Design, tuple(parts)) is not None else ""
    shown = plain(round(default, 4)) if isinstance(default, float) else str(default)
    if isinstance(default, bool):
        shown = shown.lower()
    for table in fields.tables_at(Design, tuple(parts[:-1])):
        entry = schema["$defs"][table.__name__]["properties"].get(parts[-1])
        if entry is not None and "Default: " not in entry.get("description", ""):
            entry["description"] = f"{entry.get('description', '')}{before} Default: {shown}{unit}.".strip()


def _tidy(value: Any) -> None:
    """Takes out what TOML cannot say (null), empty lists of required keys, and titles that only repeat a key."""
    if isinstance(value, list):
        for item in value:
            _tidy(item)
    if not isinstance(value, dict):
        return
    if "x-table" in value:
        value["$ref"] = f"#/$defs/{value.pop('x-table')}"
    kinds = value.get("anyOf")
    if isinstance(kinds, list) and {"type": "null"} in kinds:
        kinds.remove({"type": "null"})
        value.pop("default", None)
        if len(kinds) == 1:
            value.pop("anyOf")
            value.update({key: item for key, item in kinds[0].items() if key not in value})
    if value.get("default", 0) is None:
        value.pop("default")
    if isinstance(value.get("title"), str):
        value.pop("title")
    if value.get("required") == []:
        value.pop("required")
    for item in value.values():
        _tidy(item)
