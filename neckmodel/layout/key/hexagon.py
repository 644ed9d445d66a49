"""Hexagon keys: their width across corners, and the room they need to turn."""

from __future__ import annotations

import math

from neckmodel.units import MM_PER_INCH

SAME_SIZE = 1e-3  # mm

# Nominal size across flats and the largest width across corners (e max), mm: JIS B 4648:2008 (understood to follow
# ISO 2936), from a published copy of its table
METRIC_CORNERS = {1.5: 1.68, 2.0: 2.25, 2.5: 2.82, 3.0: 3.39, 4.0: 4.53, 5.0: 5.67, 6.0: 6.81, 8.0: 9.09}

# The same in inches: ASME B18.3-2012, from a published copy of its table
INCH_CORNERS = {
    1 / 16: 0.0701,
    5 / 64: 0.0880,
    3 / 32: 0.1058,
    7 / 64: 0.1238,
    1 / 8: 0.1418,
    9 / 64: 0.1593,
    5 / 32: 0.1774,
    3 / 16: 0.2135,
    7 / 32: 0.2490,
    1 / 4: 0.2845,
}
CORNERS = {**METRIC_CORNERS, **{size * MM_PER_INCH: e * MM_PER_INCH for size, e in INCH_CORNERS.items()}}


def across_corners(size: float) -> float:
    """Largest width across corners of a hexagon key, mm: from the tables, else the sharp hexagon `2 s/sqrt(3)`."""
    sharp = 2.0 * size / math.sqrt(3.0)
    return next((corners for nominal, corners in CORNERS.items() if abs(nominal - size) < SAME_SIZE), sharp)


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
