"""The access slot: the steps of the channel through which the adjusting key reaches the adjuster. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.design.defaults.defaults import RANGES
from neckmodel.layout.access.tilt import key_pivot, key_tilt
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName
from neckmodel.layout.key.driver import head_relief
from neckmodel.layout.key.hexagon import across_corners, swing_half_width
from neckmodel.layout.key.reach import from_soundhole, key_arm, key_length

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.tables.key import AdjustingKey
    from neckmodel.layout.body.top import Top
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.neck.outside import Head
    from neckmodel.layout.rod.rod import RodPlace

LEAST_KEY_CLEARANCE = RANGES["channel.key_clearance"].low  # the low end of the usual range


def slot_floor(key: AdjustingKey, clearance: float, axis: float, tilt: float = 0.0) -> float:
    """Depth of the access slot's floor below z = 0 under the key's pivot, mm: `a_z + (k_c/2)/cos(alpha) + c`.

    clearance: c; axis: depth of the pivot; tilt: alpha, degrees.
    """
    return axis + across_corners(key.size) / 2 / math.cos(math.radians(tilt)) + clearance


def slot_exit(head: Head, floor: float, tilt: float = 0.0, x: float = 0.0) -> float:
    """x at which a slot leaves the wood on the head side, mm; -inf where it never does and stays closed at its end.

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
    design: Design, rod: RodPlace, head: Head, smallest: float, x_wood_end: float, board: Fretboard, top: Top
) -> tuple[Step, ...]:
    """The steps of the access slot for the stated key; () where no key is stated. smallest: the rack's smallest cutter,
    mm.

    The slot is as wide as the key's corners plus clearance at either side. Its floor is parallel to the key. It runs
    out through the wall of a stepped head, the angled face, the nut end or the heel's end. An L-key also gets a pocket
    in which its rising arm turns; one that enters through the soundhole turns it there, and one that enters a nut end
    beyond that. A bar in a wheel needs no slot in the neck.
    """
    key = design.adjusting_key
    if key is None or key.kind == "bar":
        return ()
    corners, clear = across_corners(key.size), design.channel.key_clearance
    width = max(corners + 2 * clear, smallest)
    pivot, tilt, out = key_pivot(key, rod), key_tilt(design, rod, board, top), rod.outward
    floor, rise = slot_floor(key, clear, rod.axis_at(pivot), tilt), math.tan(math.radians(tilt))
    start = rod.x_adjuster + out * design.channel.end_clearance
    withdrawn = rod.x_adjuster + out * (key_length(key) + clear)
    if rod.at_heel:
        leaves = min(x_wood_end, pivot + floor / rise) if rise > 0 else x_wood_end
    else:
        leaves = max(slot_exit(head, floor, tilt, pivot), head.x_far)
    outside = from_soundhole(design) is not None  # it comes in from beyond the wood, however long the key
    through = head.is_none and not rod.at_heel  # a key comes in from beyond the nut end, under the clamp
    inside = not outside and not through and out * (withdrawn - leaves) < -LEAST_DIFFERENCE
    end = withdrawn if inside else leaves
    if out * (end - start) <= LEAST_DIFFERENCE:
        return ()  # the adjuster's pocket itself is open to the head, or out of the wood

    def depth(x: float) -> float:
        return floor - rise * out * (x - pivot)

    slot = Step(
        StepName.ACCESS_SLOT,
        -out * end,
        -out * start,
        width,
        depth(end),
        depth(start),
        corner_start=min(smallest, width) / 2 if inside else 0.0,
        end_start=EndKind.ROUND if inside else EndKind.OPEN,
        narrowest=min(width, corners + 2 * min(clear, LEAST_KEY_CLEARANCE)),
    )
    steps = [slot]
    if key.kind == "L-key" and not outside and not through:
        # the inner radius of the bend stands before the rising arm, low down where the arm turns in wood
        arm = rod.x_adjuster + out * (key_arm(key) - key.engaged_depth - corners - key.bend_radius - clear)
        near = start if out * (arm - start) < 0 else arm
        rises = (
            out * (near - leaves) < -LEAST_DIFFERENCE
        )  # otherwise the arm rises where the slot has already left the wood
        if rises and out * (end - near) > LEAST_POCKET:
            face = 0.0 if rod.at_heel or near > head.x_line else head.face(near)
            half = swing_half_width(rod.axis + face, design.channel.key_swing, corners) + clear
            if 2 * half > width:  # otherwise the slot itself is wide enough for the arm
                steps.append(_key_swing(-out * end, -out * near, 2 * half, depth(near), smallest, inside))
    return tuple(step.flipped() if rod.at_heel else step for step in steps)


LEAST_POCKET = 0.05  # mm; a shorter one has been cut with the slot


def _key_swing(x_start: float, x_end: float, width: float, floor: float, smallest: float, inside: bool) -> Step:
    """The pocket in which an L-key's rising arm turns, wide enough at the height of the wood's top. inside: whether it
    ends in the wood; otherwise it runs out of the wood, where a cutter leaves no corners."""
    left = min(smallest, width, x_end - x_start) / 2
    return Step(
        StepName.KEY_SWING,
        x_start,
        x_end,
        width,
        floor,
        floor,
        corner_start=left if inside else 0.0,
        corner_end=left,
        end_start=EndKind.ROUND if inside else EndKind.OPEN,
        end_end=EndKind.ROUND,
    )
