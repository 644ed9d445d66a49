"""A part of the page: the layout's tables of frets, strings, outlines, sections, rod, channel, holes, stations."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.tables import Table, Voice, shown, wood
from neckmodel.report.html import Html, el, fold, joined, section
from neckmodel.report.html import table as html_table

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SHOWN = (wood.stations, *shown.STRINGS, *shown.NECK, wood.recesses)


def tables_section(layout: Layout) -> Html:
    """The section with every table."""
    says = (
        "Derived from the design. x counts from the nut toward the body, y from the centre line toward the "
        f"{layout.side_up} side, z from the glue plane toward the strings."
    )
    shown = [
        fold(each.title, html_table(each.title, each.columns, each.rows, each.text)) for each in layout_tables(layout)
    ]
    return section("tables", "The layout in numbers", el("p", says, class_="small"), joined(shown))


def layout_tables(layout: Layout) -> tuple[Table, ...]:
    """Every table that has rows; each length with its unit, that of the design."""
    voice = Voice(layout.design.design.units)
    found = [make(layout, voice) for make in SHOWN]
    return tuple(each for each in found if each.rows)
