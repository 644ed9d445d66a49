"""Sizes that a maker can buy, and steps to which a maker can cut: what a remedy may ask for. Lengths in mm.

Common practice, no source, but for metric washers: outside diameters of ISO 7089 (from a published copy of its table)
and the sizes between them that large and small series add. A file in mm takes metric sizes, a file in inches inches.
"""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.lengths import SAME, rounded_down, rounded_up
from neckmodel.units import MM_PER

INCH = float(MM_PER["in"])


@dataclass(frozen=True)
class Sizes:
    """The sizes in which one thing can be had: those sold, in order, or every multiple of `step`. `fine` is the
    finest step that can still be cut or found where no such size lies near."""

    step: float
    fine: float
    sold: tuple[float, ...] = ()

    def up(self, value: float, *, fine: bool = False) -> float:
        """The next size that is at least this much."""
        found = next((size for size in self.sold if size >= value - SAME), None)
        if found is not None and not fine:
            return found
        return rounded_up(value, self.fine if fine or self.sold else self.step)

    def down(self, value: float, *, fine: bool = False) -> float:
        """The next size that is at most this much."""
        found = next((size for size in reversed(self.sold) if size <= value + SAME), None)
        if found is not None and not fine:
            return found
        return rounded_down(value, self.fine if fine or self.sold else self.step)


def _inch(step: float, fine: float, *sold: float) -> Sizes:
    return Sizes(step * INCH, fine * INCH, tuple(size * INCH for size in sold))


# sizes that are sold, in mm and in inches: lengths, outside diameters, widths, diameters, lengths
SCREWS = (10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0)
SCREWS_IN = (0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.5, 4.0)
WASHERS = (7.0, 9.0, 10.0, 11.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 24.0, 28.0, 30.0)
WASHERS_IN = (0.25, 0.3125, 0.375, 0.4375, 0.5, 0.5625, 0.625, 0.6875, 0.75, 0.8125, 0.875, 1.0, 1.125, 1.25)
FLAT_BAR = (5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 25.0, 30.0)
FLAT_BAR_IN = (0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75, 1.0, 1.25)
CUTTERS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)
CUTTERS_IN = (0.0625, 0.09375, 0.125, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75, 1.0)
KEYS = (100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0)
KEYS_IN = (4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0)
SAWN = (20.0, 26.0, 32.0, 38.0, 45.0, 52.0, 60.0, 65.0, 80.0, 100.0, 120.0)  # thicknesses of rough boards
SAWN_IN = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0)  # sold as 4/4, 5/4, 6/4, 8/4 and so on

# by the end of a key; the longest end that fits counts. Metric, then in inches
KNOWN: dict[str, tuple[Sizes, Sizes]] = {
    "": (Sizes(0.5, 0.1), _inch(1 / 32, 0.005)),
    "screws.*.length": (Sizes(1.0, 0.5, SCREWS), _inch(1 / 16, 1 / 64, *SCREWS_IN)),
    "washer.diameter": (Sizes(1.0, 0.5, WASHERS), _inch(1 / 16, 1 / 64, *WASHERS_IN)),
    "anchor.width": (Sizes(1.0, 0.5, FLAT_BAR), _inch(1 / 16, 1 / 64, *FLAT_BAR_IN)),
    "cutters.*.diameter": (Sizes(0.5, 0.1, CUTTERS), _inch(1 / 32, 1 / 64, *CUTTERS_IN)),
    "cutters.*.stick_out": (Sizes(1.0, 0.5), _inch(1 / 16, 1 / 32)),
    "adjusting_key.length": (Sizes(5.0, 1.0, KEYS), _inch(1 / 4, 1 / 16, *KEYS_IN)),
    "rod.length": (Sizes(5.0, 0.5), _inch(1 / 4, 1 / 32)),
    "rod.height": (Sizes(0.1, 0.05), _inch(1 / 64, 0.005)),
    "block.height": (Sizes(0.1, 0.05), _inch(1 / 64, 0.005)),
    "anchor.height": (Sizes(0.1, 0.05), _inch(1 / 64, 0.005)),
    "bars.length": (Sizes(1.0, 0.1), _inch(1 / 16, 1 / 64)),
    "board.length": (Sizes(10.0, 1.0), _inch(1 / 2, 1 / 16)),
    "board.width": (Sizes(5.0, 0.5), _inch(1 / 4, 1 / 32)),
    "board.thickness": (Sizes(1.0, 0.1), _inch(1 / 16, 1 / 64)),
    "fret_slot.depth": (Sizes(0.1, 0.05), _inch(0.005, 0.001)),
    "thickness.fret_1": (Sizes(0.1, 0.05), _inch(0.01, 0.002)),
    "thickness.fret_12": (Sizes(0.1, 0.05), _inch(0.01, 0.002)),
    "channel.wider_by": (Sizes(0.05, 0.01), _inch(0.002, 0.001)),
    "channel.deeper_by": (Sizes(0.05, 0.01), _inch(0.002, 0.001)),
    "channel.adjuster_clearance": (Sizes(0.1, 0.05), _inch(0.005, 0.002)),
    "channel.key_clearance": (Sizes(0.1, 0.05), _inch(0.005, 0.002)),
    "channel.end_clearance": (Sizes(0.5, 0.1), _inch(1 / 64, 0.005)),
    "head.angle": (Sizes(0.5, 0.1), Sizes(0.5, 0.1)),  # degrees
    "fret_1.fullness": (Sizes(0.05, 0.01), Sizes(0.05, 0.01)),  # a number
    "fret_12.fullness": (Sizes(0.05, 0.01), Sizes(0.05, 0.01)),
    "channel.key_swing": (Sizes(1.0, 1.0), Sizes(1.0, 1.0)),  # degrees
}
ROUGH_BOARD = (Sizes(5.0, 1.0, SAWN), _inch(1 / 4, 1 / 16, *SAWN_IN))
HAIR = (Sizes(0.01, 0.01), _inch(0.001, 0.001))  # for a length that even the finest step overshoots


def sizes_of(key: str, unit: str, *, rough: bool = False) -> Sizes:
    """The sizes for a design key in a file of this unit. rough: whether they are of a board that has not been trued
    yet."""
    pair = ROUGH_BOARD if rough and key == "board.thickness" else KNOWN[_end_of(key)]
    return pair[unit == "in"]


def hair(unit: str) -> Sizes:
    """The finest steps in which a length is printed for a file of this unit."""
    return HAIR[unit == "in"]


def _end_of(key: str) -> str:
    name = ".".join("*" if part.isdigit() else part for part in key.split("."))
    return max((end for end in KNOWN if name == end or name.endswith(f".{end}") or not end), key=len)


def size_words(value: float) -> str:
    """A size in words: as many decimals as it has, two at most."""
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown
