"""Tables of what was measured at the bench beside the plan, and the sentences for the next cuts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.measured.carve import next_cuts as of_layout
from neckmodel.layout.measured.numbers import as_built
from neckmodel.layout.tables.table import Table, Voice
from neckmodel.lengths import NONE, in_unit

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def built(layout: Layout, voice: Voice) -> Table:
    """Measured lengths beside planned ones; no rows where nothing was measured."""
    rows = []
    for number in as_built(layout):
        off = NONE if number.planned is None else voice.write(number.value - number.planned)
        rows.append((number.key, *voice.row(number.planned, number.value), off))
    title = f"As built: measured values stand in every table {voice.pick('of this page', 'above')}"
    return Table(title, ("key", "planned", "measured", "off"), tuple(rows))


def next_cuts(layout: Layout, voice: Voice) -> tuple[str, ...]:
    """The sentences for the cuts still to come; () where nothing was measured."""
    if not as_built(layout):
        return ()
    cuts = of_layout(layout)
    said = [cut.says for cut in cuts.cuts]
    said += [f"cut the {step_words(name)} no deeper than {deepest:.2f} mm" for name, deepest in cuts.no_deeper]
    if cuts.carve is not None:
        said.append(f"{'then ' if said else ''}{cuts.carve.says}: the {cuts.carve.needed_by} then has its least wall")
    said = [f"by cross-sections, {text}" for text in said]
    return tuple(in_unit(text, voice.unit) for text in said)
