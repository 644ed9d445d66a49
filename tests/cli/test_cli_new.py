"""`new` and `presets`: what a maker starts from."""

from __future__ import annotations

import json
import os
import re
from itertools import takewhile
from pathlib import Path

import pytest
from cli_runs import Invoke

from neckmodel import presets
from neckmodel.design import read


@pytest.mark.parametrize("like", presets.names())
def test_a_new_file_is_the_preset_under_its_own_name(invoke: Invoke, tmp_path: Path, like: str) -> None:
    result = invoke("new", "wren", "--like", like)
    assert result.exit_code == 0, result.stderr
    made, preset = read(tmp_path / "wren.toml"), read(presets.folder() / f"{like}.toml")
    assert made.name == "wren"
    assert made.model_dump(exclude={"design": {"name"}}) == preset.model_dump(exclude={"design": {"name"}})
    text = (tmp_path / "wren.toml").read_text()
    assert text.startswith(f"# wren: started from the preset {like}.")
    assert_every_key_is_told_of(text)
    assert f'"{like}"' not in text


def assert_every_key_is_told_of(text: str) -> None:
    """Above each key stands a remark; where it is a size, with its range and unit. Of tables in braces each key is told
    of too."""
    rows = text.splitlines()
    keys = [at for at, row in enumerate(rows) if re.match(r"\w+ = ", row)]
    assert len(keys) > 45
    for at in keys:
        assert rows[at - 1].startswith("# "), rows[at]
        above = list(takewhile(lambda row: row.startswith("#"), rows[at - 1 :: -1]))
        remark = " ".join(row.lstrip("# ") for row in reversed(above))
        inner = re.findall(r"[{,] ?(\w+) = ", rows[at].partition(" = ")[2].partition("#")[0])
        assert all(f"{name}: " in remark for name in inner), rows[at]
        if re.search(r"= -?\d+\.\d+$", rows[at]):
            assert re.search(r"\d to -?[\d.]+ (mm|degrees)", remark), rows[at]


def test_what_a_remark_says(invoke: Invoke, tmp_path: Path) -> None:
    """By common practice the nut is 3 to 6.5 mm thick; kinds are told as they are written."""
    assert invoke("new", "wren").exit_code == 0
    rows = (tmp_path / "wren.toml").read_text().splitlines()
    for remark, key in (
        ("# Thickness of the nut along the neck. 1.5 to 15 mm, usually 3 to 6.5 mm; default 5 mm.", "thickness = 5.0"),
        ('# End at which the adjuster lies. "head" or "heel"; default "head".', 'adjuster_at = "head"'),
        ("# Number of courses: what the hand frets. 3 to 12; it must be stated.", "courses = 6"),
        ('# May be stated too: past_joint_of (default "outer").', ""),
    ):
        assert rows[rows.index(remark) + 1] == key
    assert any(row.startswith("# Sections that may be added: bars, limits") for row in rows[-3:])


def test_a_default_follows_the_instrument_that_is_started(invoke: Invoke, tmp_path: Path) -> None:
    """A 4-string bass is usually 40 mm wide at its nut, less two margins of 4."""
    assert invoke("new", "wren", "--like", "dunnock").exit_code == 0
    rows = (tmp_path / "wren.toml").read_text().splitlines()
    at = next(k for k, row in enumerate(rows) if row.startswith("spacing_at_nut = "))
    assert "default 32 mm." in f"{rows[at - 2]} {rows[at - 1]}"


def test_redpoll_is_what_a_new_file_starts_from(invoke: Invoke, tmp_path: Path) -> None:
    assert invoke("new", "wren").exit_code == 0
    assert read(tmp_path / "wren.toml").strings.courses == 6


def test_never_overwrites(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "wren.toml").write_text("mine")
    result = invoke("new", "wren")
    assert result.exit_code == 2
    assert result.stderr == "neckmodel: wren.toml is there already; it stays as it is\n"
    assert (tmp_path / "wren.toml").read_text() == "mine"
    assert os.listdir(tmp_path) == ["wren.toml"]


def test_the_suffix_may_be_typed_and_the_folder_chosen(invoke: Invoke, tmp_path: Path) -> None:
    assert invoke("new", "wren.toml", "--out", "designs").exit_code == 0
    assert read(tmp_path / "designs" / "wren.toml").name == "wren"


@pytest.mark.parametrize("name", ["../wren", "", ".wren", "a b", 'wr"en', "-", "w" * 65])
def test_a_name_that_is_none_is_refused_and_nothing_is_left(invoke: Invoke, tmp_path: Path, name: str) -> None:
    result = invoke("new", "--", name)
    assert result.exit_code == 2
    assert "design.name" in result.stderr
    assert list(tmp_path.iterdir()) == []
    assert len(result.stderr.splitlines()) == 1


def test_an_unknown_preset_is_refused(invoke: Invoke, tmp_path: Path) -> None:
    result = invoke("new", "wren", "--like", "heron")
    assert (result.exit_code, list(tmp_path.iterdir())) == (2, [])
    listed = ", ".join(presets.names())
    assert result.stderr == f'neckmodel: "heron" is neither a file nor a preset (presets: {listed})\n'


def test_a_file_system_without_second_names_does_not_overwrite_either(
    invoke: Invoke, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("os.link", refused)
    assert invoke("new", "wren").exit_code == 0
    before = (tmp_path / "wren.toml").read_bytes()
    assert invoke("new", "wren", "--like", "dunnock").exit_code == 2
    assert (tmp_path / "wren.toml").read_bytes() == before
    assert os.listdir(tmp_path) == ["wren.toml"]


def test_presets_are_listed_a_line_each(invoke: Invoke) -> None:
    lines = invoke("presets").stdout.splitlines()
    assert [line.split()[0] for line in lines] == list(presets.names())
    redpoll = lines[presets.names().index("redpoll")]
    assert "640 mm" in redpoll
    assert "6-string electric, bolted" in redpoll
    assert "two-way rod" in redpoll
    assert "stepped head" in redpoll


def test_presets_as_json(invoke: Invoke) -> None:
    listed = json.loads(invoke("presets", "--json").stdout)["presets"]
    assert {found["name"]: found["scale"] for found in listed}.items() >= {
        "dunnock": [776],
        "redpoll": [640],
        "garganey": [852],
    }.items()
