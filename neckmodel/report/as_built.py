"""A part of the page: what was measured at the bench beside the plan, and the sentences for the next cuts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.tables import Voice
from neckmodel.layout.tables.measured import built, next_cuts
from neckmodel.report.html import Html, el, list_of, section, table

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SAYS = (
    "What was measured stands in the place of the plan everywhere on this page, and what is cut already is left alone."
)


def built_section(layout: Layout) -> Html:
    """The section; nothing where nothing was measured."""
    voice = Voice(layout.design.design.units)
    shown, cuts = built(layout, voice), next_cuts(layout, voice)
    if not shown.rows:
        return Html("")
    following = [el("h3", "The next cut"), list_of(cuts)] if cuts else []
    measured = table(shown.title, shown.columns, shown.rows, shown.text)
    return section("built", "As built", el("p", SAYS, class_="small"), measured, *following)
