"""Where the adjusting key lies once it is engaged."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.layout.access.slot import slot_floor
from neckmodel.layout.access.tilt import key_pivot, key_tilt
from neckmodel.layout.fretboard.fretboard import Fretboard
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.key.key import KeyPlace
from neckmodel.layout.key.reach import from_soundhole, key_arm
from neckmodel.layout.rod.rod import RodPlace
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.body.top import Top


LEAST_WAIST = 0.2  # of a ball-end key's size: the radius of its waist behind the ball


def place_key(design: Design, rod: RodPlace, board: Fretboard, top: Top) -> KeyPlace | None:
    """The stated key in a rod's socket; None where no key is stated. Raises DesignError where a ball end goes in too
    deep to be tilted as far as it must be."""
    key = design.adjusting_key
    if key is None:
        return None
    arm, is_bar = key_arm(key), key.kind == "bar"
    rise = key.short_arm if key.arm_in_socket == "long" else key.long_arm
    pivot, tilt = key_pivot(key, rod), key_tilt(design, rod, board, top)
    inside = key.engaged_depth
    if key.kind == "ball-end":
        inside = key.size / 2
        _refuse_ball(design, key.size, key.engaged_depth, tilt)
    if is_bar:
        pivot, inside, tilt = rod.x_adjuster - rod.outward * rod.wheel / 2, 0.0, rod.tilt
    turn = math.radians(tilt)
    return KeyPlace(
        kind=key.kind,
        size=key.size,
        corners=key.size if is_bar else across_corners(key.size),
        x_tip=pivot - rod.outward * inside * math.cos(turn),
        axis=rod.axis_at(pivot) + inside * math.sin(turn),
        floor=slot_floor(key, design.channel.key_clearance, rod.axis_at(pivot), tilt),
        engaged=key.engaged_depth,
        length=arm if key.kind == "L-key" else key.length or 0.0,
        arm=arm,
        rise=(rise or 0.0) if key.kind == "L-key" else 0.0,
        swing=design.channel.key_swing,
        clearance=design.channel.key_clearance,
        handle_diameter=key.handle.diameter if key.handle else 0.0,
        handle_length=key.handle.length if key.handle else 0.0,
        outward=rod.outward,
        tilt=tilt,
        turn=360.0 / rod.holes if rod.holes else 60.0,
        tip_radius=rod.adjuster_diameter / 2 - key.engaged_depth if is_bar else 0.0,
        hangs=key.kind == "L-key" and from_soundhole(design) is not None,
        y=rod.y,
        suffix=rod.suffix,
    )


def ball_waist(size: float, engaged: float, tilt: float) -> float:
    """Largest radius, mm, of a ball-end key's waist that clears the socket's rim when the key is tilted by `tilt`
    degrees.

    The ball's middle stands `e - s/2` inside the socket's face: `(s/2) cos(t) - (e - s/2) sin(t)`.
    """
    turn = math.radians(tilt)
    return size / 2 * math.cos(turn) - max(engaged - size / 2, 0.0) * math.sin(turn)


def _refuse_ball(design: Design, size: float, engaged: float, tilt: float) -> None:
    """Raises DesignError where a ball end engaged this deep cannot be tilted this far."""
    lack = LEAST_WAIST * size - ball_waist(size, engaged, tilt)
    if lack > 0:
        most = engaged - lack / math.sin(math.radians(tilt))
        says = f"does not let a ball-end key tilt by the {tilt:.0f} degrees at which it passes"
        raise design.problem("adjusting_key.engaged_depth", says, f"at most {no_more(max(most, size / 2))}")
