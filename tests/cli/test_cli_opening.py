"""What FILE may be, and what every command says of a FILE it cannot use."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from cli_runs import Invoke
from typer.testing import Result

from neckmodel import presets


def preset_text(name: str) -> str:
    return (presets.folder() / f"{name}.toml").read_text()


def name_of(result: Result) -> str:
    assert result.exit_code == 0, result.stderr
    return str(json.loads(result.stdout)["name"])


def test_a_preset_by_name_and_a_file_by_path(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "redpoll.toml").write_text(preset_text("dunnock"))
    assert name_of(invoke("layout", "redpoll", "--json")) == "redpoll"
    assert name_of(invoke("layout", "redpoll.toml", "--json")) == "dunnock"
    assert name_of(invoke("layout", "./redpoll.toml", "--json")) == "dunnock"


def test_a_file_beside_a_preset_of_its_name_is_mentioned(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "redpoll.toml").write_text(preset_text("dunnock"))
    said = "neckmodel: redpoll is the preset; write redpoll.toml for the file in this folder\n"
    assert invoke("layout", "redpoll").stderr.startswith(said)
    assert invoke("layout", "redpoll", "--quiet").stderr == ""


def test_a_file_without_suffix_wins_and_a_folder_does_not(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "redpoll").mkdir()
    assert name_of(invoke("layout", "redpoll", "--json")) == "redpoll"
    (tmp_path / "garganey").write_text(preset_text("dunnock"))
    assert name_of(invoke("layout", "garganey", "--json")) == "dunnock"


def test_standard_input(invoke: Invoke) -> None:
    assert name_of(invoke("layout", "-", "--json", input=preset_text("dunnock"))) == "dunnock"


def test_standard_input_is_named_in_its_errors(invoke: Invoke) -> None:
    result = invoke("layout", "-", input="[design]\nname = 3\n")
    assert result.exit_code == 2
    assert "standard input:2: design.name = 3" in result.stderr


@pytest.mark.parametrize(
    ("file", "said"),
    [
        ("heron", 'neckmodel: "heron" is neither a file nor a preset (presets: '),
        ("redpol", "did you mean redpoll?"),
        ("heron.toml", "heron.toml: the file: there is no such file"),
        ("no/such/heron", "no/such/heron: the file: there is no such file"),
        (".", "is a folder, not a design file"),
        ("x" * 5000, "is neither a file nor a preset"),
    ],
)
def test_a_file_that_is_none(invoke: Invoke, file: str, said: str) -> None:
    result = invoke("layout", file)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_a_name_whose_file_has_the_suffix(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "wren.toml").write_text(preset_text("dunnock"))
    result = invoke("layout", "wren")
    assert result.exit_code == 2
    assert result.stderr == 'neckmodel: there is no preset "wren"; write wren.toml for the file in this folder\n'


def test_set_overrides_and_all_its_mistakes_are_told_at_once(invoke: Invoke) -> None:
    one = json.loads(invoke("layout", "redpoll", "--json", "--set", "strings.scale=630").stdout)
    assert one["frets"][11]["x"] == pytest.approx(315.0)  # fret 12 halves the string
    result = invoke("layout", "redpoll", "--set", "rod.lenght=4", "--set", "neck.thickness.fret_1=-3", "--set", "x")
    assert result.exit_code == 2
    result = invoke("layout", "redpoll", "--set", "rod.lenght=4", "--set", "neck.thickness.fret_1=-3")
    assert result.exit_code == 2
    assert "rod.lenght" in result.stderr
    assert "neck.thickness.fret_1" in result.stderr


def test_a_pipe_is_read_like_a_file(invoke: Invoke, tmp_path: Path) -> None:
    inlet, outlet = os.pipe()
    os.write(outlet, preset_text("dunnock").encode())
    os.close(outlet)
    try:
        assert name_of(invoke("layout", f"/dev/fd/{inlet}", "--json")) == "dunnock"
    finally:
        os.close(inlet)
    assert list(tmp_path.iterdir()) == []


def test_the_schema_is_printed_and_written_alike(invoke: Invoke, tmp_path: Path) -> None:
    printed = invoke("schema")
    assert printed.exit_code == 0
    assert json.loads(printed.stdout)["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert invoke("schema", "--json", "--quiet", "--out", "editor").exit_code == 0
    assert (tmp_path / "editor" / "design.schema.json").read_text(encoding="utf-8") == printed.stdout


def test_a_layout_in_inches_is_read_in_inches(invoke: Invoke) -> None:
    text = (
        '[design]\nname = "wren"\nunits = "in"\n[strings]\ncourses = 6\nscale = 25.5\n[fretboard]\n'
        "[neck]\njoint_fret = 16\n[bars]\ncount = 1\nwidth = 0.25\nheight = 0.375\nlength = 16\n"
    )
    result = invoke("layout", "-", "--quiet", input=text)
    assert result.exit_code == 0, result.stderr
    assert "Lengths in inches, the nearest 1/64 in brackets." in result.stdout
    assert "12.750 (12 3/4)" in result.stdout  # fret 12 halves 25.5 in
