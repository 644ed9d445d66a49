"""The peg of a string that starts later than the nut: the hole for it in the neck's side or back. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats, Point3
from neckmodel.layout.neck.section import Section

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.neck.outside import Outside

ROUND_MOUTH = 1.0  # diameters of the hole, round its mouth, within which the skin is no wall of it


@dataclass(frozen=True)
class PegPlace:
    """The hole of a peg, blind: its axis from the middle of its mouth in the skin to its end, and its diameter.

    side: bored in from the bass side, else up from the back.
    """

    mouth: Point3
    end: Point3
    hole: float
    side: bool
    name: str = "peg"

    @property
    def depth(self) -> float:
        """From the mouth to the end, mm."""
        return math.dist(self.mouth, self.end)

    @property
    def to_glue_plane(self) -> float:
        """Wood over the hole, up to the glue plane, mm."""
        return -self.end[2] - (self.hole / 2 if self.side else 0.0)


def place_peg(design: Design, outside: Outside) -> PegPlace | None:
    """The peg of the string that starts later; None without one. Raises DesignError where its axis misses the wood."""
    first = design.strings.later
    if first is None or first.peg is None:
        return None
    stated, key = first.peg, "strings.each[0].peg"
    section = outside.back.section(stated.x)
    if stated.from_ == "side":
        below = stated.below or 0.0
        y = side_at(section, below)
        if y is None:
            says = f"lies below the back, which is {section.depth:.2f} mm deep there"
            raise design.problem(f"{key}.below", says, f"less than {section.depth:.2f} mm")
        return PegPlace((stated.x, y, -below), (stated.x, y + stated.depth, -below), stated.hole, side=True)
    y = stated.y or 0.0
    deep = section.depth_at(y)
    if deep <= 0.0:
        raise design.problem(f"{key}.y", "lies beside the neck's wood", "a place within the back")
    if stated.depth >= deep:
        says = f"comes out at the glue plane, {deep:.2f} mm over the back there"
        raise design.problem(f"{key}.depth", says, f"less than {deep:.2f} mm")
    return PegPlace((stated.x, y, -deep), (stated.x, y, stated.depth - deep), stated.hole, side=False)


def side_at(section: Section, below: float) -> float | None:
    """y of the bass side of a section at a depth, mm; None where the section is not so deep."""
    if below >= section.depth:
        return None
    share = (1.0 - (below / section.depth) ** section.exponent) ** (1.0 / section.exponent)
    return float(section.middle + section.apex - (section.half_width + section.apex) * share)


def to_skin(peg: PegPlace, skin: Floats) -> Floats:
    """(n,) distance of points of the skin (n, 3) from the hole, whose end is flat, mm; negative inside it. inf for
    points round its mouth, no farther from its rim than the hole is wide."""
    start, end = np.array(peg.mouth), np.array(peg.end)
    off = skin - start
    run = off @ ((end - start) / peg.depth)
    beside = np.linalg.norm(off - run[:, None] * (end - start) / peg.depth, axis=1) - peg.hole / 2
    beyond = run - peg.depth
    apart = np.where((beside < 0) & (beyond < 0), np.maximum(beside, beyond), np.hypot(beside.clip(0), beyond.clip(0)))
    near = np.linalg.norm(off, axis=1) <= peg.hole * (0.5 + ROUND_MOUTH)
    return np.asarray(np.where(near, np.inf, apart))
