"""Prints what was measured at the bench, and the sentences for the next cuts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.cli.terminal.table import named_table, show_lines

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.tables import Voice


def show_built(layout: Layout, voice: Voice) -> None:
    """Prints the table and the sentences; nothing where nothing was measured."""
    from neckmodel.layout.tables.measured import built, next_cuts

    table = built(layout, voice)
    named_table(table.title, table.columns, table.rows, table.text)
    for text in next_cuts(layout, voice):
        show_lines(text, indent=2, hang=2)
