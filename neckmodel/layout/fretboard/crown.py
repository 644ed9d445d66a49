"""The crown of a fretboard."""

from __future__ import annotations

import math


def crown_drop(radius: float, y: float) -> float:
    """How far a crown of this radius lies below its middle at distance y, mm: `R - sqrt(R**2 - y**2)`; 0 for a flat
    crown, inf where the crown does not reach so far."""
    if math.isinf(radius):
        return 0.0
    return radius - math.sqrt(radius * radius - y * y) if abs(y) <= radius else math.inf
