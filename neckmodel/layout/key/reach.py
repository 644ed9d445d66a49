"""How far an adjusting key reaches from the adjuster. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.hardware.clamp import behind_nut
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.strings.frets import nut_behind

if TYPE_CHECKING:
    from neckmodel.design import AdjustingKey, Design, Soundhole


def key_arm(key: AdjustingKey) -> float:
    """Length of the L-key's arm in the socket, measured to the outside of the bend, mm; inf for other keys."""
    arm = key.long_arm if key.arm_in_socket == "long" else key.short_arm
    return math.inf if key.kind != "L-key" or arm is None else arm


def key_length(key: AdjustingKey) -> float:
    """How far the key reaches from the adjuster's face once drawn out, mm, its handle not counted."""
    return key_arm(key) if key.kind == "L-key" else key.length or math.inf


def full_length(key: AdjustingKey) -> float:
    """Length of the key from its end in the socket, its handle included, mm; of an L-key its arm's."""
    if key.kind == "L-key":
        return key_arm(key)
    return (key.length or math.inf) + (key.handle.length if key.handle is not None else 0.0)


def from_soundhole(design: Design) -> Soundhole | None:
    """The soundhole through which the key comes to the rod, on the rod's line; None for a key that enters
    elsewhere."""
    key, hole = design.adjusting_key, design.body.soundhole
    if key is None or design.rod is None or key.enters != "soundhole" or hole is None:
        return None
    return hole.along(design.rod.lines[0])


def out_of_soundhole(key: AdjustingKey, hole: Soundhole, clearance: float, x_adjuster: float) -> float:
    """The least length of a key that enters through the soundhole, mm, engaged in an adjuster whose face lies at x.

    A straight one stands `grip` past the soundhole's edge: `from + grip - x_adj + e`. An L-key's other arm hangs clear
    of it: `from + c + k_c - x_adj + e`. An adjuster that lies in the soundhole itself is the edge.
    """
    beyond = across_corners(key.size) + clearance if key.kind == "L-key" else key.grip
    return max(hole.from_, x_adjuster) + beyond - x_adjuster + key.engaged_depth


def key_reach(design: Design, y: float = 0.0) -> float:
    """Largest x of the adjuster at which an L-key still rises clear of the nut on its head side, mm; inf for other
    keys.

    `l - e - k_c - c_k - t_nut`: arm, engaged depth, width across corners, clearance, nut (of a slanted nut its farthest
    side). y: of the rod's axis. A standard key's arm may be shorter by its tolerance: measure the key in hand. At the
    heel it is how far before the fretboard's end the adjuster may lie: the same formula without the nut. On a bent rod
    the arm leans toward the nut by its height times the slope.
    """
    key, rod = design.adjusting_key, design.rod
    if key is None or key.kind != "L-key":
        return math.inf
    corners = across_corners(key.size)
    taken = key.engaged_depth + corners + design.channel.key_clearance
    at_heel = rod is not None and rod.at_heel
    if rod is not None and rod.kind == "compression" and rod.axis_depth is not None:
        depths, over = rod.axis_depth, design.fretboard.thickness if at_heel else design.nut.height
        rise = (4 * depths.middle - 3 * depths.adjuster - depths.anchor) / rod.length
        taken += (over + depths.adjuster) * max(0.0, rise)
    behind = nut_behind(design, corners / 2, y)
    if design.head.kind == "none":  # the other arm stands clear of the nut end and of the clamp
        behind = behind_nut(design.head, behind)
    return key_arm(key) - taken - (0.0 if at_heel else behind)
