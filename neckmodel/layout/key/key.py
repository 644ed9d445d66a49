"""The adjusting key in its socket."""

from __future__ import annotations

import math
from dataclasses import dataclass

from neckmodel.geometry.types import Point3


@dataclass(frozen=True)
class KeyPlace:
    """The adjusting key in its socket, engaged, mm. corners: widest across corners (of a bar: its diameter). arm: inf
    but for an L-key; rise: length of an L-key's other arm, else 0.

    x_tip: its end in the socket; axis: depth of its axis below z = 0 there; floor: depth of the slot that it needs, at
    its pivot. outward: -1 toward the head, 1 toward the body; tilt: degrees by which it points upward on its way out.
    turn: degrees from one place of the key in the socket to the next.
    A bar stands upright in a wheel: x_tip is the wheel's middle, axis the wheel's, tip_radius how far from that axis
    the bar's end stands.
    """

    kind: str
    size: float
    corners: float
    x_tip: float
    axis: float
    floor: float
    engaged: float
    length: float
    arm: float
    rise: float
    swing: float
    clearance: float
    handle_diameter: float
    handle_length: float
    outward: int = -1
    tilt: float = 0.0
    turn: float = 60.0
    tip_radius: float = 0.0

    @property
    def reach(self) -> float:
        """Length with its handle, mm."""
        return self.length + self.handle_length

    @property
    def way_out(self) -> Point3:
        """Unit vector along the key, out of the socket (of a bar: along the wheel's axis)."""
        turn = math.radians(self.tilt)
        return self.outward * math.cos(turn), 0.0, math.sin(turn)
