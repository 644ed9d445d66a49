"""The adjusting key in its socket."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point3

if TYPE_CHECKING:
    from neckmodel.design.tables.key import KeyKind


@dataclass(frozen=True)
class KeyPlace:
    """The adjusting key, engaged in its socket, mm. corners: its width across corners (of a bar: its diameter). arm:
    length of an L-key's arm in the socket, inf for other keys; rise: of its other arm, else 0.

    x_tip: its end in the socket; axis: depth of its axis below z = 0 there; floor: depth, at its pivot, of the slot it
    needs. outward: -1 toward the head, 1 toward the body; tilt: degrees by which it points upward on its way out. turn:
    degrees from one place of the key in the socket to the next. hangs: an L-key whose other arm points down.

    A bar stands upright in a wheel: x_tip is the wheel's middle, axis the wheel's axis, tip_radius the distance of the
    bar's end from that axis. y: of the key's axis. suffix: behind its part's name, where there are two.
    """

    kind: KeyKind
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
    hangs: bool = False
    y: float = 0.0
    suffix: str = ""

    @property
    def reach(self) -> float:
        """Length with its handle, mm."""
        return self.length + self.handle_length

    @property
    def way_out(self) -> Point3:
        """Unit vector along the key, out of the socket; for a bar, along the wheel's axis."""
        turn = math.radians(self.tilt)
        return self.outward * math.cos(turn), 0.0, math.sin(turn)
