"""The share of shear in the sag of a board on two supports."""

from __future__ import annotations

from neckmodel.strength.materials.woods import find_wood

# G along the grain over E along the grain, radial (LR) and tangential (LT): Wood Handbook, FPL-GTR-282 (2021), table
# 5-1; None: it has none
_RIGIDITY: dict[str, tuple[float, float | None]] = {
    "white ash": (0.109, 0.077),
    "yellow birch": (0.074, 0.068),
    "black cherry": (0.147, 0.097),
    "African mahogany": (0.088, 0.059),
    "true mahogany": (0.066, 0.086),
    "sugar maple": (0.111, 0.063),
    "red maple": (0.133, 0.074),
    "white oak": (0.086, None),
    "black walnut": (0.085, 0.062),
    "yellow-poplar": (0.075, 0.069),
    "Douglas-fir": (0.064, 0.078),
    "Sitka spruce": (0.064, 0.061),
}

# E/G of any other wood: with it shear is 1.2 x 16/14**2 = 10 % of the bending at a span of 14 thicknesses, as the
# handbook's page 5-2 has it for its own tests
USUAL_RATIO = 16.0


def shear_ratio(wood: str, rings: str) -> float:
    """E/G of a board bent across its face. rings: "quarter" (they stand upright, so its thickness is tangential and the
    shear lies in LT) or "flat" (LR)."""
    row = find_wood(wood)
    radial, tangential = (None, None) if row is None else _RIGIDITY.get(row.name, (None, None))
    rigidity = tangential if rings == "quarter" else radial
    return USUAL_RATIO if rigidity is None else 1 / rigidity


def with_shear(ratio: float, thickness: float, span: float) -> float:
    """Sag by bending and shear together over the sag by bending alone, load in the middle: `1 + 1.2 (E/G) (h/L)**2` for
    a rectangle (Timoshenko)."""
    return 1 + 1.2 * ratio * (thickness / span) ** 2
