"""`explain KEY`: what a key is, and what is taken where it is left out."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from neckmodel.cli.app import app
from neckmodel.design.defaults.defaults import DEFAULTS
from neckmodel.design.defaults.instruments import INSTRUMENTS
from neckmodel.design.explanation import about_key, keys


def explained(*words: str) -> str:
    result = CliRunner().invoke(app, ["explain", *words], catch_exceptions=False)
    return " ".join(result.output.split())


def test_a_default_by_instrument_is_told_for_each_and_stays_common_practice() -> None:
    said = explained("action.wanted_relief")
    assert said.startswith("action.wanted_relief is: Relief that the strung neck should have. left out: 0.15 mm")
    for name, relief in (("electric", 0.15), ("bass", 0.3), ("steel-string", 0.2), ("mandolin", 0.1)):
        assert f"{name} {relief} mm" in said
    assert said.endswith("source: common practice, no published source")


def test_every_default_is_told_with_its_source() -> None:
    """None of them has a published one."""
    for key in keys():
        told = about_key(key)
        assert told is not None, key
        assert told.says.endswith("."), key
        if told.default.startswith("none") and ";" not in told.default:
            assert told.source == "", key
        else:
            assert told.source == "common practice, no published source", key
    assert {key for key in DEFAULTS if "*" not in key} == set(keys())


def test_what_follows_from_the_instrument_is_listed() -> None:
    said = explained("design.instrument")
    for key in ("action.at_12", "heel.depth", "head.length", "rod_place.past_joint", "strings.spacing_at_nut"):
        assert key in said
        told = about_key(key)
        assert told is not None
        assert all(name in told.default for name in INSTRUMENTS)
    assert "channel.wider_by" not in said


def test_as_json() -> None:
    found = json.loads(CliRunner().invoke(app, ["explain", "nut.thickness", "--json"]).output)
    assert found["schema"] == "neckmodel/explain/1"
    assert found["checks"] == []
    assert [(key["key"], key["default"]) for key in found["keys"]] == [("nut.thickness", "5 mm")]
    of_a_check = json.loads(CliRunner().invoke(app, ["explain", "wall/run", "--json"]).output)
    assert of_a_check["keys"] == []
    assert [check["name"] for check in of_a_check["checks"]] == ["wall/<step>"]


@pytest.mark.parametrize(
    ("key", "default"),
    [
        ("board.length", "none: it must be stated"),
        ("body.outline", "none"),
        ("seasons.damp.humidity", "65 %"),
        ("head.angle", "12 degrees, or what follows from other keys"),
        ("fretboard.zero_fret", "false"),
        ("strings.each", "none"),
    ],
)
def test_of_each_kind_of_default(key: str, default: str) -> None:
    told = about_key(key)
    assert told is not None
    assert told.default == default


def test_an_unknown_key_is_told_with_the_nearest() -> None:
    failed = CliRunner().invoke(app, ["explain", "action.at12"])
    assert failed.exit_code == 2
    assert failed.output.strip() == ('neckmodel: the design file has no key "action.at12"; did you mean action.at_12?')
    assert about_key("wall.run") is None
    assert about_key("neck") is None
