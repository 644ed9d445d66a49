"""What the workshop's tolerances may take from a wall. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Tolerances


def contributions(tolerances: Tolerances, normal_y: float, normal_z: float, depth: float) -> dict[str, float]:
    """What each tolerance may take from a wall whose direction, from channel to skin, is the unit vector n.

    `|n_y| sideways`, `|n_z|` times depth, glue plane and stock, carve, and tilt times the channel's depth.
    """
    across, down = abs(normal_y), abs(normal_z)
    return {
        "sideways": across * tolerances.sideways,
        "depth": down * tolerances.depth,
        "glue_plane": down * tolerances.glue_plane,
        "stock": down * tolerances.stock,
        "carve": tolerances.carve,
        "tilt": tolerances.tilt * depth,
    }


def worst_loss(tolerances: Tolerances, normal_y: float, normal_z: float, depth: float) -> float:
    """The most that all of them together may take from a wall, mm."""
    return math.fsum(contributions(tolerances, normal_y, normal_z, depth).values())


def share_passing(wall: float, limit: float, taken: dict[str, float]) -> float:
    """Share of necks whose wall keeps the limit, 0 to 1: independent normal errors, a tolerance being two sigmas."""
    sigma = math.sqrt(math.fsum(part * part for part in taken.values())) / 2
    if sigma == 0:
        return float(wall >= limit)
    return (1 + math.erf((wall - limit) / sigma / math.sqrt(2))) / 2
