"""Paper sizes, mm: width and height, standing upright."""

from __future__ import annotations

from dataclasses import dataclass

from neckmodel.sheets.display import Box


@dataclass(frozen=True)
class Paper:
    name: str
    width: float
    height: float

    @property
    def lying(self) -> Paper:
        return Paper(self.name, self.height, self.width)

    @property
    def box(self) -> Box:
        return 0.0, 0.0, self.width, self.height


PAPERS = {
    paper.name: paper
    for paper in (
        Paper("A4", 210.0, 297.0),  # ISO 216
        Paper("A3", 297.0, 420.0),  # ISO 216
        Paper("Letter", 215.9, 279.4),  # ANSI/ASME Y14.1, size A: 8.5 x 11 in
        Paper("Tabloid", 279.4, 431.8),  # ANSI/ASME Y14.1, size B: 11 x 17 in
    )
}
LONG = "long"
"""One page as large as the drawing."""
USUAL = {"mm": "A4", "in": "Letter"}
"""By the unit of the design file."""
