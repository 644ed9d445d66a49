"""Holes for screws, and what a wood screw holds: published rules, lengths in mm."""

from __future__ import annotations

# Wood Handbook FPL-GTR-282 (2021), pages 8-10 and 8-11: the root is about two thirds of the shank; the lead hole for
# the thread about 90 % of the root in hardwoods, 70 % in softwoods.
ROOT_OF_SHANK = 2 / 3
LEAD_OF_ROOT = {"hardwood": 0.9, "softwood": 0.7}

# ISO 273: clearance holes of metric screws, by nominal diameter: fine (H12), medium (H13), coarse (H14)
CLEARANCE_HOLES = {
    2.0: (2.2, 2.4, 2.6),
    2.5: (2.7, 2.9, 3.1),
    3.0: (3.2, 3.4, 3.6),
    4.0: (4.3, 4.5, 4.8),
    5.0: (5.3, 5.5, 5.8),
    6.0: (6.4, 6.6, 7.0),
    8.0: (8.4, 9.0, 10.0),
    10.0: (10.5, 11.0, 12.0),
}
SERIES = ("fine", "medium", "coarse")


def lead_hole(shank: float, wood: str = "hardwood") -> float:
    """Diameter of the lead hole for a wood screw's thread; wood: "hardwood" or "softwood" (Wood Handbook, p. 8-11)."""
    return shank * ROOT_OF_SHANK * LEAD_OF_ROOT[wood]


def clearance_hole(thread: float, series: str = "medium") -> float:
    """Clearance hole of a metric screw by ISO 273. Raises KeyError for a diameter that the table here does not hold."""
    return CLEARANCE_HOLES[thread][SERIES.index(series)]


def withdrawal_force(specific_gravity: float, shank: float, bite: float) -> float:
    """Mean ultimate withdrawal of a wood screw from side grain, N: `108.25 G**2 D L` (Wood Handbook, equation 8-10).

    specific_gravity: ovendry mass over volume at 12 % moisture; shank diameter and threaded bite in mm; lead hole as
    above. A design load is far less: about a sixth for long-time loads (page 8-6, stated for nails).
    """
    return 108.25 * specific_gravity**2 * shank * bite
