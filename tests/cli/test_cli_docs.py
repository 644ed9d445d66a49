"""README.md against the program: commands, options, families of checks, and the output it shows."""

from __future__ import annotations

import re

import pytest
import typer
from cli_runs import ROOT, Invoke

from neckmodel.checks import registry
from neckmodel.cli import app

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COMMANDS = typer.main.get_command(app).commands  # type: ignore[attr-defined]


def blocks(kind: str) -> list[str]:
    return re.findall(rf"```{kind}\n(.*?)```", README, re.DOTALL)


def rows(heading: str) -> list[list[str]]:
    """The cells of the first table under a heading, without its own heading."""
    section = README.split(f"\n## {heading}\n", 1)[1].split("\n## ", 1)[0]
    table = re.search(r"(?:^\|.*\n)+", section, re.MULTILINE)
    assert table is not None
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in table[0].splitlines()[2:]]


def test_every_command_has_its_row_and_every_row_its_command() -> None:
    named = [re.match(r"`neckmodel ([a-z]+)", cells[0]) for cells in rows("Commands")]
    assert [match[1] for match in named if match] == list(COMMANDS)


def test_every_command_shown_can_be_typed() -> None:
    lines = [line for block in blocks("sh") for line in block.splitlines() if "neckmodel" in line]
    shown = [match for line in lines for match in re.findall(r"(?:^|/)neckmodel (\S+)(.*)", line)]
    assert len(shown) >= 7
    for command, rest in shown:
        assert command in COMMANDS
        assert set(re.findall(r"--[a-z-]+", rest)) <= options(command)


def options(command: str) -> set[str]:
    return {name for parameter in COMMANDS[command].params for name in parameter.opts if name.startswith("--")}


def test_every_option_is_real_and_every_real_one_is_told() -> None:
    real = set().union(*(options(command) for command in COMMANDS)) - {"--help"}
    told = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", README))
    assert told - {"--help", "--install-completion"} == real


def test_the_families_of_checks_are_those_of_the_registry() -> None:
    families = list(dict.fromkeys(about.name.partition("/")[0] for about in registry.EXPLAINED))
    assert [cells[0].strip("`") for cells in rows("What each check means")] == families


@pytest.mark.parametrize("name", ["build", "test"])
def test_the_two_commands_are_where_ci_looks_for_them(name: str) -> None:
    marked = re.findall(rf"^<!-- command: {name} -->\n```sh\n(.*?)\n```$", README, re.MULTILINE | re.DOTALL)
    assert len(marked) == 1
    assert "\n" not in marked[0]
    assert marked[0].startswith("python3 -m venv .venv && .venv/bin/pip install -e ")


def test_the_cautions_are_there() -> None:
    cautions = README.split("\n## Cautions\n", 1)[1].split("\n## ", 1)[0]
    for word in ("manual", "data sheet", "local rules", "eye, ear and lung", "gloves", "unplugged", "scrap", "chisel"):
        assert word in cautions
    for word in ("dust", "sensitise", "String ends", "stiff", "55 °C", "no\n  warranty", "legal"):
        assert word in cautions


def test_no_document_names_what_it_does_not_have() -> None:
    """Relative links and file names of the project exist."""
    for text in (README, DEVELOPERS):
        for target in re.findall(r"\]\(([^)#:]+)\)", text):
            assert (ROOT / target).is_file(), target
        for name in re.findall(r"`((?:neckmodel|cli|checks|design|layout|solids|writers|tests)/[\w/]*\.?\w*)`", text):
            places = (ROOT / name, ROOT / "neckmodel" / name)
            assert any(place.exists() for place in places), name


def test_the_output_shown_is_the_output(invoke: Invoke, monkeypatch: pytest.MonkeyPatch) -> None:
    """The walk of README.md, followed: every line it shows is printed; "..." stands for what it leaves out."""
    monkeypatch.setenv("COLUMNS", "80")
    assert invoke("new", "wren", "--like", "redpoll").exit_code == 0
    edit = ("--set", "neck.thickness.fret_1=18", "--set", "neck.thickness.fret_12=20", "--quiet")
    printed = invoke("layout", "wren.toml", *edit).stdout
    checked = invoke("check", "wren.toml", *edit)
    assert checked.exit_code == 1
    printed += checked.stdout
    shown = [line for block in blocks("text")[:2] for line in block.splitlines() if line not in ("", "...")]
    assert len(shown) > 15
    have = {line.rstrip() for line in printed.splitlines()}
    assert [line for line in shown if line.rstrip() not in have] == []
