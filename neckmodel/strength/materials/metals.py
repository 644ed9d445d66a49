"""Materials other than wood: strings, rods, bars. Moduli MPa, densities kg/m3."""

from __future__ import annotations

import math

import numpy as np

# of plain strings. Steel: general references on carbon steel give 7845 to 7872; nylon 6/6: materials tables
STRING_DENSITY = {"steel": 7850.0, "nylon": 1140.0}

# of the wire wound on a string: phosphor bronze C51000 by materials tables; the others from memory, not verified
WRAP_DENSITY = {"bronze": 8860.0, "nickel-steel": 7900.0, "stainless": 7900.0, "copper": 8960.0}
WRAPS_FROM_MEMORY = ("nickel-steel", "stainless", "copper")

STEEL_MODULUS = 200_000.0  # rods; carbon steel, general engineering references
STEEL_PROOF = 225.0  # MPa, proof stress of steel of property class 4.6 (ISO 898-1, from memory, not verified)

# of glued bars, along their length. Pulled carbon-fibre sections run from about 115 to 140 GPa: from memory
BAR_MODULUS = {
    "carbon": 125_000.0,
    "carbon fibre": 125_000.0,
    "carbon fiber": 125_000.0,
    "steel": STEEL_MODULUS,
    "stainless steel": 193_000.0,
    "aluminium": 69_000.0,
    "aluminum": 69_000.0,
    "titanium": 110_000.0,
    "brass": 105_000.0,
}

# coarse threads (ISO 261): nominal diameter and pitch, mm
COARSE_THREADS = ((3.0, 0.5), (4.0, 0.7), (5.0, 0.8), (6.0, 1.0), (8.0, 1.25), (10.0, 1.5), (12.0, 1.75))
MOST_THREAD = 5.0  # mm, of a two-way rod; common practice, no source


def stress_area(diameter: float, pitch: float) -> float:
    """Tensile stress area of a metric thread, mm2: `pi/4 (d - 0.9382 P)**2` (ISO 898-1). M5 x 0.8: 14.18."""
    return math.pi / 4 * (diameter - 0.9382 * pitch) ** 2


def coarse_pitch(diameter: float) -> float:
    """Pitch of a coarse thread of this diameter, mm; between two of ISO 261 in proportion, below M3 as M3's own."""
    return float(np.interp(diameter, *np.array(COARSE_THREADS).T)) * min(diameter / COARSE_THREADS[0][0], 1.0)


def bar_modulus(material: str) -> float | None:
    """Modulus of a bar of this material, MPa; None where the table has none."""
    return BAR_MODULUS.get(" ".join(material.lower().split()))
