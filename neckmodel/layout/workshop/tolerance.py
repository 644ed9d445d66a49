"""What the workshop's tolerances may take from a wall. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Tolerances
    from neckmodel.layout.layout import Layout

NOTHING: frozenset[str] = frozenset()
CARVED = frozenset({"neck.thickness.fret_1", "neck.thickness.fret_12"})


def settled(layout: Layout, step: str) -> frozenset[str]:
    """The tolerances that no longer apply to the wall round a step, because the work is done and measured; only the
    measuring error is left of them. "depth" of the step; "carve" once the neck's thickness is measured at both frets
    or, where the step's least wall lies in the heel, once the heel's depth is."""
    measured = {key for key, _ in layout.design.measured or ()}
    found = {"depth"} if f"channel.{layout.full_name(step)}.depth" in measured else set()
    in_heel = any(wall.step == step and wall.x > layout.heel.x_joint for wall in layout.walls)
    if "heel.depth" in measured if in_heel else measured >= CARVED:
        found.add("carve")
    return frozenset(found)


def sideways_left(tolerances: Tolerances, layout: Layout, hole: str) -> float:
    """How far a hole (`head.tuners[0]`) may still lie off sideways, mm; 0 where its place was measured."""
    return 0.0 if any(key == f"{hole}.y" for key, _ in layout.design.measured or ()) else tolerances.sideways


def remaining(tolerances: Tolerances, done: frozenset[str]) -> Tolerances:
    """The tolerances, with the measuring error in place of those whose work is done and measured."""
    return tolerances.model_copy(update=dict.fromkeys(done, tolerances.measuring)) if done else tolerances


def contributions(
    tolerances: Tolerances, normal_y: float, normal_z: float, depth: float, done: frozenset[str] = NOTHING
) -> dict[str, float]:
    """What each tolerance may take from a wall, mm. The wall's direction, from channel to skin, is the unit vector n.

    `|n_y| sideways`, `|n_z|` times depth, glue plane and stock, carve, and tilt times the channel's depth. Work that is
    done counts under "measuring" instead.
    """
    across, down, left = abs(normal_y), abs(normal_z), remaining(tolerances, done)
    parts = {
        "sideways": across * left.sideways,
        "depth": down * left.depth,
        "glue_plane": down * left.glue_plane,
        "stock": down * left.stock,
        "carve": left.carve,
        "tilt": left.tilt * depth,
    }
    if done:
        parts["measuring"] = math.fsum(parts.pop(name) for name in sorted(done))
    return parts


def worst_loss(
    tolerances: Tolerances, normal_y: float, normal_z: float, depth: float, done: frozenset[str] = NOTHING
) -> float:
    """The most that all tolerances together may take from a wall, mm."""
    return math.fsum(contributions(tolerances, normal_y, normal_z, depth, done).values())
