"""Parts of the page: the layout's tables of frets, strings, outlines, rod, channel and holes; what was measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.tables import Table, Voice, shown, wood
from neckmodel.layout.tables.measured import built, next_cuts
from neckmodel.report.html import Html, el, fold, joined, list_of, section
from neckmodel.report.html import table as html_table

if TYPE_CHECKING:
    from neckmodel.layout import Layout

MEASURED_STANDS = (
    "What was measured stands in the place of the plan everywhere on this page, and what is cut already is left alone."
)
SHOWN = (wood.stations, *shown.STRINGS, *shown.NECK, wood.recesses)


def tables_section(layout: Layout) -> Html:
    """The section with every table."""
    says = (
        "Derived from the design. x counts from the nut toward the body, y from the centre line toward the "
        f"{layout.side_up} side, z from the glue plane toward the strings."
    )
    shown = [
        fold(each.title, html_table(each.title, each.columns, each.rows, each.text, captioned=False))
        for each in layout_tables(layout)
    ]
    return section("tables", "The layout in numbers", el("p", says, class_="small"), joined(shown))


def layout_tables(layout: Layout) -> tuple[Table, ...]:
    """Every table that has rows; each length with its unit, that of the design."""
    voice = Voice(layout.design.design.units)
    found = [make(layout, voice) for make in SHOWN]
    return tuple(each for each in found if each.rows)


def built_section(layout: Layout) -> Html:
    """What was measured at the bench beside the plan, and the sentences for the next cuts; empty if nothing was."""
    voice = Voice(layout.design.design.units)
    table, cuts = built(layout, voice), next_cuts(layout, voice)
    if not table.rows:
        return Html("")
    following = [el("h3", "The next cut"), list_of(cuts)] if cuts else []
    measured = html_table(table.title, table.columns, table.rows, table.text)
    return section("built", "As built", el("p", MEASURED_STANDS, class_="small"), measured, *following)
