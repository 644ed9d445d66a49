"""The face of every sheet: the design, its date, its verdict, and a scale to check."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.lengths import sixty_fourths
from neckmodel.sheets.marks.layers import SCALE, TEXT
from neckmodel.sheets.marks.lettering import LETTERS
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.verdict import Verdict, verdict_of
from neckmodel.units import from_mm

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

BAR = 100.0  # mm, the scale bar
SQUARE = 50.0  # mm, the square
HASH_SIGNS = 8


@dataclass(frozen=True)
class Titles:
    """name: of the design. remark: its own line about itself, may be empty. mark: its date, or the first characters of
    its hash. unit: "mm" or "in", of the numbers on the sheet."""

    name: str
    remark: str
    mark: str
    verdict: Verdict
    unit: str


def titles_of(layout: Layout, findings: Findings | None) -> Titles:
    """The titles for the sheets of a layout. findings: of the checks on it; None where it was not checked."""
    info = layout.design.design
    mark = f"date {info.date}" if info.date else f"design {layout.design.sha256[:HASH_SIGNS]}"
    return Titles(info.name, info.remark, mark, verdict_of(layout, findings), info.units)


def scale_bar(sketch: Sketch, x: float, y: float, unit: str) -> None:
    """A bar of 100 mm from (x, y) to the right, a tick each 10 mm, its words above it; 6 mm high.

    unit: of the rule that measures it; 100 mm are 3 15/16 in within 0.02 mm."""
    sketch.line(SCALE, (x, y), (x + BAR, y))
    for k in range(11):
        sketch.line(SCALE, (x + BAR * k / 10, y), (x + BAR * k / 10, y + (3.0 if k % 5 == 0 else 1.8)))
    sketch.text(
        TEXT, (x + 1.5, y + 3.6), f"{_told(BAR, unit)} between the end ticks: print at 100 %, then measure", LETTERS
    )


def scale_square(sketch: Sketch, x: float, y: float, unit: str) -> None:
    """A square of 50 mm, its lower left corner at (x, y). unit: as of the bar; 50 mm are 1 31/32 in within 0.01 mm."""
    sketch.box(SCALE, (x, y, x + SQUARE, y + SQUARE))
    sketch.text(TEXT, (x + SQUARE / 2, y + SQUARE / 2 + 1.2), f"{_told(SQUARE, unit)} square", 2.2, "middle")
    sketch.text(TEXT, (x + SQUARE / 2, y + SQUARE / 2 - 3.0), "measure both ways", LETTERS, "middle")


def _told(length: float, unit: str) -> str:
    plain = f"{length:g} mm"
    return plain if unit == "mm" else f"{sixty_fourths(from_mm(length, unit))} in ({plain})"
