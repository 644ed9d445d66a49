"""One piece of the work, and the few words that many of them share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.lengths import decimal, with_unit
from neckmodel.units import USUAL_PAPER

if TYPE_CHECKING:
    from neckmodel.layout import Layout

GLUING = "Pressure, open time and clamping time: as the glue's data sheet says."


@dataclass(frozen=True)
class Work:
    """says: what is done. cuts: the steps of the channel that are cut in it, by name, in order. checks: what must be so
    before the work goes on."""

    title: str
    says: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    cuts: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Words:
    """Lengths in the design's own unit."""

    unit: str

    def __call__(self, length: float) -> str:
        return with_unit(length, self.unit)

    def sizes(self, lengths: Iterable[float]) -> str:
        return " x ".join(self(length) for length in lengths)

    def fine(self, length: float) -> str:
        """Without the nearest 1/64, for what is told more finely than that."""
        return decimal(length, self.unit)

    def printed(self, sheet: str) -> str:
        """How a sheet that is drawn for machines alone, unless it is asked for, comes on paper."""
        return f"on paper: --sheet {sheet} --paper {USUAL_PAPER[self.unit]}"

    def between(self, length: float, off: float) -> str:
        return f"{self.fine(length - off)} to {self.fine(length + off)}"


def words_of(layout: Layout) -> Words:
    return Words(layout.design.design.units)
