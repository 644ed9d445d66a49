"""The peg of a string that starts later than the nut, in the order list."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def peg_rows(layout: Layout, write: Callable[[float | None], str]) -> list[tuple[str, str, str, str]]:
    """(what, how many, size, remark) of the peg, written by `write`; [] without one."""
    peg = layout.peg
    if peg is None:
        return []
    size = f"hole {write(peg.hole)} across, {write(peg.depth)} deep"
    return [("peg for string 1", "1", size, f"in the {'bass side' if peg.side else 'back'} of the neck")]
