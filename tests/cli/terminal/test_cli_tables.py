"""Tables on narrow terminals: whatever the width, every word and every digit of every cell is there, and whole."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import pytest
from cli_runs import Invoke
from inch_designs import in_inches

from neckmodel.cli.terminal import table
from neckmodel.cli.terminal.table import Column, show_table

RODS = "".join(
    f"""
[[rod]]
name = "{name}"
kind = "two-way"
adjuster_at = "head"
length = "{length} mm"
width = "6 mm"
height = "9.2 mm"
adjuster.diameter = "7 mm"
adjuster.length = "10 mm"
adjuster.axis_below_top = "4.2 mm"
adjuster.socket = {{kind = "hex", size = "4 mm", depth = "5 mm"}}
"""
    for name, length in (("rush 420", 420), ("a rush that is far too long for this neck", 470))
)
COMMANDS = (
    ("layout", "{file}"),
    ("check", "{file}"),
    ("rods", "{file}", "rods.toml"),
    ("vary", "{file}", "tolerance"),
    ("vary", "{file}", "range", "head.drop", "2 mm", "14 mm", "4 mm"),  # the last ones leave too little wood
)
FEW = 2_000  # necks drawn: the cells are as many and as wide as with 100,000
FREE = ("layout", "vary")  # need no CAD kernel, so every preset and width is looked at


class Seen:
    """What was asked to be printed as tables, and what was."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.asked: list[tuple[Sequence[Column], Sequence[Sequence[str]]]] = []
        self.printed: list[str] = []
        show, say = table._print, table.say

        def printing(shown: object) -> None:
            monkeypatch.setattr(table, "say", lambda text: (self.printed.append(text), say(text)))
            show(shown)
            monkeypatch.setattr(table, "say", say)

        widths = table._widths

        def asking(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[int] | None:
            self.asked.append((columns, rows))
            return widths(columns, rows)

        monkeypatch.setattr(table, "_print", printing)
        monkeypatch.setattr(table, "_widths", asking)

    def judge(self, columns: int) -> None:
        assert self.asked
        for (titles, rows), text in zip(self.asked, self.printed, strict=True):
            assert max(len(line) for line in text.splitlines()) <= columns
            assert not re.search(r"\(-?\d+$", text, re.MULTILINE), "a fraction is not torn"
            found = Counter(text.split())
            cells = Counter(word for row in rows for cell in row for word in cell.replace(table.JOINT, " ").split())
            names = Counter(word for column in titles for word in column.title.split())
            blocks = {word: count * len(rows) for word, count in names.items()}
            assert found in (cells + names, cells + Counter(blocks))


def file_of(preset: str, unit: str) -> str:
    """The preset itself, or a copy of it in inches in the folder of the test."""
    if unit == "mm":
        return preset
    Path("inch.toml").write_text(in_inches(preset), encoding="utf-8")
    return "inch.toml"


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: " ".join(command[::2])[:20])
def test_every_cell_is_whole_at_80_columns(
    invoke: Invoke, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...], unit: str
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    Path("rods.toml").write_text(RODS, encoding="utf-8")
    file, seen = file_of("redpoll", unit), Seen(monkeypatch)
    assert invoke(*(word.format(file=file) for word in command)).exit_code in (0, 1)
    seen.judge(80)


@pytest.mark.parametrize("columns", [60, 80, 100, 120])
@pytest.mark.parametrize("preset", ["garganey", "wheatear", "whimbrel"])
@pytest.mark.parametrize("command", [c for c in COMMANDS if c[0] in FREE], ids=lambda c: " ".join(c[::2])[:20])
def test_every_cell_is_whole_in_inches_at_any_width(
    invoke: Invoke, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...], preset: str, columns: int
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    monkeypatch.setattr("neckmodel.variants.tolerance.errors.NECKS", FEW)
    file, seen = file_of(preset, "in"), Seen(monkeypatch)
    assert invoke(*(word.format(file=file) for word in command)).exit_code == 0
    seen.judge(columns)


def test_the_widest_column_is_folded_first(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """20 of 60 columns are the first two with their gaps; the third has 40, and breaks at the last space before."""
    monkeypatch.setenv("COLUMNS", "60")
    text = "the wall round the run binds first; the wood's end is next"
    show_table("", [Column("rod"), Column("long", number=True), Column("because")], [("rush 420", "647.7000", text)])
    assert capsys.readouterr().out.splitlines() == [
        "rod           long  because",
        "rush 420  647.7000  the wall round the run binds first; the",
        "                    wood's end is next",
    ]


def test_a_row_that_cannot_stand_in_one_line_becomes_a_block(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    columns = [Column(f"key_{n}", number=n > 0) for n in range(5)]
    rows = [tuple(f"{row}{n}" * 6 for n in range(5)) for row in range(2)]
    show_table("", columns, rows)
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["key_0  000000000000", "key_1  010101010101"]
    assert lines[5] == ""
    assert lines[6:] == [f"key_{n}  {f'1{n}' * 6}" for n in range(5)]
