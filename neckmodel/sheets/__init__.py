"""Sheets for the bench: drawings from the layout as plain marks in mm. Nothing here loads the CAD kernel."""

from __future__ import annotations

from neckmodel.sheets.marks.display import Drawing, Sheet
from neckmodel.sheets.registry import KINDS, Kind, draw, draw_all

__all__ = ["KINDS", "Drawing", "Kind", "Sheet", "draw", "draw_all"]
