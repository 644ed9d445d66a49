"""What a table is, and how its words and lengths are written for a page and for a terminal."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.lengths import least, length, most, with_unit

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """text: how many columns, from the left, hold words; the others hold numbers."""

    title: str
    columns: Row
    rows: tuple[Row, ...]
    text: int = 1


@dataclass(frozen=True)
class Voice:
    """How words and lengths are written. unit: of the design's file, "mm" or "in". terse: for a terminal, where lines
    are short and the heading states the unit once; otherwise each length carries its own."""

    unit: str
    terse: bool = False

    def write(self, value: float | None) -> str:
        """A length in mm as it stands in a cell."""
        return (length if self.terse else with_unit)(value, self.unit)

    def least(self, value: float) -> str:
        """A least length, rounded up so that the printed number is itself enough. In inches to 0.001; the 1/64 in
        brackets is the nearest."""
        return self.write(least(value, self.unit))

    def most(self, value: float) -> str:
        """A greatest length, rounded down."""
        return self.write(most(value, self.unit))

    def row(self, *values: float | None) -> Row:
        """A row with its words and lengths as this voice writes them."""
        return tuple(self.write(value) for value in values)

    def pick(self, full: str, terse: str) -> str:
        """The longer or the shorter words, as this voice needs."""
        return terse if self.terse else full
