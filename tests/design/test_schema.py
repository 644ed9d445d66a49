"""The JSON schema takes what the reader takes and refuses what it can refuse; checked with the reference validator."""

from __future__ import annotations

import json
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import every_key
import jsonschema
import pytest

from neckmodel.design.schema import json_schema

PRESETS = sorted((Path(__file__).parents[2] / "presets").glob("*.toml"))
SCHEMA = json_schema()


def _plain(text: str) -> Any:
    return json.loads(json.dumps(tomllib.loads(text), default=date.isoformat))


def _faults(content: Any) -> list[str]:
    return [error.json_path for error in jsonschema.Draft202012Validator(SCHEMA).iter_errors(content)]


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", PRESETS, ids=lambda path: path.stem)
def test_presets_validate(path: Path) -> None:
    assert _faults(_plain(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("text", [every_key.FIRST, every_key.second()], ids=["first", "second"])
def test_every_key_validates(text: str) -> None:
    assert _faults(_plain(text)) == []


@pytest.mark.parametrize(
    ("was", "becomes", "path"),
    [
        ("thickness = 4.5\n", "thicknes = 4.5\n", "$.nut"),
        ("thickness = 4.5\n", 'thickness = "4.5"\n', "$.nut.thickness"),
        ("thickness = 4.5\n", "thickness = true\n", "$.nut.thickness"),
        ("frets = 21", "frets = 21.5", "$.fretboard.frets"),
        ('kind = "dovetail"', 'kind = "tennon"', "$.heel.kind"),
        ("angle = 14.0", "angle = 45.0", "$.head.angle"),
        ('name = "whinchat"', 'name = "../whinchat"', "$.design.name"),
        ("length = 360.0\n", "", "$.rod"),
        ('from_nut = "auto"', 'from_nut = "middle"', "$.rod_place.from_nut"),
        ("[neck]", "[nek]", "$"),
        ("modulus_spread = 0.1", "modulus_spread = 10", "$.woods.plum.modulus_spread"),
        ("bending_strength = 100", "bending = 100", "$.woods.plum"),
    ],
)
def test_it_refuses(was: str, becomes: str, path: str) -> None:
    assert every_key.FIRST.count(was) == 1
    assert path in _faults(_plain(every_key.FIRST.replace(was, becomes)))


@pytest.mark.parametrize("length", ["1/4", "1 1/2", "25.2 inches", "7/32 in", "5.5 mm"])
def test_a_length_as_makers_write_it(length: str) -> None:
    assert _faults(_plain(every_key.FIRST.replace("thickness = 4.5\n", f'thickness = "{length}"\n'))) == []


def test_a_rod_or_bars_must_be_there() -> None:
    content = _plain(every_key.FIRST)
    del content["rod"]
    assert _faults(content) == []
    del content["bars"]
    assert _faults(content) == ["$"]


def test_every_key_is_described() -> None:
    """The descriptions are the makers' reference: each is a sentence."""
    for name, table in SCHEMA["$defs"].items():
        for key, entry in table.get("properties", {}).items():
            said = entry.get("description", "")
            assert len(said) >= 10, f"{name}.{key}"
            assert said.endswith("."), f"{name}.{key}"
            assert said[0].isupper() or said.startswith(("x ", "z ")), f"{name}.{key}"


def test_defaults_stand_in_the_descriptions() -> None:
    tables = SCHEMA["$defs"]
    assert tables["Nut"]["properties"]["thickness"]["description"].endswith("Default: 5 mm.")
    assert tables["Channel"]["properties"]["key_swing"]["description"].endswith("Default: 75.")
    assert tables["Heel"]["properties"]["kind"]["description"].endswith("Default: bolted.")
    assert tables["Nut"]["properties"]["thickness"]["x-most"] == 15
    assert "null" not in json.dumps(SCHEMA)
