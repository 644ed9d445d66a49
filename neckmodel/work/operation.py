"""One piece of work, and the words that many of them share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.lengths import decimal, tool_size, with_unit
from neckmodel.units import USUAL_PAPER

if TYPE_CHECKING:
    from neckmodel.layout import Layout

GLUING = "Pressure, open time and clamping time: as the glue's data sheet says."


@dataclass(frozen=True)
class Work:
    """One piece of work. says: what to do. cuts: names of the steps of the channel cut in it, in order. checks: what
    must be right before the work goes on."""

    title: str
    says: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    cuts: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Words:
    """Writes lengths in the design's own unit."""

    unit: str

    def __call__(self, length: float) -> str:
        return with_unit(length, self.unit)

    def tool(self, size: float) -> str:
        """Of what is drilled or routed with one tool."""
        return tool_size(size, self.unit)

    def sizes(self, lengths: Iterable[float]) -> str:
        """Lengths as sizes: `600.00 mm x 62.00 mm x 20.00 mm`."""
        return " x ".join(self(length) for length in lengths)

    def fine(self, length: float) -> str:
        """A length without the nearest 1/64, for sizes finer than that."""
        return decimal(length, self.unit)

    def printed(self, sheet: str) -> str:
        """How to get a sheet for machines on paper: the option to type."""
        return f"on paper: --sheet {sheet} --paper {USUAL_PAPER[self.unit]}"

    def between(self, length: float, off: float) -> str:
        """The range of a length with its tolerance either way."""
        return f"{self.fine(length - off)} to {self.fine(length + off)}"


def words_of(layout: Layout) -> Words:
    """The words for a layout, in its design's unit."""
    return Words(layout.design.design.units)
