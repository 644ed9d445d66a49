"""The access slot: how the adjusting key comes to the adjuster, and the steps that let it. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.design.defaults.defaults import RANGES
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, Step
from neckmodel.layout.key.driver import head_relief, largest_driver_angle
from neckmodel.layout.key.hexagon import across_corners, swing_half_width
from neckmodel.layout.strings.frets import nut_back, nut_behind

if TYPE_CHECKING:
    from neckmodel.design import AdjustingKey, Design
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.neck.outside import Head
    from neckmodel.layout.rod.rod import RodPlace

LEAST_KEY_CLEARANCE = RANGES["channel.key_clearance"].low  # of what is usual
BALL_TILT = 25.0  # degrees, the most a ball end turns a hexagon at; common practice, no source


def key_arm(key: AdjustingKey) -> float:
    """Length of the L-key's arm in the socket, as measured to the outside of the bend, mm; inf for other keys."""
    arm = key.long_arm if key.arm_in_socket == "long" else key.short_arm
    return math.inf if key.kind != "L-key" or arm is None else arm


def key_length(key: AdjustingKey) -> float:
    """How far the key reaches out of the adjuster's face once withdrawn, without its handle, mm."""
    return key_arm(key) if key.kind == "L-key" else key.length or math.inf


def near_face(x_adjuster: float, arm: float, engaged: float, corners: float) -> float:
    """x of the side toward the nut of an L-key's rising arm, engaged, mm: `x_adj + e - l + k_c`."""
    return x_adjuster + engaged - arm + corners


def key_reach(design: Design) -> float:
    """Largest x of the adjuster at which an L-key still rises clear on the head side of the nut, mm; inf for others.

    `l - e - k_c - c_k - t_nut`: arm, engaged depth, width across corners, clearance, nut (aslant: its farthest side). A
    standard's arm may be shorter by its tolerance: measure the key in hand. At the heel it is how far the adjuster may
    lie before the fretboard's end: the same without the nut. On a bent rod the arm leans toward the nut by its height
    times the slope.
    """
    key, rod = design.adjusting_key, design.rod
    if key is None or key.kind != "L-key":
        return math.inf
    corners = across_corners(key.size)
    taken = key.engaged_depth + corners + design.channel.key_clearance
    at_heel = rod is not None and rod.adjuster_at == "heel"
    if rod is not None and rod.kind == "compression" and rod.axis_depth is not None:
        depths, over = rod.axis_depth, design.fretboard.thickness if at_heel else design.nut.height
        rise = (4 * depths.middle - 3 * depths.adjuster - depths.anchor) / rod.length
        taken += (over + depths.adjuster) * max(0.0, rise)
    return key_arm(key) - taken - (0.0 if at_heel else nut_behind(design, corners / 2))


def key_pivot(design: Design, rod: RodPlace) -> float:
    """x of the point in which the key's axis meets the adjuster's: its face, or the middle of a ball in the socket."""
    key = design.adjusting_key
    assert key is not None  # callers ask only where a key is stated
    inside = max(key.engaged_depth - key.size / 2, 0.0) if key.kind == "ball-end" else 0.0
    return rod.x_adjuster - rod.outward * inside


def key_tilt(design: Design, rod: RodPlace, board: Fretboard) -> float:
    """Degrees by which the key points upward on its way out.

    A plain hexagon follows the adjuster's axis. A ball end is tilted as far as it passes under the nut's edge on the
    head side (at the heel: the fretboard's end), in whole degrees, up to BALL_TILT.
    """
    key = design.adjusting_key
    if key is None or key.kind == "bar":
        return 0.0
    if key.kind != "ball-end":
        return rod.tilt
    pivot, corners, clear = key_pivot(design, rod), across_corners(key.size), design.channel.key_clearance
    edge = board.x_last if rod.at_heel else -nut_behind(design, corners / 2)
    away = rod.outward * (edge - pivot)
    if away <= 0:
        return BALL_TILT
    most = largest_driver_angle(rod.axis_at(pivot), away, 0.0, 0.0, corners, clear)
    if design.nut.seat == "groove" and not rod.at_heel:  # under the nut's own bottom, which stands nearer and lower
        nut = pivot + nut_back(design, corners / 2)
        most = min(most, largest_driver_angle(rod.axis_at(pivot), nut, 0.0, -design.nut.seat_depth, corners, clear))
    return max(float(math.floor(min(most, BALL_TILT) + 1e-9)), 0.0) if most > -math.inf else 0.0


def slot_floor(design: Design, axis: float, tilt: float = 0.0) -> float:
    """Depth of the access slot's floor below z = 0 under the key's pivot, mm: `a_z + (k_c/2)/cos(alpha) + c`.

    axis: depth of the pivot; tilt: alpha, degrees.
    """
    key = design.adjusting_key
    assert key is not None  # callers ask only where a key is stated
    return axis + across_corners(key.size) / 2 / math.cos(math.radians(tilt)) + design.channel.key_clearance


def slot_exit(head: Head, floor: float, tilt: float = 0.0, x: float = 0.0) -> float:
    """x at which a slot leaves the wood on the head side, mm; -inf where it never does (it stays a trough).

    floor: its depth at x; tilt: degrees by which it rises toward the head.
    """
    rise = math.tan(math.radians(tilt))
    at_line = floor - (x - head.x_line) * rise
    if at_line <= 0:  # it rises through the glue plane before the head line
        return x - floor / rise
    if head.angle > 0:
        return head.x_line - head_relief(floor, x, head.x_line, tilt, head.angle, 0.0, 0.0)
    if at_line <= head.drop + LEAST_DIFFERENCE:
        return head.x_line
    return head.x_line - (at_line - head.drop) / rise if rise > 0 else -math.inf


def access_steps(
    design: Design, rod: RodPlace, head: Head, smallest: float, x_wood_end: float, board: Fretboard
) -> tuple[Step, ...]:
    """The access slot for the stated key, () where no key is stated. smallest: the rack's smallest cutter, mm.

    As wide as the key's corners plus clearance either side, its floor parallel to the key, out through the step's wall,
    the angled face or the heel's end. An L-key also gets a pocket in which the rising arm turns. A bar in a wheel needs
    no slot in the neck.
    """
    key = design.adjusting_key
    if key is None or key.kind == "bar":
        return ()
    corners, clear = across_corners(key.size), design.channel.key_clearance
    width = max(corners + 2 * clear, smallest)
    pivot, tilt, out = key_pivot(design, rod), key_tilt(design, rod, board), rod.outward
    floor, rise = slot_floor(design, rod.axis_at(pivot), tilt), math.tan(math.radians(tilt))
    start = rod.x_adjuster + out * design.channel.end_clearance
    withdrawn = rod.x_adjuster + out * (key_length(key) + clear)
    if rod.at_heel:
        leaves = min(x_wood_end, pivot + floor / rise) if rise > 0 else x_wood_end
    else:
        leaves = max(slot_exit(head, floor, tilt, pivot), head.x_far)
    inside = out * (withdrawn - leaves) < -LEAST_DIFFERENCE
    end = withdrawn if inside else leaves
    if out * (end - start) <= LEAST_DIFFERENCE:
        return ()  # the adjuster's pocket itself is open to the head, or out of the wood

    def depth(x: float) -> float:
        return floor - rise * out * (x - pivot)

    slot = Step(
        "access-slot",
        -out * end,
        -out * start,
        width,
        depth(end),
        depth(start),
        corner_start=min(smallest, width) / 2 if inside else 0.0,
        end_start="round" if inside else "open",
        narrowest=min(width, corners + 2 * min(clear, LEAST_KEY_CLEARANCE)),
    )
    steps = [slot]
    if key.kind == "L-key":
        # the inner radius of the bend stands before the rising arm, low down where the arm turns in wood
        arm = rod.x_adjuster + out * (key_arm(key) - key.engaged_depth - corners - key.bend_radius - clear)
        near = start if out * (arm - start) < 0 else arm
        rises = out * (near - leaves) < -LEAST_DIFFERENCE  # else the arm rises where the slot has left the wood
        if rises and out * (end - near) > LEAST_POCKET:
            top = 0.0 if rod.at_heel or near > head.x_line else head.face(near)
            half = swing_half_width(rod.axis + top, design.channel.key_swing, corners) + clear
            if 2 * half > width:  # else the slot itself is wide enough for it
                steps.append(_key_swing(-out * end, -out * near, 2 * half, depth(near), smallest, inside))
    return tuple(step.flipped() if rod.at_heel else step for step in steps)


LEAST_POCKET = 0.05  # mm; a shorter one has been cut with the slot


def _key_swing(x_start: float, x_end: float, width: float, floor: float, smallest: float, inside: bool) -> Step:
    """The pocket in which the rising arm of an L-key turns: wide enough at the height of the wood's top. inside: it
    ends in the wood; else it runs out of it, where a cutter leaves no corners."""
    left = min(smallest, width, x_end - x_start) / 2
    return Step(
        "key-swing",
        x_start,
        x_end,
        width,
        floor,
        floor,
        corner_start=left if inside else 0.0,
        corner_end=left,
        end_start="round" if inside else "open",
        end_end="round",
    )
