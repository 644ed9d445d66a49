"""What moisture does: the wood's own, its width, and the bow of two layers that move apart. Lengths mm, C, percent."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.strength.along import neck_sections

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.strength.woods import Wood

# relative humidity of a heated winter and of a damp summer, between which everything here is told; common practice, no
# source
DRY, DAMP = 0.35, 0.65

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
    """Between a dry and a damp season. moisture: (dry, damp), percent; neck: change of the neck's width at the joint,
    mm; fretboard_quarter, fretboard_flat: of the fretboard's width at its end, quarter-sawn and flat-sawn, mm (None:
    the wood's movement is not known); bow: what the two layers' unlike movement along the grain may bend the neck by
    over its length, at most, mm, either way."""

    moisture: tuple[float, float]
    neck: float | None
    fretboard_quarter: float | None
    fretboard_flat: float | None
    bow: float


def moisture_estimate(layout: Layout, neck: Wood, board: Wood) -> MoistureEstimate:
    """The estimate for the layout; the section half way to the joint stands for the neck's depth."""
    dry, damp = equilibrium(DRY), equilibrium(DAMP)
    change = damp - dry
    rings = layout.design.board.rings if layout.design.board is not None else "quarter"
    x_joint, x_end = layout.heel.x_joint, layout.fretboard.x_end
    width, broad = 2 * layout.back.half_width(x_joint), 2 * layout.fretboard.half_width(x_end)

    def moved(size: float, share: float | None) -> float | None:
        return None if share is None else width_change(size, share, change)

    sections = neck_sections(layout, x_joint / 2 - 0.5, x_joint / 2 + 0.5, 1)
    across = 2 * layout.back.half_width(x_joint / 2)
    thickness = (float(sections.board_whole.area[0]) / across, float(sections.wood.area[0]) / across)
    bent = two_layer_curvature((ALONG_HIGH - ALONG_LOW) * change, thickness, (board.modulus, neck.modulus))
    return MoistureEstimate(
        moisture=(dry, damp),
        neck=moved(width, neck.change(rings)),
        fretboard_quarter=moved(broad, board.change("quarter")),
        fretboard_flat=moved(broad, board.change("flat")),
        bow=bow(bent, x_joint),
    )
