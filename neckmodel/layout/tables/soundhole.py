"""Table of the key's way from the soundhole: its bore through block and braces, and the room it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.layout.tables.table import Row, Table, Voice

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def way(layout: Layout, voice: Voice) -> Table:
    """Without rows where no key enters there."""
    found, write = layout.soundhole_way, voice.write
    rows: list[Row] = []
    if found is not None:
        for bore in found.bores:
            sizes = voice.row(bore.diameter, bore.x_start, bore.x_end)
            rows.append((f"bore for the {bore.what}: diameter, x from, x to", ", ".join(sizes)))
        for hole in found.braces:
            if hole.over is not None and hole.under is not None:
                wood = voice.row(hole.over.value, hole.under.value)
                rows.append((f"{plain(hole.name)}: wood over the bore, under it", ", ".join(wood)))
        rows += [
            ("least from the bore up to the top's under side", write(found.under_top.value)),
            ("key's least length", voice.least(found.least)),
            ("key's length", write(found.length)),
        ]
    return Table("The key's way from the soundhole", ("what", "value"), tuple(rows))
