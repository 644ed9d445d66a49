"""What was measured at the bench, beside what was planned, and the numbers for the next cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.measured import as_built
from neckmodel.layout.next_cut import least_carve, most_depth
from neckmodel.layout.tables.told import Table, Voice
from neckmodel.lengths import NONE, in_unit

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def built(layout: Layout, voice: Voice) -> Table:
    """No rows where nothing was measured."""
    rows = []
    for number in as_built(layout):
        off = NONE if number.planned is None else voice.write(number.value - number.planned)
        rows.append((number.key, *voice.row(number.planned, number.value), off))
    title = f"As built: measured values stand in every table {voice.pick('of this page', 'above')}"
    return Table(title, ("key", "planned", "measured", "off"), tuple(rows))


def next_cuts(layout: Layout, voice: Voice) -> tuple[str, ...]:
    """Sentences with the numbers for the cuts still to come; none where nothing was measured."""
    if not as_built(layout):
        return ()
    carve = least_carve(layout)
    said = [] if carve is None else [f"by cross-sections, {carve.says}: the {carve.step} then has its least wall"]
    for step in layout.steps:
        deepest = most_depth(layout, step)
        if deepest is not None:
            said.append(f"by cross-sections, cut the {step.name} no deeper than {deepest:.2f} mm")
    return tuple(in_unit(text, voice.unit) for text in said)
