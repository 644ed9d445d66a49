"""From the layout to exact solids. Loads the CAD kernel."""

from __future__ import annotations

from neckmodel.solids.build import build
from neckmodel.solids.parts import Opening, Part, Parts, Tool

__all__ = ["Opening", "Part", "Parts", "Tool", "build"]
