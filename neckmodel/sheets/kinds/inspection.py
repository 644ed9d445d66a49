"""The inspection sheet: what to measure after each operation, and the key under which the reading goes into the
design."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.lengths import decimal
from neckmodel.sheets.marks.display import Drawing
from neckmodel.sheets.pages.pages import Column, Pages
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import Titles
from neckmodel.work import cautions
from neckmodel.work.measures import measures
from neckmodel.work.words import datum_words

if TYPE_CHECKING:
    from neckmodel.layout import Layout

COLUMNS = (
    Column("measure", wide=True),
    Column("key under [measured]"),
    Column("nominal", number=True),
    Column("from", number=True),
    Column("to", number=True),
    Column("as found", least=24.0),
)


def draw_inspection(layout: Layout, titles: Titles, paper: Paper) -> tuple[Drawing, ...]:
    """The sheet. paper: as it lies."""
    pages = Pages(paper, "inspection sheet", titles, cautions.FIRST)
    unit = titles.unit
    within = decimal(layout.design.workshop.tolerances.measuring, unit)
    pages.paragraph(
        f"Measure after each operation, to {within} or better, and write down what you find, not what you hoped for. "
        f"Put it into the design file under [measured], in {'mm' if unit == 'mm' else 'inches'}; every later check and "
        "sheet then holds for the neck as it is. A dash in the second column: for your own record. x is measured from "
        f"{datum_words(layout)}. The bounds follow from the workshop's tolerances."
    )
    for operation, rows in measures(layout):
        pages.heading(operation, 24.0)
        cells = [
            (
                plain(row.says),
                row.key or "-",
                decimal(row.nominal, unit),
                decimal(row.low, unit),
                decimal(row.high, unit),
                "",
            )
            for row in rows
        ]
        pages.table(COLUMNS, cells, 1.9)
    pages.heading("For the record", 20.0)
    pages.paragraph(
        "Wood and its moisture, %: .......................   Date: ..............   By: ......................."
    )
    return pages.finish()
