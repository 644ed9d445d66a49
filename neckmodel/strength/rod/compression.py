"""Compression rods: one bent bar that pulls washer and anchor together below the neck's neutral axis. Lengths mm,
forces N."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.strength.materials.metals import STEEL_MODULUS, STEEL_PROOF, coarse_pitch, stress_area

if TYPE_CHECKING:
    from neckmodel.geometry.curve import Curve
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace


@dataclass(frozen=True)
class CompressionRod:
    """A round bar in tension along `curve` (its axis below z = 0), between the faces of washer and anchor.

    diameter: of the bar, on which its thread is cut. pitch: mm for a turn. The rod follows the bent neck, so it bends
    the neck only by its own distance from the neutral axis, and cannot buckle it. It cannot add relief.
    """

    curve: Curve
    diameter: float
    pitch: float
    modulus: float = STEEL_MODULUS
    adds: bool = False
    presses: float = 1.0
    dead_turns: float = 0.0  # turns count from where its nut just touches, with the strings at pitch

    @property
    def thread(self) -> float:
        """mm that the adjuster runs for a turn: the pitch."""
        return self.pitch

    def arm(self, x: Floats, neutral: Floats) -> Floats:
        """How far the rod lies below the neutral axis, mm: its moment is `M(x) = F e(x)`, e = z_n - z_rod."""
        return np.asarray(neutral + np.array([self.curve.at(float(v)) for v in x]))

    @property
    def area_core(self) -> float:
        """Tensile stress area of its thread, mm2."""
        return stress_area(self.diameter, self.pitch)

    @property
    def compliance(self) -> float:
        """How far the rod itself stretches, mm/N, counted as thin as its thread: `l/(E A)`."""
        return self.curve.arc_length() / (self.modulus * self.area_core)

    @property
    def own_bending(self) -> float:
        """EI of the bar, N mm2."""
        return self.modulus * math.pi * self.diameter**4 / 64

    @property
    def greatest_force(self) -> float:
        """Force at which the thread's core reaches its proof stress, N."""
        return STEEL_PROOF * self.area_core

    def push_on_strip(self, force: float) -> float:
        """Push of the bent rod on the strip glued over it, N for each mm; 0 for a rod that does not sag."""
        return max(press_on_strip(force, self.curve.sag, self.curve.length), 0.0)


def press_on_strip(force: float, sag: float, length: float) -> float:
    """Push of a curved rod on the strip glued over it, N for each mm: `8 F sag/l**2`."""
    return 8 * force * sag / length**2


def compression_rod(layout: Layout) -> CompressionRod | None:
    """The layout's compression rod; None where it has none. Its thread is taken as a coarse one (ISO 261) of its own
    diameter: common practice, no source."""
    place = layout.rod
    if place is None or place.curve is None:
        return None
    curve = place.curve.between(*faces(place))
    return CompressionRod(curve, place.diameter, coarse_pitch(place.diameter))


def faces(place: RodPlace) -> tuple[float, float]:
    """x of the faces on which a compression rod presses: its washer's (or adjuster's) and its anchor's (or its own
    end); the nut-side one first."""
    inner = place.x_block
    if place.washer is not None:
        inner = place.washer.x_start if place.at_heel else place.washer.x_end
    anchor = next((s.x_end if place.at_heel else s.x_start for s in place.segments), place.x_anchor_end)
    return (min(inner, anchor), max(inner, anchor))
