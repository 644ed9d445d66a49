"""Tables on stdout: plain columns that look the same on a terminal, in a pipe and on paper."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence
from dataclasses import dataclass

from neckmodel.cli.terminal.out import fancy, say

PIPE_WIDTH = 100  # columns, where nothing says how wide the reader is
LEAST_WIDTH = 60  # narrower than this a table would fall to pieces
GAP = 2  # spaces between columns
JOINT = "\ue000"  # stands for a space at which no line is folded
_WITHIN = re.compile(r" (?=\d+/\d+\))")  # the space in `(1 31/64)`


@dataclass(frozen=True)
class Column:
    """A column. Numbers stand right, text left. least: number of signs below which a text is not worth folding."""

    title: str
    number: bool = False
    least: int = 0


def show_table(
    title: str, columns: Sequence[Column], rows: Sequence[Sequence[str]], styles: Sequence[str] = ()
) -> None:
    """Prints a table under its title. styles: of each row, in the words of rich; never the only sign of anything.

    No word and no number is cut: cells are folded at spaces. Where that is not enough for the width, each row is
    printed as a block of lines, one column below the other.
    """
    if title:
        show_lines("", title)
    whole = [[_WITHIN.sub(JOINT, cell) for cell in row] for row in rows]
    widths = _widths(columns, whole)
    if widths is None:
        _blocks(columns, whole, styles)
        return
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, padding=(0, GAP, 0, 0), pad_edge=False, header_style="bold")
    for column, wide in zip(columns, widths, strict=True):
        table.add_column(Text(column.title), justify="right" if column.number else "left", width=wide, overflow="fold")
    for at, row in enumerate(whole):
        table.add_row(*(Text(cell) for cell in row), style=styles[at] if styles else None)
    _print(table)


def _widths(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[int] | None:
    """The width of each column: that of its longest cell, or less, the widest columns first; None where words would be
    cut."""
    from rich.cells import cell_len

    widths, least = [], []
    for at, column in enumerate(columns):
        cells = [column.title, *(row[at] for row in rows)]
        widths.append(max(1, *(cell_len(cell) for cell in cells)))
        least.append(max(min(column.least, widths[-1]), *(cell_len(word) for cell in cells for word in cell.split())))
    room = width() - GAP * (len(columns) - 1)
    if sum(least) > room:
        return None
    while sum(widths) > room:
        spare = [at for at in range(len(widths)) if widths[at] > least[at]]
        widths[max(spare, key=lambda at: widths[at])] -= 1
    return widths


def _blocks(columns: Sequence[Column], rows: Sequence[Sequence[str]], styles: Sequence[str]) -> None:
    """Prints each row's columns below each other, with an empty line between rows."""
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, padding=(0, GAP, 0, 0), pad_edge=False, show_header=False)
    table.add_column(style="bold", no_wrap=True, width=max(len(column.title) for column in columns))
    table.add_column(overflow="fold")
    for at, row in enumerate(rows):
        if at:
            table.add_row()
        for column, cell in zip(columns, row, strict=True):
            table.add_row(Text(column.title), Text(cell, style=styles[at] if styles else ""))
    _print(table)


def show_lines(*lines: str, indent: int = 0, hang: int = 0) -> None:
    """Print lines of text, folded to the width of the terminal. hang: further indent of what is folded."""
    import textwrap

    for line in lines:
        first, rest = " " * indent, " " * (indent + hang)
        folded = textwrap.wrap(
            _WITHIN.sub(JOINT, line),
            width(),
            initial_indent=first,
            subsequent_indent=rest,
            break_long_words=False,
            break_on_hyphens=False,
        )
        say("\n".join(folded).replace(JOINT, " "))


def width() -> int:
    """The columns to print in: the terminal's, else those that COLUMNS states, else 100."""
    if sys.stdout.isatty() or os.environ.get("COLUMNS", "").isdigit():
        import shutil

        return max(shutil.get_terminal_size((PIPE_WIDTH, 24)).columns, LEAST_WIDTH)
    return PIPE_WIDTH


def plus_minus() -> str:
    """The sign for plus or minus, or "+-" where the stream cannot show it."""
    return "±" if fancy(sys.stdout) else "+-"


def _print(table: object) -> None:
    from rich.console import Console

    # rich itself honours NO_COLOR, TERM=dumb and a stdout that is no terminal
    console = Console(file=sys.stdout, width=width(), highlight=False, markup=False, emoji=False)
    with console.capture() as caught:
        console.print(table)
    say("\n".join(line.rstrip() for line in caught.get().replace(JOINT, " ").splitlines()))


def named_table(title: str, columns: Sequence[str], rows: Sequence[Sequence[str]], text: int = 1) -> None:
    """Prints a table whose first `text` columns hold words and whose others hold numbers; nothing without rows."""
    if rows:
        show_table(title, [Column(name, number=at >= text) for at, name in enumerate(columns)], rows)
