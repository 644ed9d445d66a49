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


def lead_hole(shank: float, wood: str = "hardwood") -> float:
    """Diameter of the lead hole for a wood screw's thread, mm; wood: "hardwood" or "softwood" (Wood Handbook, p.
    8-11)."""
    return shank * ROOT_OF_SHANK * LEAD_OF_ROOT[wood]


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
                name=f"{word}-{counts[word]}",
                kind=screw.kind,
                x=heel.x_end - screw.from_end,
                y=screw.y,
                z_bottom=bottom,
                z_point=bottom + bite,
                bite=bite,
                diameter=screw.diameter,
                hole=hole,
                length=screw.length,
            )
        )
    return tuple(placed)
