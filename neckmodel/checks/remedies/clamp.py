"""Remedies for a clamp behind the nut: its screws moved or made shorter, or a larger nut end. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.remedy import any_of, graded, possible
from neckmodel.checks.verdict import SLACK

if TYPE_CHECKING:
    from neckmodel.checks.remedies.remedy import Aim, Settings
    from neckmodel.findings import Remedy
    from neckmodel.geometry.types import Point3
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware.clamp import ClampScrew

MESHES = 0.02  # mm more than needed, for what is measured on meshes is a lower bound


@dataclass(frozen=True)
class Near:
    """The wood left round a screw in one direction, mm; outward: unit vector from the hole to what is near it."""

    screw: ClampScrew
    left: float
    outward: Point3


def screws_aside(layout: Layout, walls: Iterable[Near], limit: float, aim: Aim) -> Remedy | None:
    """Every screw that is too near to something moved away from it, across or along the neck, or made shorter where
    that lies below; or else shorter screws altogether, or a larger nut end. None where a screw is too near at both
    sides."""
    if layout.clamp is None:
        return None
    short = [near for near in walls if near.left < limit + aim.spare - SLACK]
    if not short:
        return None
    numbers = {screw.name: k for k, screw in enumerate(layout.clamp.screws)}
    settings: dict[str, float | str] = {}
    for near in short:
        way = int(np.abs(near.outward).argmax())
        key, now = _key(near, numbers[near.screw.name], way)
        if key in settings:
            return None
        by = (limit + aim.spare - near.left) / abs(near.outward[way]) + MESHES
        less = way == 2 or near.outward[way] > 0
        settings[key] = aim.down(key, now - by) if less else aim.up(key, now + by)
    return any_of(possible(layout.design, settings), *_larger_end(layout, short, limit, aim))


def _key(near: Near, number: int, way: int) -> tuple[str, float]:
    """(key, present value) of what moves a screw along one axis."""
    name = ("x", "y", "depth")[way]
    now = (near.screw.x, near.screw.y, near.screw.depth)[way]
    return f"head.clamp.screws.{number}.{name}", now


def _larger_end(layout: Layout, short: list[Near], limit: float, aim: Aim) -> list[Remedy | None]:
    """A thicker, wider or longer nut end, where what is near lies only on that side."""
    ways = {int(np.abs(near.outward).argmax()) for near in short}
    head, lack = layout.head, limit + aim.spare - min(near.left for near in short) + MESHES
    if ways == {2}:
        key = "head.end.thickness"
        return [possible(layout.design, {key: aim.up(key, head.thickness + lack)})]
    if ways == {0}:
        key = "head.end.length"
        return [possible(layout.design, {key: aim.up(key, head.length + lack)})]
    return []


def longer_end(layout: Layout, past: float) -> Remedy | None:
    """The nut end as much longer as the clamp stands out."""

    def ways(aim: Aim) -> Remedy | None:
        key = "head.end.length"
        longer: Settings = {key: aim.up(key, layout.head.length + past + aim.spare)}
        return possible(layout.design, longer)

    return graded(layout.design, ways)
