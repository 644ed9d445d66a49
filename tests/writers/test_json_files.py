"""The JSON contract, key by key, and numbers that JSON has no word for."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import writer_samples as samples

from neckmodel.errors import ExportError
from neckmodel.writers.jsons import clean, dumps, findings_json, layout_json
from neckmodel.writers.manifest import Manifest

KEYS = [
    *("check", "part", "measured", "error", "limit", "unit", "verdict"),
    *("worst_case", "basis", "at", "says", "remedy", "more", "follows"),
]


WAY = {"says": "make the neck 0.57 mm thicker", "set": {"neck.thickness.fret_1": 18.57}, "leaves": "pass"}


def test_findings_have_every_key_of_the_contract_in_order() -> None:
    data = findings_json(samples.findings(fail=True))
    assert list(data) == ["schema", "name", "passed", "findings", "parts"]
    assert (data["schema"], data["name"], data["passed"]) == ("neckmodel/findings/1", samples.NAME, False)
    assert [list(found) for found in data["findings"]] == [KEYS, KEYS]
    wall, glue = data["findings"]
    assert wall == {
        "check": "wall/run",
        "part": "neck",
        "measured": 2.439123,
        "error": 0.01,
        "limit": 3.0,
        "unit": "mm",
        "verdict": "fail",
        "worst_case": 2.1,
        "basis": "common practice, no source",
        "at": {"x": 301.25, "y": -1.5, "z": -11.0, "fret": 7},
        "says": "the wood under the channel is too thin",
        "remedy": {**WAY, "ways": [WAY]},
        "more": {"steepest": 0.0},
        "follows": None,
    }
    assert (glue["measured"], glue["at"], glue["remedy"], glue["unit"]) == (None, None, None, "mm2")
    assert data["parts"] == [
        {
            "name": "neck",
            "volume": 1234.56789,
            "bounds": [2.0, -13.0, -14.5, 72.0, 16.5, 0.0],
            "solids": 1,
            "valid": True,
            "watertight": True,
        }
    ]
    assert findings_json(samples.findings())["passed"] is True


def test_layout_keeps_at_least_four_decimals_and_its_order() -> None:
    data = layout_json(samples.LAYOUT)
    # the first fret of a 648 mm scale: 648 (1 - 2^(-1/12)), the rule of equal temperament
    assert data["frets"][0]["x"] == pytest.approx(648 * (1 - 2 ** (-1 / 12)), abs=5e-5)
    assert list(data) == list(samples.LAYOUT)
    with pytest.raises(ExportError, match="not 'neckmodel/layout/1'"):
        layout_json({"schema": "neckmodel/layout/2"})


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -float("inf"), np.float64("nan")])
def test_what_is_no_number_is_named_by_its_place(bad: float) -> None:
    with pytest.raises(ExportError, match=r"frets\[1\]\.x is not a number"):
        dumps({"frets": [{"x": 1.0}, {"x": bad}]})
    found = replace(samples.findings().findings[0], measured=bad)
    with pytest.raises(ExportError, match=r"findings\[0\]\.measured"):
        findings_json(replace(samples.findings(), findings=(found,)))


@pytest.mark.parametrize(
    ("given", "says"), [({1: 2}, "a key that is not text"), ({"a": {2.0}}, "a is a set"), ({"a": b"x"}, "bytes")]
)
def test_what_is_no_json_is_refused(given: dict[str, object], says: str) -> None:
    with pytest.raises(ExportError, match=says):
        clean(given)


def test_numbers_of_numpy_and_minus_zero_become_plain() -> None:
    data = clean(
        {"a": np.float64(0.1234567891), "b": np.arange(2), "c": (-0.0,), "d": np.bool_(True), "e": np.int64(3)}
    )
    assert json.dumps(data) == '{"a": 0.123457, "b": [0, 1], "c": [0.0], "d": true, "e": 3}'


def test_files_read_back_as_plain_json(export: tuple[Path, Manifest]) -> None:
    folder, _ = export
    assert json.loads((folder / "findings.json").read_text(encoding="utf-8")) == findings_json(samples.findings())
    assert json.loads((folder / "layout.json").read_text(encoding="utf-8")) == layout_json(samples.LAYOUT)
    assert (folder / "design.toml").read_text(encoding="utf-8") == samples.DESIGN
