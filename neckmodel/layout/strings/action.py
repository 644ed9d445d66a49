"""String height and neck angle: how the neck must be set so that the strings lie as high as wanted. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.strings.frets import Frets


def height_at_bridge(at_12: float, at_nut: float) -> float:
    """Height of the strings over the line of the frets at the bridge: `2 a_12 - h_0`, for a straight string."""
    return 2 * at_12 - at_nut


def neck_angle(scale: float, x_joint: float, bridge: float, strings: float, fretboard: float) -> float:
    """Angle by which the neck is tilted back against the body, degrees: `atan((H - h_s - g)/(L - x_j))`.

    bridge: height H of the strings over the body at the bridge; strings: h_s, their height over the line of the frets
    there; fretboard: height g of the frets' tops over the body at the joint.
    """
    return math.degrees(math.atan((bridge - strings - fretboard) / (scale - x_joint)))


def level_bridge(strings: float, fretboard: float) -> float:
    """Height of the strings over the body at the bridge, at which the neck needs no angle, mm: `h_s + g`."""
    return strings + fretboard


@dataclass(frozen=True)
class StringHeight:
    """How high the strings lie and how the neck is set for it, mm and degrees.

    at_nut, at_12, at_bridge: over the line of the frets' tops. over_body: height of that line over the body at the
    joint, as stated, or `derived` from fretboard, frets and the body's top. level: height of the bridge with which the
    neck needs no angle. bridge, angle: the stated height and the angle that it takes; None where no bridge is stated. A
    positive angle tilts the head back.
    """

    at_nut: float
    at_12: float
    at_bridge: float
    over_body: float
    derived: bool
    level: float
    bridge: float | None
    angle: float | None


def plan_action(design: Design, frets: Frets) -> StringHeight:
    """String height and neck angle. Over a zero fret the strings rest on that fret, at height 0."""
    action, board = design.action, design.fretboard
    at_nut = 0.0 if board.zero_fret else action.at_nut
    at_bridge = height_at_bridge(action.at_12, at_nut)
    stated = action.fretboard_above_body
    over_body = board.thickness + board.fret_stands - design.body.top if stated is None else stated
    bridge, angle = action.bridge_height, None
    if bridge is not None:
        angle = neck_angle(frets.scale, frets.x(design.neck.joint_fret), bridge, at_bridge, over_body)
    level = level_bridge(at_bridge, over_body)
    return StringHeight(
        at_nut=at_nut,
        at_12=action.at_12,
        at_bridge=at_bridge,
        over_body=over_body,
        derived=stated is None,
        level=level,
        bridge=bridge,
        angle=angle,
    )
