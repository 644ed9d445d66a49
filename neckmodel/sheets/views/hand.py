"""Mirrors drawings for left-handed necks, once, here: the layout is right-handed for either hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.display import Circle, Mark, Path, Window

if TYPE_CHECKING:
    from neckmodel.layout import Layout


def as_built(layout: Layout, marks: Iterable[Mark], x: float | None = None) -> list[Mark]:
    """The marks as on the neck of this hand: for a left-handed one, mirrored about the level line y = 0 of a plan,
    or about the upright line at `x` of the page. Drawings with words or windows are refused, for words must stay
    readable."""
    return [_mirrored(mark, x) for mark in marks] if layout.left_handed else list(marks)


def mirrored(marks: Iterable[Mark]) -> list[Mark]:
    """The marks mirrored about the level line y = 0 of a plan: as seen from the back."""
    return [_mirrored(mark, None) for mark in marks]


def _mirrored(mark: Mark, x: float | None) -> Mark:
    def to(point: Point) -> Point:
        return (point[0], -point[1]) if x is None else (2 * x - point[0], point[1])

    if isinstance(mark, Path):
        return replace(mark, points=tuple(to(p) for p in mark.points), bulges=tuple(-bulge for bulge in mark.bulges))
    if isinstance(mark, Circle):
        return replace(mark, at=to(mark.at))
    assert not isinstance(mark, Window), "windows are not turned"
    return replace(mark, at=to(mark.at))
