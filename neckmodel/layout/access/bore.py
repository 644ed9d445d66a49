"""The key's way to a rod put in from the back: a bore on the adjuster's axis, out of the wood. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.geometry.curve import Curve
from neckmodel.layout.access.slot import slot_exit
from neckmodel.layout.access.tilt import key_pivot
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.key.reach import from_soundhole, key_arm
from neckmodel.lengths import no_less

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.neck.outside import Head
    from neckmodel.layout.rod.rod import RodPlace


def bore_steps(design: Design, rod: RodPlace, head: Head, x_wood_end: float) -> tuple[Step, ...]:
    """The bore for the stated key, from the adjuster's pocket out through the step's wall, the head's face, the nut end
    or the heel's end; () where no key is stated or the pocket itself is open there. It is as wide as the key's corners
    plus clearance all round.

    Raises DesignError where it does not come out whole, or where an L-key's rising arm would turn in the wood.
    """
    key = design.adjusting_key
    if key is None or key.kind == "bar":
        return ()
    out, clear = rod.outward, design.channel.key_clearance
    diameter = across_corners(key.size) + 2 * clear
    pivot, rise = key_pivot(key, rod), math.tan(math.radians(rod.tilt))
    half = diameter / 2 * math.hypot(1.0, rise)
    start = rod.x_adjuster + out * design.channel.end_clearance
    low = rod.axis_at(pivot) + half
    leaves = x_wood_end if rod.at_heel else slot_exit(head, low, rod.tilt, pivot)
    if head.is_none and not rod.at_heel:
        leaves = head.x_far
    if not rod.at_heel and leaves < head.x_far:
        least = low - (pivot - head.x_line) * rise
        if head.angle > 0:
            says = f"is so flat that the key's bore, {diameter:.2f} mm wide, does not come out of the head's face"
            raise design.problem("head.angle", says, attempt="a steeper head, or a longer one")
        says = f"does not let the key's bore out: it reaches {least:.2f} mm below plane z = 0 at the step's wall"
        raise design.problem("head.drop", says, f"at least {no_less(least)}", "or a rod that lies higher")
    if key.kind == "L-key" and from_soundhole(design) is None:
        _refuse_bend(design, rod, head.x_top if not rod.at_heel else x_wood_end, key_arm(key))
    if out * (leaves - start) <= LEAST_DIFFERENCE:
        return ()
    x0, x1 = sorted((leaves, start))

    def axis(x: float) -> float:
        return rod.axis_at(pivot) - rise * out * (x - pivot)

    lower, upper = (Curve(x0, x1, axis(x0) + side * half, axis(x1) + side * half) for side in (1, -1))
    return (
        Step(
            StepName.KEY_BORE,
            x0,
            x1,
            diameter,
            lower.start,
            lower.end,
            end_start=EndKind.OPEN,
            end_end=EndKind.OPEN,
            ceiling=upper,
            bored=True,
        ),
    )


def _refuse_bend(design: Design, rod: RodPlace, wall: float, arm: float) -> None:
    """Raises DesignError where the rising arm of an L-key does not stand wholly outside the wood."""
    key, clear, out = design.adjusting_key, design.channel.key_clearance, rod.outward
    if key is None:
        return
    beyond = arm - key.engaged_depth - across_corners(key.size) - clear - out * (wall - rod.x_adjuster)
    if beyond < -LEAST_DIFFERENCE:
        name = f"{key.arm_in_socket}_arm"
        says = "is so short that the key's other arm would turn in the wood, and a bore has no room for it"
        attempt = "a straight key, or a rod that lies nearer to that end"
        raise design.problem(f"adjusting_key.{name}", says, f"at least {no_less(arm - beyond)}", attempt)
