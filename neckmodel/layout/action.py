"""String height and neck angle: how the neck must be set so that the strings lie as wanted. Lengths mm."""

from __future__ import annotations

import math


def height_at_bridge(at_12: float, at_nut: float) -> float:
    """Height of the strings over the line of the frets at the bridge: `2 a_12 - h_0`, for a straight string."""
    return 2 * at_12 - at_nut


def neck_angle(scale: float, x_joint: float, bridge: float, strings: float, fretboard: float) -> float:
    """Angle by which the neck is tilted back against the body, degrees: `atan((H - h_s - g)/(L - x_j))`.

    bridge: height H of the strings over the body at the bridge; strings: h_s, their height over the line of the frets
    there; fretboard: height g of the frets' tops over the body at the joint.
    """
    return math.degrees(math.atan((bridge - strings - fretboard) / (scale - x_joint)))
