"""JSON: the findings and the layout by their published schemas. Lengths are mm with at least 4 decimals."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

from neckmodel.errors import ExportError
from neckmodel.findings import Finding, Findings, PartFact, Remedy, ways_of

FINDINGS_SCHEMA = "neckmodel/findings/1"
RANGE = ("range_from", "range_to")  # names in `more` of the ends that a measured value must keep
LAYOUT_SCHEMA = "neckmodel/layout/1"
DECIMALS = 6
"""Numbers are rounded here: far below any cut, and far above the noise of the last bits."""


def clean(value: Any, place: str = "") -> Any:
    """Plain JSON data with rounded numbers. Raises ExportError for what JSON cannot express (NaN, infinity, objects).

    place: where in the data the value stands, for the message.
    """
    if value is None or isinstance(value, str | bool):
        return value
    if isinstance(value, int):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ExportError(f"JSON: {place or 'value'} is not a number ({value})")
        return round(float(value), DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0
    if isinstance(value, Mapping):
        if not all(isinstance(key, str) for key in value):
            raise ExportError(f"JSON: {place or 'value'} has a key that is not text")
        return {key: clean(item, f"{place}.{key}" if place else key) for key, item in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, bytes):
        return [clean(item, f"{place}[{index}]") for index, item in enumerate(value)]
    if hasattr(value, "tolist"):  # a numpy number or array
        return clean(value.tolist(), place)
    raise ExportError(f"JSON: {place or 'value'} is a {type(value).__name__}, which JSON has no form for")


def dumps(data: Mapping[str, object]) -> str:
    """The text of a JSON file, keys in the order given."""
    return json.dumps(clean(data), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def findings_json(findings: Findings) -> dict[str, object]:
    """The findings as JSON data; every key is there for every finding, None where there is no such number."""
    data = {
        "schema": FINDINGS_SCHEMA,
        "name": findings.name,
        "passed": findings.passed,
        "findings": [_finding(found) for found in findings.findings],
        "parts": [_part(fact) for fact in findings.parts],
    }
    return dict(clean(data))


def layout_json(layout: Mapping[str, object]) -> dict[str, object]:
    """The layout as JSON data, rounded. Raises ExportError if it does not match the published schema."""
    if layout.get("schema") != LAYOUT_SCHEMA:
        raise ExportError(f"layout data says schema {layout.get('schema')!r}, not {LAYOUT_SCHEMA!r}")
    return dict(clean(layout))


def _finding(found: Finding) -> dict[str, object]:
    at, remedy = found.at, found.remedy
    return {
        "check": found.check,
        "part": found.part,
        "measured": found.measured,
        "error": found.error,
        "limit": found.limit,
        "unit": found.unit,
        "verdict": found.verdict,
        "worst_case": found.worst_case,
        "basis": found.basis,
        "at": None if at is None else {"x": at.x, "y": at.y, "z": at.z, "fret": at.fret},
        "says": found.says,
        "remedy": None if remedy is None else _remedy(remedy),
        "more": {**found.more, **_range(found)},
        "follows": found.follows,
    }


def _range(found: Finding) -> dict[str, float]:
    """The range that the measured value must lie in, where that is not simply at least the limit."""
    ends = zip(RANGE, found.held or (None, None), strict=True)
    return {name: end for name, end in ends if end is not None}


def _remedy(remedy: Remedy) -> dict[str, object]:
    told = [{"says": way.says, "set": way.set, "leaves": way.leaves} for way in ways_of(remedy)]
    return {"says": remedy.says, "set": remedy.set, "leaves": remedy.leaves, "ways": told}


def _part(fact: PartFact) -> dict[str, object]:
    return {
        "name": fact.name,
        "volume": fact.volume,
        "bounds": fact.bounds,
        "solids": fact.solids,
        "valid": fact.valid,
        "watertight": fact.watertight,
    }
