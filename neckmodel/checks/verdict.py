"""From a measurement to a verdict. Every comparison has 1e-6 of slack, so a tie passes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.findings import FAIL, PASS, WARN, Place, Verdict
from neckmodel.layout.channel.steps import step_words as step_words
from neckmodel.lengths import rounded_down, rounded_up

if TYPE_CHECKING:
    from neckmodel.layout import Layout

SLACK = 1e-6  # mm
SKIN_ERROR = 0.01  # mm by which the carved solid may differ from the back's shape
COMMON = "common practice, no source"


def at_least(value: float, limit: float, worst: float | None = None) -> Verdict:
    """Verdict on a value that must not be less than its limit: "pass", "warn" (only the worst case misses), "fail"."""
    if value < limit - SLACK:
        return FAIL
    return WARN if worst is not None and worst < limit - SLACK else PASS


up, down = rounded_up, rounded_down  # names for remedies that must be at least, or at most, this much


def short_by(value: float, limit: float) -> str:
    """By how much a value misses its limit, in words with as many decimals as show it."""
    lack = limit - value
    return f"{lack:.2f} mm short" if lack >= 0.01 else f"{lack:.4f} mm short"


def place(layout: Layout, at: tuple[float, float, float]) -> Place:
    """A place with its nearest fret, in whole micrometres, so that files are the same every time."""
    x, y, z = (round(float(v), 3) + 0.0 for v in at)
    return Place(x, y, z, layout.frets.nearest(x, y))
