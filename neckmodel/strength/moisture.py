"""What moisture does: the wood's own, its width, and the bow of two layers that move apart. Lengths mm, C, percent."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.along import NeckSections
    from neckmodel.strength.woods import Wood

DRY, DAMP = 0.35, 0.65  # relative humidity of a heated winter and of a damp summer; common practice, no source

# Longitudinal shrinkage of normal wood, green to ovendry, is 0.1 to 0.2 %; over 30 % of moisture (Wood Handbook, ch. 4)
ALONG_LOW, ALONG_HIGH = 0.001 / 30, 0.002 / 30


def equilibrium(humidity: float, celsius: float = 21.1) -> float:
    """Moisture that wood comes to in air of this relative humidity (0 to 1), percent of its dry mass.

    `100 (A T (1 - T/T_c)**B ln(1 - h))**(C T**D)`, T in K: Wood Handbook, FPL-GTR-282 (2021), equation 4-6.
    """
    kelvin = celsius + 273.15
    base = -0.000612 * kelvin * (1 - kelvin / 647.1) ** 2.43 * math.log(1 - humidity)
    return float(100 * base ** (0.0577 * kelvin**0.430))


def width_change(width: float, coefficient: float, change: float) -> float:
    """`dW = W C dMC`, mm. coefficient: for each percent; change: of moisture, percent."""
    return width * coefficient * change


def two_layer_curvature(strain: float, thickness: tuple[float, float], modulus: tuple[float, float]) -> float:
    """Curvature, 1/mm, of two glued layers when the first grows by `strain` more than the second.

    Timoshenko's formula for bimetal strips (1925): `6 e (1+m)**2 / (h (3 (1+m)**2 + (1 + m n)(m**2 + 1/(m n))))`, m the
    ratio of thicknesses, n of moduli, h both thicknesses together.
    """
    m, n = thickness[0] / thickness[1], modulus[0] / modulus[1]
    h = thickness[0] + thickness[1]
    return 6 * strain * (1 + m) ** 2 / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))))


def bow(curvature: float, length: float) -> float:
    """Bow of an evenly curved length, mm: `kappa l**2/8`."""
    return curvature * length**2 / 8


@dataclass(frozen=True)
class MoistureEstimate:
    """Between a dry and a damp season. moisture: (dry, damp), percent; neck, fretboard: change of width at the joint,
    mm (None: the wood's movement is not known); bow: what the two layers' unlike movement along the grain may bend the
    neck by over its length, at most, mm, either way."""

    moisture: tuple[float, float]
    neck: float | None
    fretboard: float | None
    bow: float


def moisture_estimate(layout: Layout, sections: NeckSections, neck: Wood, board: Wood, middle: int) -> MoistureEstimate:
    """The estimate for the layout; `middle` is the section whose depth stands for the neck's. A fretboard is taken as
    quarter-sawn (common practice, no source)."""
    dry, damp = equilibrium(DRY), equilibrium(DAMP)
    change = damp - dry
    rings = layout.design.board.rings if layout.design.board is not None else "quarter"
    width = 2 * layout.back.half_width(layout.heel.x_joint)
    shares = (neck.change(rings), board.change("quarter"))
    widths = [None if share is None else width_change(width, share, change) for share in shares]
    across = 2 * layout.back.half_width(float(sections.x[middle]))
    thickness = (float(sections.board_whole.area[middle]) / across, float(sections.wood.area[middle]) / across)
    unlike = (ALONG_HIGH - ALONG_LOW) * change
    bent = two_layer_curvature(unlike, thickness, (board.modulus, neck.modulus))
    return MoistureEstimate((dry, damp), widths[0], widths[1], bow(bent, layout.heel.x_joint))
