"""From the layout to exact solids. Naming a part's type needs no CAD kernel; `build` loads it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.solids.parts import Opening, Part, Parts, Tool

if TYPE_CHECKING:
    from neckmodel.layout import Layout

__all__ = ["Opening", "Part", "Parts", "Tool", "build"]


def build(layout: Layout) -> Parts:
    """Every solid of one design. See `assembly.build`."""
    from neckmodel.solids.assembly import build as assembled  # kept inside: it loads the kernel

    return assembled(layout)
