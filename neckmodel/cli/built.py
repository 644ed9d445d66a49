"""What was measured at the bench, beside what was planned, and the numbers for the next cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.cli.table import named_table, show_lines
from neckmodel.lengths import NONE, in_unit, length

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def show_built(layout: Layout, unit: str) -> None:
    """Nothing where nothing was measured."""
    from neckmodel.layout.measured import as_built
    from neckmodel.layout.next_cut import least_carve, most_depth

    rows = [
        (
            number.key,
            length(number.planned, unit),
            length(number.value, unit),
            NONE if number.planned is None else length(number.value - number.planned, unit),
        )
        for number in as_built(layout)
    ]
    named_table("As built: measured values stand in every table above", ("key", "planned", "measured", "off"), rows)
    if not rows:
        return
    carve = least_carve(layout)
    said = [] if carve is None else [f"by cross-sections, {carve.says}: the {carve.step} then has its least wall"]
    for step in layout.steps:
        deepest = most_depth(layout, step)
        if deepest is not None:
            said.append(f"by cross-sections, cut the {step.name} no deeper than {deepest:.2f} mm")
    for text in said:
        show_lines(in_unit(text, unit), indent=2, hang=2)
