"""Names typed in any case, and what the shell completes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from cli_runs import Invoke, Process

from neckmodel import presets
from neckmodel.cli import completion


@pytest.mark.parametrize(
    "words",
    [
        ("layout", "Redpoll"),
        ("new", "wren", "--like", "DUNNOCK", "--units", "MM"),
        ("explain", "Wall/Run"),
        ("explain", "WALL"),
        ("jig", "redpoll", "LIST"),
        ("vary", "redpoll", "Range", "rod.length", "418", "420", "1"),
        ("sheets", "redpoll", "--sheet", "Board", "--paper", "a4", "--format", "PDF", "--dxf-unit", "IN"),
    ],
)
def test_names_in_any_case(invoke: Invoke, words: tuple[str, ...]) -> None:
    result = invoke(*words)
    assert result.exit_code == 0, result.stderr


def test_sheets_are_the_same_files_in_any_case(invoke: Invoke) -> None:
    one = invoke("sheets", "redpoll", "--sheet", "board", "--paper", "Letter", "--out", "one", "--quiet")
    two = invoke("sheets", "REDPOLL", "--sheet", "BOARD", "--paper", "letter", "--out", "two", "--quiet")
    assert one.exit_code == two.exit_code == 0
    assert one.stdout.replace("one", "two") == two.stdout


@pytest.mark.parametrize(
    ("words", "known"),
    [
        (("sheets", "redpoll", "--paper", "A5"), "A4, A3, Letter, Tabloid, long"),
        (("build", "redpoll", "--format", "stp"), "step, stl, 3mf, glb"),
        (("build", "redpoll", "--setup", "up"), "glue-up"),
        (("jig", "redpoll", "template"), "routing-template"),
    ],
)
def test_what_is_not_known_is_refused_with_all_there_are(invoke: Invoke, words: tuple[str, ...], known: str) -> None:
    result = invoke(*words)
    assert result.exit_code == 2
    assert known in result.stderr


def test_what_is_offered() -> None:
    assert completion.designs("RED") == ["redpoll"]
    assert set(completion.designs("")) >= set(presets.names())
    assert completion.jig_kinds("c") == ["contour-gauge", "caul", "cradle"]
    assert "marking-out" in completion.sheet_kinds("m")
    assert "jig-caul" in completion.sheet_kinds("JIG-")
    assert completion.papers("l") == ["Letter", "long"]
    assert completion.drawing_formats("") == ["pdf", "svg", "dxf"]
    assert completion.formats("s") == ["step", "stl"]
    assert completion.setups("back") == ["back-up", "back-up-bed"]
    assert {"wall/", "wall/run", "wall/rod-end"} <= set(completion.checks("wall"))
    assert not any("<" in name for name in completion.checks(""))
    assert completion.keys("neck.thickness.") == ["neck.thickness.fret_1", "neck.thickness.fret_12"]
    assert "heel.screws.0.from_end" in completion.keys("heel.")
    assert completion.settings("rod.len") == ["rod.length="]
    assert completion.settings("channel.ends=r") == ["channel.ends=round", "channel.ends=run-long"]


def test_design_files_are_offered_with_the_folders_on_the_way(invoke: Invoke, tmp_path: Path) -> None:
    (tmp_path / "designs").mkdir()
    assert invoke("new", "wren", "--out", "designs").exit_code == 0
    (tmp_path / "designs" / "notes.txt").write_text("")
    assert completion.designs("des") == ["designs/"]
    assert completion.designs("designs/") == ["designs/wren.toml"]
    assert completion.designs("no/such/folder") == []


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        (("check", "re"), ["redpoll"]),
        (("new", "wren", "--like", "pi"), ["pipit"]),
        (("explain", "glue"), ["glue/", "glue/nut"]),
        (("jig", "redpoll", "cra"), ["cradle"]),
        (("check", "redpoll", "--set", "neck.joint"), ["neck.joint_fret="]),
        (("sheets", "redpoll", "--sheet", "mark"), ["marking-out"]),
    ],
)
def test_the_shell_is_told(process: Process, typed: tuple[str, ...], offered: list[str]) -> None:
    env = {
        "_NECKMODEL_COMPLETE": "complete_bash",
        "COMP_WORDS": " ".join(("neckmodel", *typed)),
        "COMP_CWORD": str(len(typed)),
    }
    assert process(env=env).stdout.split() == offered


def test_help_shows_what_stands_in_brackets(process: Process) -> None:
    shown = " ".join(re.sub("[^!-~]+", " ", process("rods", "--help", env={"COLUMNS": "200"}).stdout).split())
    assert "[[rod]] tables, each like [rod]" in shown
    assert "\\[" not in shown
