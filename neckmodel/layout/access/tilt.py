"""How far the adjusting key is tilted, and about which point. Lengths mm, angles degrees."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.key.driver import largest_driver_angle
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.key.reach import from_soundhole
from neckmodel.layout.strings.frets import nut_back, nut_behind

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.tables.key import AdjustingKey
    from neckmodel.layout.body.top import Top
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.rod.rod import RodPlace


BALL_TILT = 25.0  # degrees, the most a ball end turns a hexagon at; common practice, no source


def key_tilt(design: Design, rod: RodPlace, board: Fretboard, top: Top) -> float:
    """Degrees by which the key points upward on its way out.

    A plain hexagon key follows the adjuster's axis. A ball-end key is tilted just far enough to pass under the nut's
    edge on the head side (at the heel: under the fretboard's end; from the soundhole: under the top at its
    edge), in whole degrees, up to BALL_TILT. Where there is no head it comes in straight from beyond the nut end.
    """
    key = design.adjusting_key
    if key is None or key.kind == "bar":
        return 0.0
    if key.kind != "ball-end" or design.channel.from_behind:  # a bore lies on the adjuster's axis
        return rod.tilt
    if design.head.kind == "none" and not rod.at_heel:
        return 0.0  # it lies under the clamp
    pivot, corners, clear = key_pivot(key, rod), across_corners(key.size), design.channel.key_clearance
    edge, z = board.x_last if rod.at_heel else -nut_behind(design, corners / 2, rod.y), 0.0
    if (hole := from_soundhole(design)) is not None:
        edge, z = hole.from_, top.under(hole.from_)
    away = rod.outward * (edge - pivot)
    if away <= 0:
        return BALL_TILT
    most = largest_driver_angle(rod.axis_at(pivot), away, 0.0, z, corners, clear)
    if design.nut.seat == "groove" and not rod.at_heel:  # under the nut's own bottom, which lies nearer and lower
        nut = pivot + nut_back(design, corners / 2, rod.y)
        most = min(most, largest_driver_angle(rod.axis_at(pivot), nut, 0.0, -design.nut.seat_depth, corners, clear))
    return max(float(math.floor(min(most, BALL_TILT) + 1e-9)), 0.0) if most > -math.inf else 0.0


def key_pivot(key: AdjustingKey, rod: RodPlace) -> float:
    """x at which the key's axis meets the adjuster's axis, mm: at the adjuster's face, or at the middle of a ball in
    the socket."""
    inside = max(key.engaged_depth - key.size / 2, 0.0) if key.kind == "ball-end" else 0.0
    return rod.x_adjuster - rod.outward * inside
