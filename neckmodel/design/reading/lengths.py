"""Finds every length that a file states, as the file writes it. Converting a file to another unit changes these."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from neckmodel.design.design import Design
from neckmodel.design.tables.measured import OF_A_STEP, leaves
from neckmodel.design.values import fields
from neckmodel.design.values.keys import Path
from neckmodel.design.values.kinds import Length


@dataclass(frozen=True)
class Stated:
    """One length of a file. value: a number or a text. kind: the bounds of its key; None for a measured size of a
    step."""

    path: Path
    value: object
    kind: Length | None

    @property
    def bare(self) -> bool:
        """Whether it is a number without a unit, and so in the file's unit."""
        return isinstance(self.value, int | float) and not isinstance(self.value, bool)


def lengths(raw: Mapping[str, object]) -> Iterator[Stated]:
    """Every length in raw tables, in order, whether or not it is valid."""
    for path, value in leaves((), raw):
        if isinstance(value, bool) or not isinstance(value, int | float | str):
            continue
        kind = fields.length_at(Design, path)
        of_a_step = path[:2] == ("measured", "channel") and len(path) == 4 and path[3] in OF_A_STEP
        if kind is not None or of_a_step:
            yield Stated(path, value, kind)
