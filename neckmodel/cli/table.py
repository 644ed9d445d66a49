"""Tables on stdout: plain columns that a terminal, a pipe and a printer all show alike."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass

from neckmodel.cli.out import fancy, say

PIPE_WIDTH = 100  # columns, where nothing says how wide the reader is
LEAST_WIDTH = 60  # narrower than this a table would fall to pieces


@dataclass(frozen=True)
class Column:
    """One column. Numbers stand right, text left; what is not `whole` may be folded, down to `least` columns."""

    title: str
    number: bool = False
    whole: bool = True
    least: int | None = None


def show_table(
    title: str, columns: Sequence[Column], rows: Sequence[Sequence[str]], styles: Sequence[str] = ()
) -> None:
    """Print a table under its title. styles: of each row, in the words of rich; never the only sign of anything."""
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style="bold", title_justify="left")
    for at, column in enumerate(columns):
        longest = max((len(row[at]) for row in rows), default=0)
        table.add_column(
            Text(column.title),
            justify="right" if column.number else "left",
            no_wrap=column.whole,
            overflow="fold",
            min_width=None if column.least is None else min(column.least, longest),
        )
    for at, row in enumerate(rows):
        table.add_row(*(Text(cell) for cell in row), style=styles[at] if styles else None)
    if title:
        show_lines("", title)
    _print(table)


def show_lines(*lines: str, indent: int = 0, hang: int = 0) -> None:
    """Print lines of text, folded to the width of the terminal. hang: further indent of what is folded."""
    import textwrap

    for line in lines:
        first, rest = " " * indent, " " * (indent + hang)
        folded = textwrap.wrap(
            line, width(), initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
        )
        say("\n".join(folded))


def width() -> int:
    """Columns to print in: the terminal's, else what COLUMNS says, else 100."""
    if sys.stdout.isatty() or os.environ.get("COLUMNS", "").isdigit():
        import shutil

        return max(shutil.get_terminal_size((PIPE_WIDTH, 24)).columns, LEAST_WIDTH)
    return PIPE_WIDTH


def plus_minus() -> str:
    return "±" if fancy(sys.stdout) else "+-"


def _print(table: object) -> None:
    from rich.console import Console

    # rich itself honours NO_COLOR, TERM=dumb and a stdout that is no terminal
    console = Console(file=sys.stdout, width=width(), highlight=False, markup=False, emoji=False)
    with console.capture() as caught:
        console.print(table)
    say("\n".join(line.rstrip() for line in caught.get().splitlines()))


def named_table(title: str, columns: Sequence[str], rows: Sequence[Sequence[str]], text: int = 1) -> None:
    """A table whose first `text` columns are words and whose others are numbers; nothing without rows."""
    if rows:
        show_table(title, [Column(name, number=at >= text) for at, name in enumerate(columns)], rows)
