"""What a table is, and the two ways in which its words and lengths are told."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.lengths import least, length, most, with_unit

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """text: how many columns, from the left, are words; the others hold numbers."""

    title: str
    columns: Row
    rows: tuple[Row, ...]
    text: int = 1


@dataclass(frozen=True)
class Voice:
    """unit: of the design's file, "mm" or "in". terse: for a terminal, whose lines are short and whose heading says the
    unit once for all; otherwise every length carries its own."""

    unit: str
    terse: bool = False

    def write(self, value: float | None) -> str:
        """A length in mm as it stands in a cell."""
        return (length if self.terse else with_unit)(value, self.unit)

    def least(self, value: float) -> str:
        """What must be at least this much: rounded up, so that what is told is itself enough. In inches to 0.001; the
        1/64 in brackets is the nearest."""
        return self.write(least(value, self.unit))

    def most(self, value: float) -> str:
        return self.write(most(value, self.unit))

    def row(self, *values: float | None) -> Row:
        return tuple(self.write(value) for value in values)

    def pick(self, full: str, terse: str) -> str:
        """The words for this voice."""
        return terse if self.terse else full
