"""One line of a drawing, and the limits that every drawing must keep."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from neckmodel.geometry.contour import Corner

LARGEST = 1 << 20  # bytes


FARTHEST = 5000.0  # mm from the origin; no drawing of a neck or body reaches there


SAME = 2e-3  # mm, corners nearer to each other are one


class DrawingError(ValueError):
    """Why a drawing cannot be used; its text goes into the message about the key that names it."""


@dataclass(frozen=True)
class Shape:
    """One line of a drawing. corners: as in `Contour`; the last bulge of an open line means nothing.

    layers: every layer name it lies on (an SVG group may lie inside others).
    """

    layers: frozenset[str]
    corners: tuple[Corner, ...]
    closed: bool

    def on(self, layer: str | None) -> bool:
        """Whether it lies on this layer."""
        return layer is None or layer in self.layers

    @property
    def gap(self) -> float:
        """Distance between its two ends, mm."""
        return math.dist(self.corners[0][:2], self.corners[-1][:2])


def cleaned(corners: Iterable[Corner], closed: bool) -> tuple[Corner, ...]:
    """The corners without those that repeat the one before."""
    kept: list[Corner] = []
    for corner in corners:
        if kept and math.dist(kept[-1][:2], corner[:2]) <= SAME:
            kept[-1] = (kept[-1][0], kept[-1][1], corner[2])
        else:
            kept.append(corner)
    if closed and len(kept) > 1 and math.dist(kept[0][:2], kept[-1][:2]) <= SAME:
        kept.pop()
    return tuple(kept)


SAVE_AGAIN = "save it again in the program that you drew it with"
