"""The layout's tables on a terminal: frets, strings, outlines, sections, rod, channel, stations."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.cli.terminal.out import say
from neckmodel.cli.terminal.table import named_table, show_lines
from neckmodel.layout.tables import Voice, rod, shown, strings, wood
from neckmodel.layout.tables.measured import built, next_cuts

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SHOWN = (*shown.STRINGS, strings.trueness, *shown.NECK, wood.stations)


def show_layout(layout: Layout) -> None:
    """Prints every table, lengths in the unit of the design's file."""
    unit = layout.design.design.units
    say(f"{layout.name}: {layout.design.design.remark}" if layout.design.design.remark else layout.name)
    show_lines(
        f"Lengths in {'mm' if unit == 'mm' else 'inches, the nearest 1/64 in brackets'}. x counts from the nut toward "
        f"the body, y from the centre line toward the {layout.side_up} side, z from the glue plane toward the strings."
    )
    voice = Voice(unit, terse=True)
    for make in SHOWN:
        table = make(layout, voice)
        named_table(table.title, table.columns, table.rows, table.text)
        if make is rod.cutting:
            _without_cutter(layout)
        if make is strings.string_marks:
            _show_pulls(layout)
    _show_built(layout, voice)


def _show_built(layout: Layout, voice: Voice) -> None:
    """Prints what was measured at the bench, and the sentences for the next cuts; nothing if nothing was measured."""
    table = built(layout, voice)
    named_table(table.title, table.columns, table.rows, table.text)
    for text in next_cuts(layout, voice):
        show_lines(text, indent=2, hang=2)


def _show_pulls(layout: Layout) -> None:
    """Prints the strings' pull, where the design states enough."""
    from neckmodel.strength.strings.load import head_side, load_of
    from neckmodel.strength.strings.pull import pull_of
    from neckmodel.strength.tables import pulls

    pull = pull_of(layout.design.strings)
    if pull.missing is not None:
        return
    table = pulls(layout, pull, head_side(layout, load_of(layout, pull), pull))
    named_table(table.title, table.columns, table.rows, table.text)
    if pull.estimated:
        show_lines(f"estimates: {pull.estimated}", indent=2, hang=2)


def _without_cutter(layout: Layout) -> None:
    for cutting in layout.cuttings:
        if cutting.diameter is None:
            show_lines(f"{cutting.step}: {cutting.says}", indent=2, hang=2)
