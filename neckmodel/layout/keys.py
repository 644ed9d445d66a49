"""Hexagon keys: sizes across flats and across corners, arms as the standard gives them."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class HexKey:
    """One row of the key table, mm. corners: largest width across corners (e max)."""

    size: float
    corners: float
    long_arm: float
    long_tolerance: float
    short_arm: float
    short_tolerance: float


# JIS B 4648:2008 (understood to follow ISO 2936), standard arm lengths, from a published copy of its table
HEX_KEYS = (
    HexKey(1.5, 1.68, 46.5, 2.0, 15.5, 2.0),
    HexKey(2.0, 2.25, 52.0, 2.0, 18.0, 2.0),
    HexKey(2.5, 2.82, 58.5, 4.0, 20.5, 2.0),
    HexKey(3.0, 3.39, 66.0, 4.0, 23.0, 2.0),
    HexKey(4.0, 4.53, 74.0, 4.0, 29.0, 2.0),
    HexKey(5.0, 5.67, 85.0, 4.0, 33.0, 2.0),
    HexKey(6.0, 6.81, 96.0, 6.0, 38.0, 2.0),
    HexKey(8.0, 9.09, 108.0, 6.0, 44.0, 2.0),
)


def across_corners(size: float) -> float:
    """Largest width across corners of a hexagon key, mm: from the table, else the sharp hexagon `2 s/sqrt(3)`."""
    for key in HEX_KEYS:
        if abs(key.size - size) < 1e-6:
            return key.corners
    return 2.0 * size / math.sqrt(3.0)


def swing_half_width(height: float, swing: float, corners: float) -> float:
    """Half width in which an arm turns by +-swing/2 at `height` above its axis, mm: `h tan(t) + (k_c/2)/cos(t)`.

    swing: whole, degrees. Exact for an arm of round section of diameter `corners`.
    """
    turn = math.radians(swing / 2)
    return max(height, 0.0) * math.tan(turn) + corners / 2 / math.cos(turn)
