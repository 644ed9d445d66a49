"""Screws, inserts and dowels of the heel, and the holes drilled for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.neck.outside import Heel

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.tables.heel import ScrewKind


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
    """Diameter of the lead hole for a wood screw's thread, mm; wood: "hardwood" or "softwood" (Wood Handbook, p.
    8-11)."""
    return shank * ROOT_OF_SHANK * LEAD_OF_ROOT[wood]


def clearance_hole(thread: float, series: str = "medium") -> float:
    """Clearance hole of a metric screw by ISO 273, mm. Raises KeyError for a diameter that this table does not have."""
    return CLEARANCE_HOLES[thread][SERIES.index(series)]


def withdrawal_force(specific_gravity: float, shank: float, bite: float) -> float:
    """Mean ultimate withdrawal of a wood screw from side grain, N: `108.25 G**2 D L` (Wood Handbook, equation 8-10).

    specific_gravity: ovendry mass over volume at 12 % moisture; shank diameter and threaded bite in mm; lead hole as
    above. A design load is far less: about a sixth for long-time loads (page 8-6, stated for nails).
    """
    return 108.25 * specific_gravity**2 * shank * bite


@dataclass(frozen=True)
class Screw:
    """One screw, insert or dowel in the heel, upright: its axis at (x, y), from z_bottom up to its point at z_point,
    mm.

    bite: its length in the neck's wood. hole: diameter of the hole drilled for it; diameter: of its shank.
    """

    name: str
    kind: ScrewKind
    x: float
    y: float
    z_bottom: float
    z_point: float
    bite: float
    diameter: float
    hole: float
    length: float


def place_screws(design: Design, heel: Heel) -> tuple[Screw, ...]:
    """The heel's screws, driven from under the body: `bite = length - wood under the neck pocket - plate`. Dowels and
    inserts go into the heel from below by their own length."""
    body = design.body
    placed = []
    counts: dict[str, int] = {}
    for k, screw in enumerate(design.heel.screws):
        word = "screw" if screw.kind == "wood-screw" else screw.kind
        counts[word] = counts.get(word, 0) + 1
        bite = screw.length - (body.under_pocket + heel.plate if screw.kind == "wood-screw" else 0.0)
        if bite <= 0:
            raise design.problem(
                f"heel.screws.{k}.length",
                "the screw does not reach the neck",
                f"more than {body.under_pocket + heel.plate:.2f} mm: the body under the neck pocket and the plate",
            )
        hole = lead_hole(screw.diameter) if screw.kind == "wood-screw" else screw.diameter
        bottom = -heel.depth_at(heel.x_end - screw.from_end)
        placed.append(
            Screw(
                f"{word}-{counts[word]}",
                screw.kind,
                heel.x_end - screw.from_end,
                screw.y,
                bottom,
                bottom + bite,
                bite,
                screw.diameter,
                hole,
                screw.length,
            )
        )
    return tuple(placed)
