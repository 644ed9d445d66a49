"""The sides from which a jig's pieces are drawn, and the directions that lie to the right and up on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.geometry.types import Point3
    from neckmodel.jigs.types import Bare
    from neckmodel.layout import Layout

FLAT = 5.0  # mm; a plate this thin is drawn from its chief side only
SQUARE = 1 - 1e-9  # least share of a direction along one axis for it to lie along that axis
GUIDES = ("tuner-guide", "screw-guide")
ALONG, ACROSS, UPWARD = 0, 1, 2
"""The neck's x, y and z."""


@dataclass(frozen=True)
class View:
    """One side. right, up: unit vectors of the neck's frame that lie level and upright on the paper."""

    right: Point3
    up: Point3

    @property
    def outward(self) -> Point3:
        """Unit vector toward the eye."""
        (a, b, c), (d, e, f) = self.right, self.up
        return b * f - c * e, c * d - a * f, a * e - b * d

    def at(self, point: Point3) -> tuple[float, float]:
        """A point of the neck's frame on the paper, mm."""
        u, v = (sum(a * b for a, b in zip(point, way, strict=True)) for way in (self.right, self.up))
        return u, v


def axis(way: Point3) -> int:
    """The one of ALONG, ACROSS and UPWARD that a direction follows most."""
    return max(range(3), key=lambda k: abs(way[k]))


X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
BACK = (-1.0, 0.0, 0.0)


def views_drawn(kind: str, piece: Bare) -> tuple[View, ...]:
    """The sides from which a piece is drawn, the chief one first: onto the face with its label, but along the neck for
    saddles, which are cut to the neck's section. Then from the end; or from the side, for blocks whose floors matter.
    Guides get one side only."""
    label = piece.label
    face = View(label.right, label.up)
    if kind == "cradle":
        return View(Y, Z), View(Y, BACK)
    if kind == "trial-block":
        return face, View(label.right, face.outward)
    if kind in GUIDES:
        return (face,)
    return face, View(label.up, face.outward)


def words(view: View, layout: Layout) -> str:
    """The side and the directions in words: `seen from above; the body to the right, the treble side up`."""
    ends = {
        ALONG: ("the body", f"the {layout.head.named}"),
        ACROSS: (f"the {layout.side_up} side", f"the {layout.side_up.other} side"),
        UPWARD: ("above", "below"),
    }

    def end(way: Point3) -> str:
        return ends[axis(way)][way[axis(way)] < 0]

    def there(way: Point3) -> str:
        return {"above": "the strings' side", "below": "the underside"}.get(end(way), end(way))

    square = max(map(abs, view.outward)) > SQUARE
    seen = f"seen from {end(view.outward)}" if square else f"seen square to its face, from {end(view.outward)}"
    return f"{seen}; {there(view.right)} to the right, {there(view.up)} up"
