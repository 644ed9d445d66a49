"""Paper sizes, mm: width and height, standing upright."""

from __future__ import annotations

from dataclasses import dataclass, replace

from neckmodel.sheets.marks.display import Box


@dataclass(frozen=True)
class Paper:
    """A sheet, mm. spacing, filled: how words are set on it: distance of their lines, as a share of the usual one, and
    the share of the page's height that is filled."""

    name: str
    width: float
    height: float
    spacing: float = 1.0
    filled: float = 1.0

    @property
    def landscape(self) -> Paper:
        """The same paper turned to lie flat."""
        return replace(self, width=self.height, height=self.width)

    @property
    def box(self) -> Box:
        """The sheet's box."""
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
"""By the unit of the design file."""
