"""Stress in the wood, and what the wood bears for years. MPa, mm, N; stress positive in tension."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from neckmodel.geometry.types import Floats
from neckmodel.limits import LOAD_DURATION
from neckmodel.strength.sections.section import Stiffness

# Hankinson's formula for bending strength: the handbook has exponents of 1.5 to 2.0 and across/along of 0.04 to 0.10
# (chapter 5, from memory, not verified). The lower exponent is the safe one
GRAIN_EXPONENT, GRAIN_RATIO = 1.5, 0.07
COMPRESSION_EXPONENT, COMPRESSION_RATIO = 2.0, 0.2  # for compression: 2 to 2.5, and 0.03 to 0.40 (same source)


def hankinson(degrees: float, exponent: float = GRAIN_EXPONENT, ratio: float = GRAIN_RATIO) -> float:
    """Share of its strength that wood keeps when pulled at an angle to the grain: `Q/(P sin**n + Q cos**n)`.

    ratio: Q/P, strength across the grain over strength along it.
    """
    angle = math.radians(abs(degrees))
    return float(ratio / (math.sin(angle) ** exponent + ratio * math.cos(angle) ** exponent))


def slope_angle(rise_over_run: float) -> float:
    """Angle of the slope of grain, degrees, from rise over run."""
    return math.degrees(math.atan(rise_over_run))


def stress(part: float, moment: ArrayLike, z: ArrayLike, whole: Stiffness, force: ArrayLike) -> Floats:
    """Stress along the grain in one part of a glued section: `-E_i M (z - z_n)/EI - P E_i/EA`.

    part: modulus E_i of the part, MPa. moment: N mm, positive where it bends the neck hollow toward the strings, so
    that the back is pulled. force: pressing along the neck, positive, N. whole: of the glued section. Arrays with one
    entry a station.
    """
    lever = np.asarray(z, dtype=float) - whole.neutral
    along = np.asarray(force, dtype=float) / whole.axial
    return np.asarray(-part * (np.asarray(moment, dtype=float) * lever / whole.bending + along))


def spare_of_end_grain(pressure: float, parallel: float) -> float:
    """How many times a pressure the end grain bears for years. parallel: its strength in compression along the grain,
    MPa, which counts 0.6."""
    return parallel * LOAD_DURATION / pressure if pressure > 0 else math.inf
