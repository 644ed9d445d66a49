"""The access slot: how the adjusting key comes to the adjuster, and the steps of the channel that let it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.channel import LEAST_DIFFERENCE, Step
from neckmodel.layout.frets import nut_behind
from neckmodel.layout.keys import across_corners, swing_half_width

if TYPE_CHECKING:
    from neckmodel.design import AdjustingKey, Design
    from neckmodel.layout.rod import RodPlace
    from neckmodel.layout.shape import Head


def key_arm(key: AdjustingKey) -> float:
    """Length of the L-key's arm in the socket, as measured to the outside of the bend, mm; inf for a straight key."""
    arm = key.long_arm if key.arm_in_socket == "long" else key.short_arm
    return math.inf if key.kind != "L-key" or arm is None else arm


def near_face(x_adjuster: float, arm: float, engaged: float, corners: float) -> float:
    """x of the side toward the nut of an L-key's rising arm, engaged, mm: `x_adj + e - l + k_c`."""
    return x_adjuster + engaged - arm + corners


def key_reach(design: Design) -> float:
    """Largest x of the adjuster at which an L-key still rises clear on the head side of the nut, mm; inf for others.

    `l - e - k_c - c_k - t_nut`: arm, engaged depth, width across corners, clearance, nut. A standard's arm may be
    shorter by its tolerance: measure the key in hand.
    """
    key = design.adjusting_key
    if key is None or key.kind != "L-key":
        return math.inf
    corners = across_corners(key.size)
    taken = key.engaged_depth + corners + design.channel.key_clearance
    return key_arm(key) - taken - nut_behind(design, corners / 2)


def slot_floor(design: Design, axis: float) -> float:
    """Depth of the access slot's floor below z = 0, mm: `a_z + k_c/2 + c`. axis: depth of the adjuster's."""
    key = design.adjusting_key
    assert key is not None  # callers ask only where a key is stated
    return axis + across_corners(key.size) / 2 + design.channel.key_clearance


def slot_exit(head: Head, floor: float) -> float:
    """x at which a level slot leaves the wood on the head side, mm; -inf where it never does (it stays a trough)."""
    if head.angle > 0:
        return head.x_line - floor / math.tan(math.radians(head.angle))
    return head.x_line if floor <= head.drop + LEAST_DIFFERENCE else -math.inf


def access_steps(design: Design, rod: RodPlace, head: Head, smallest: float) -> tuple[Step, ...]:
    """The access slot for the stated key, () where no key is stated. smallest: the rack's smallest cutter, mm.

    Straight key: as wide as the key's corners plus clearance either side, level floor, out through the step's wall or
    the angled face. L-key: a trough for the withdrawn arm and a pocket in which the rising arm turns.
    """
    key = design.adjusting_key
    if key is None:
        return ()
    corners, clear = across_corners(key.size), design.channel.key_clearance
    width = max(corners + 2 * clear, smallest)
    floor = slot_floor(design, rod.axis)
    x_from = rod.x_adjuster - design.channel.end_clearance
    length = key_arm(key) if key.kind == "L-key" else key.length or math.inf
    withdrawn = max(rod.x_adjuster - length - clear, head.x_far)
    leaves = slot_exit(head, floor)
    x_to = max(withdrawn, leaves)
    if x_to >= x_from - LEAST_DIFFERENCE:
        return ()  # the adjuster's pocket itself is open to the head
    inside = leaves < withdrawn
    corner = min(smallest, width) / 2 if inside else 0.0
    slot = Step(
        "access-slot",
        x_to,
        x_from,
        width,
        floor,
        floor,
        corner_start=corner,
        end_start="round" if inside else "open",
    )
    if key.kind != "L-key":
        return (slot,)
    # the inner radius of the bend stands before the rising arm, low down where the arm turns in wood
    near = min(near_face(rod.x_adjuster, length, key.engaged_depth, corners) + key.bend_radius + clear, x_from)
    if near <= leaves + LEAST_DIFFERENCE:
        return (slot,)  # the arm rises and turns where the slot has left the wood
    return (slot, _key_swing(design, rod, head, x_to, near, smallest))


def _key_swing(design: Design, rod: RodPlace, head: Head, x_to: float, near: float, smallest: float) -> Step:
    """The pocket in which the rising arm of an L-key turns: wide enough at the height of the wood's top."""
    key, clear = design.adjusting_key, design.channel.key_clearance
    assert key is not None  # callers ask only where a key is stated
    top = 0.0 if near > head.x_line else head.face(near)
    half = swing_half_width(rod.axis + top, design.channel.key_swing, across_corners(key.size)) + clear
    floor, left = slot_floor(design, rod.axis), min(smallest, 2 * half, near - x_to) / 2
    return Step(
        "key-swing",
        x_to,
        near,
        2 * half,
        floor,
        floor,
        corner_start=left,
        corner_end=left,
        end_start="round",
        end_end="round",
    )
