"""The head by itself: its face, back and sides."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.layout.head.volute import Volute

if TYPE_CHECKING:
    from neckmodel.design.tables.head import HeadKind
    from neckmodel.geometry.contour import Contour

HEAD_CORNER = 8.0  # mm, radius of the head's far corners; common practice, no source


def one_piece_height(length: float, thickness: float, angle: float) -> float:
    """Height of stock for an angled head in one piece whose end is square to its face, mm: `l sin + t cos`."""
    turn = math.radians(angle)
    return length * math.sin(turn) + thickness * math.cos(turn)


@dataclass(frozen=True)
class Head:
    """The head. x_line: the head line, where the glue plane ends. kind: "stepped", "angled", "scarfed" or "none".

    "none" is a neck without a head: all behind x_line = 0 is its nut end, whose top is the glue plane itself.

    angle in degrees, 0 if stepped; drop: height of the step, 0 if angled. Thickness is square to the face, length along
    it, mm. swell: distance from the nut over which the carved back flows into the head's back.

    contour: the outline in plan as read from a drawing; None for straight sides from `near` to `far`. With a drawing,
    near is the width where the swell ends and far the largest width. volute: None where there is none.
    """

    kind: HeadKind
    x_line: float
    angle: float
    drop: float
    thickness: float
    length: float
    near: float
    far: float
    swell: float
    contour: Contour | None = None
    volute: Volute | None = None

    @property
    def is_none(self) -> bool:
        """Whether the neck has no head."""
        return self.kind == "none"

    @property
    def named(self) -> str:
        """What lies behind the nut, in words: "head", or "nut end" where there is no head."""
        return "nut end" if self.is_none else "head"

    @property
    def x_top(self) -> float:
        """x at which the glue plane ends, mm: at the head line, or at the far end of a neck without a head."""
        return self.x_far if self.is_none else self.x_line

    @property
    def corner(self) -> float:
        """Radius of the far corners seen from above, mm: a nut end is square."""
        return 0.0 if self.is_none else HEAD_CORNER

    @property
    def x_far(self) -> float:
        """x of the head's far end, mm."""
        return self.x_line - self.length * math.cos(math.radians(self.angle))

    @property
    def x_swell(self) -> float:
        """x at which the carved back has flowed into the head's back, mm."""
        return -self.swell

    @property
    def widest(self) -> float:
        """Largest half width of the head's own outline, mm."""
        if self.contour is not None:
            return max(abs(y) for y in self.contour.y_range)
        return max(self.near, self.far) / 2

    def reach(self, side: int) -> float:
        """How far the outline reaches out on the bass side (-1) or the treble side (1), mm."""
        if self.contour is None:
            return max(self.near, self.far) / 2
        return self.contour.y_range[1] if side > 0 else -self.contour.y_range[0]

    def face(self, x: float) -> float:
        """z of the head's face at x, mm."""
        return -self.drop + (x - self.x_line) * math.tan(math.radians(self.angle)) + 0.0

    def back(self, x: float) -> float:
        """z of the head's back at x, mm; at the far end of an inclined head no higher than an end square to the face
        needs."""
        return max(self.face(x) - self.thickness / math.cos(math.radians(self.angle)), self.lowest)

    @property
    def lowest(self) -> float:
        """z of the head's lowest wood, mm."""
        return -self.drop - one_piece_height(self.length, self.thickness, self.angle)

    @property
    def x_lowest(self) -> float:
        """x from which the back runs level to the far end."""
        return self.x_far + self.thickness * math.sin(math.radians(self.angle))

    def side(self, x: float) -> float:
        """Half width of the head's straight sides at x, extended where need be, mm. With a drawn outline: of the sides
        that the neck's transition ends in."""
        if self.contour is not None:
            return self.near / 2
        along = (self.x_line - x) / (self.x_line - self.x_far)
        return (self.near + (self.far - self.near) * along) / 2

    def rim(self, along: float, y: float) -> float:
        """Distance on the face from a point of the face to the head's outline, mm; positive on either side of the
        outline."""
        if self.contour is None:
            lean = (self.far - self.near) / 2 / self.length
            beside = (self.near / 2 - lean * along - abs(y)) / math.hypot(1.0, lean)
            return min(abs(beside), abs(self.length + along))
        turn = math.cos(math.radians(self.angle))
        p = (self.contour.points - (self.x_line, 0.0)) / (turn, 1.0) - (along, y)
        step = np.roll(p, -1, axis=0) - p
        share = np.clip(-(p * step).sum(axis=1) / np.maximum((step**2).sum(axis=1), 1e-18), 0.0, 1.0)
        return float(np.hypot(*(p + step * share[:, None]).T).min())

    def on_face(self, along: float) -> Point:
        """(x, z) of a point on the face, mm. `along` is measured on the face from the head line, negative toward the
        far end."""
        turn = math.radians(self.angle)
        return self.x_line + along * math.cos(turn), -self.drop + along * math.sin(turn)
