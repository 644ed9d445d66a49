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
SAME_SIZE = 1e-3  # mm


MM_PER_INCH = 25.4


def _inch(size: float, corners: float, long_arm: tuple[float, float], short_arm: tuple[float, float]) -> HexKey:
    """A row in inches: nominal size, largest across corners, (most, least) of both arms."""
    return HexKey(
        *(v * MM_PER_INCH for v in (size, corners, long_arm[0], long_arm[0] - long_arm[1])),
        *(v * MM_PER_INCH for v in (short_arm[0], short_arm[0] - short_arm[1])),
    )


# ASME B18.3-2012, short series, from a published copy of its table; inches
INCH_KEYS = (
    _inch(1 / 16, 0.0701, (1.844, 1.656), (0.656, 0.469)),
    _inch(5 / 64, 0.0880, (1.969, 1.781), (0.703, 0.516)),
    _inch(3 / 32, 0.1058, (2.094, 1.906), (0.750, 0.562)),
    _inch(7 / 64, 0.1238, (2.219, 2.031), (0.797, 0.609)),
    _inch(1 / 8, 0.1418, (2.344, 2.156), (0.844, 0.656)),
    _inch(9 / 64, 0.1593, (2.469, 2.281), (0.891, 0.703)),
    _inch(5 / 32, 0.1774, (2.594, 2.406), (0.938, 0.750)),
    _inch(3 / 16, 0.2135, (2.844, 2.656), (1.031, 0.844)),
    _inch(7 / 32, 0.2490, (3.094, 2.906), (1.125, 0.938)),
    _inch(1 / 4, 0.2845, (3.344, 3.156), (1.219, 1.031)),
)


def hex_key(size: float) -> HexKey | None:
    """The standard key of this nominal size, mm, metric or inch; None where there is none."""
    return next((key for key in (*HEX_KEYS, *INCH_KEYS) if abs(key.size - size) < SAME_SIZE), None)


def across_corners(size: float) -> float:
    """Largest width across corners of a hexagon key, mm: from the tables, else the sharp hexagon `2 s/sqrt(3)`."""
    key = hex_key(size)
    return 2.0 * size / math.sqrt(3.0) if key is None else key.corners


def largest_turn(rise: float, room: float, corners: float) -> float:
    """The largest angle, degrees, at which a key of this width stays within `room` at `rise` along it.

    Solves `rise tan(t) + (k_c/2)/cos(t) = room`. Negative: it does not fit even straight; -inf: at no angle at all.
    """
    radius = math.hypot(rise, room)
    if corners / 2 > radius:
        return -math.inf
    return math.degrees(math.acos(corners / 2 / radius) - math.atan2(rise, room))


def swing_half_width(height: float, swing: float, corners: float) -> float:
    """Half width in which an arm turns by +-swing/2 at `height` above its axis, mm: `h tan(t) + (k_c/2)/cos(t)`.

    swing: whole, degrees. Exact for an arm of round section of diameter `corners`.
    """
    turn = math.radians(swing / 2)
    return max(height, 0.0) * math.tan(turn) + corners / 2 / math.cos(turn)
