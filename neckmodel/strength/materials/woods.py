"""Woods: stiffness, strength, mass and movement, with the source of each row.

WH21 is the Wood Handbook, USDA Forest Products Laboratory, FPL-GTR-282 (2021): table 5-3a for woods grown in the United
States, table 5-5a for imported ones, both at about 12 % moisture. Shrinkage is green to ovendry, table 4-3 and, for the
imported woods, USDA Agriculture Handbook 607 (1984) and table 4-4 of the 2010 edition.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from neckmodel.errors import Problem
from neckmodel.limits import SHEAR_FREE, SPREAD_MODULUS

# coefficients of variation, WH21 table 5-6
SPREAD_BENDING, SPREAD_COMPRESSION, SPREAD_DENSITY = 0.16, 0.18, 0.10

PRINTED, MEMORY, DISAGREE = "as printed", "from memory, not verified", "sources disagree"
OWN = "the maker's own values"
US, IMPORTED = "Wood Handbook, FPL-GTR-282, table 5-3a", "Wood Handbook, FPL-GTR-282, table 5-5a"


@dataclass(frozen=True)
class Wood:
    """One wood at about 12 % moisture. Strengths and moduli MPa, density kg/m3, shrinkage percent green to ovendry.

    bending_modulus, rupture: static bending, as tabled. parallel, across: compression along the grain and square to it
    (None: the source has none). radial, tangential: shrinkage, None where not known; coefficient_radial, _tangential:
    change of size for each percent of moisture where a table prints it (table 13-5). modulus_range: E along the
    grain as different sources have it, where they disagree. spread: one standard deviation of the modulus, as a share.
    """

    name: str
    aliases: tuple[str, ...]
    bending_modulus: float
    rupture: float
    parallel: float
    across: float | None
    shear: float | None
    density: float | None
    radial: float | None
    tangential: float | None
    source: str
    status: str = PRINTED
    shrinkage_status: str = PRINTED
    coefficient_radial: float | None = None
    coefficient_tangential: float | None = None
    modulus_range: tuple[float, float] | None = None
    spread: float = SPREAD_MODULUS

    @property
    def modulus(self) -> float:
        """Young's modulus along the grain, MPa: the tabled bending modulus x 1.10 (WH21 page 5-2)."""
        return self.bending_modulus * SHEAR_FREE

    @property
    def modulus_low(self) -> float:
        """Young's modulus along the grain, MPa, one standard deviation down (22 % unless the maker states better, WH21
        table 5-6), or the least of the sources where they disagree."""
        return self.modulus_range[0] if self.modulus_range else self.modulus * (1 - self.spread)

    @property
    def modulus_high(self) -> float:
        """Young's modulus along the grain, MPa, one standard deviation up, or the largest of the sources where they
        disagree."""
        return self.modulus_range[1] if self.modulus_range else self.modulus * (1 + self.spread)

    def change(self, rings: str) -> float | None:
        """Change of width for each percent of moisture, as a share; None where not known.

        rings: "quarter" (the width is radial) or "flat" (tangential). Where no table prints it, from the shrinkage S:
        `1/(3000/S - 20)`, the handbook's equation (WH21 chapter 13) about 10 % moisture, fibre saturation at 30 %.
        """
        quarter = rings == "quarter"
        printed = self.coefficient_radial if quarter else self.coefficient_tangential
        shrinkage = self.radial if quarter else self.tangential
        if printed is not None or shrinkage is None:
            return printed
        return 1 / (3000 / shrinkage - 20)


def _row(
    source: str,
    name: str,
    aliases: str,
    numbers: tuple[float, float, float, float | None, float, float],
    shrinkage: tuple[float, float] | None,
    coefficients: tuple[float | None, float | None] = (None, None),
    shrinkage_status: str = PRINTED,
) -> Wood:
    """numbers: modulus GPa, rupture, parallel, across, shear MPa, density at 12 %. The tables print specific gravity:
    table 5-3 at 12 % (x 1120, equation 4-14), table 5-5 green, turned to 12 % by equation 4-13."""
    modulus, rupture, parallel, across, shear, density = numbers
    radial, tangential = shrinkage or (None, None)
    return Wood(
        name=name,
        aliases=tuple(word for word in aliases.split(", ") if word),
        bending_modulus=modulus * 1000,
        rupture=rupture,
        parallel=parallel,
        across=across,
        shear=shear,
        density=density,
        radial=radial,
        tangential=tangential,
        source=source,
        status=PRINTED,
        shrinkage_status=shrinkage_status,
        coefficient_radial=coefficients[0],
        coefficient_tangential=coefficients[1],
    )


WOODS: tuple[Wood, ...] = (
    _row(US, "sugar maple", "maple, hard maple", (12.6, 109, 54.0, 10.1, 16.1, 706), (4.8, 9.9), (0.00165, 0.00353)),
    _row(US, "black walnut", "walnut", (11.6, 101, 52.3, 7.0, 9.4, 616), (5.5, 7.8), (0.00190, 0.00274)),
    _row(US, "black cherry", "cherry", (10.3, 85, 49.0, 4.8, 11.7, 560), (3.7, 7.1), (None, 0.00248)),
    _row(US, "yellow birch", "birch", (13.9, 114, 56.3, 6.7, 13.0, 694), (7.3, 9.5), (0.00256, 0.00338)),
    # white ash: 106 MPa in the 2021 edition, 103 in that of 2010; the lower one is kept
    _row(US, "white ash", "ash", (12.0, 103, 51.1, 8.0, 13.2, 672), (4.9, 7.8), (None, 0.00274)),
    _row(US, "white oak", "oak", (12.3, 105, 51.3, 7.4, 13.8, 762), (5.6, 10.5), (0.00180, 0.00365)),
    _row(US, "black locust", "locust", (14.1, 134, 70.2, 12.6, 17.1, 773), (4.6, 7.2), shrinkage_status=MEMORY),
    _row(US, "red maple", "soft maple", (11.3, 92, 45.1, 6.9, 12.8, 605), (4.0, 8.2), shrinkage_status=MEMORY),
    _row(US, "bigleaf maple", "", (10.0, 74, 41.0, 5.2, 11.9, 538), None),
    _row(US, "northern red oak", "red oak", (12.5, 99, 46.6, 7.0, 12.3, 706), (4.0, 8.6)),
    _row(US, "American beech", "beech", (11.9, 103, 50.3, 7.0, 13.9, 717), (5.5, 11.9)),
    _row(US, "yellow-poplar", "poplar, tulipwood", (10.9, 70, 38.2, 3.4, 8.2, 470), (4.6, 8.2)),
    _row(US, "American basswood", "basswood", (10.1, 60, 32.6, 2.6, 6.8, 414), (6.6, 9.3)),
    _row(US, "Douglas-fir", "coast Douglas-fir", (13.4, 85, 49.9, 5.5, 7.8, 538), (4.8, 7.6), (None, 0.00267)),
    _row(US, "interior west Douglas-fir", "", (12.6, 87, 51.2, 5.2, 8.9, 560), (4.8, 7.5), (None, 0.00267)),
    _row(US, "Sitka spruce", "spruce", (10.8, 70, 38.7, 4.0, 7.9, 448), (4.3, 7.5), shrinkage_status=MEMORY),
    _row(IMPORTED, "true mahogany", "mahogany, Honduran mahogany", (10.3, 79.3, 46.7, None, 8.5, 543), (3.0, 4.1)),
    _row(IMPORTED, "African mahogany", "khaya", (9.7, 73.8, 44.5, None, 10.3, 504), (2.5, 4.5)),
    _row(IMPORTED, "sapele", "", (12.5, 105.5, 56.3, None, 15.6, 675), (4.6, 7.4)),
    _row(IMPORTED, "Spanish-cedar", "", (9.9, 79.3, 42.8, None, 7.6, 491), (4.2, 6.3), shrinkage_status=MEMORY),
    _row(
        IMPORTED, "Brazilian rosewood", "", (13.0, 131.0, 66.2, None, 14.5, 1027), (2.9, 4.6), shrinkage_status=MEMORY
    ),
    _row(IMPORTED, "Indian rosewood", "rosewood", (12.3, 116.5, 63.6, None, 14.4, 954), (2.7, 5.8)),
    _row(IMPORTED, "purpleheart", "", (15.7, 132.4, 71.2, None, 15.3, 840), (3.2, 6.1), (None, 0.00212), MEMORY),
    _row(IMPORTED, "teak", "", (10.7, 100.7, 58.0, None, 13.0, 675), (2.5, 5.8), (None, 0.00185), MEMORY),
    _row(IMPORTED, "bubinga", "", (17.1, 155.8, 72.4, None, 21.4, 896), None),
    _row(IMPORTED, "limba", "", (7.0, 60.7, 32.6, None, 9.7, 453), (4.5, 6.2)),
    _row(IMPORTED, "goncalo alves", "", (15.4, 114.5, 71.2, None, 13.5, 1086), None),
    Wood(
        name="wenge",
        aliases=(),
        bending_modulus=17590,
        rupture=144.0,
        parallel=80.7,
        across=None,
        shear=None,
        density=870,
        radial=None,
        tangential=None,
        source="trade data sheets; three sources have 11.5, 17.6 and 21.1 GPa",
        status=DISAGREE,
        coefficient_tangential=0.00201,
        modulus_range=(11500 * SHEAR_FREE, 21050 * SHEAR_FREE),
    ),
    Wood(
        name="ebony",
        aliases=("African ebony",),
        bending_modulus=16900,
        rupture=150,
        parallel=75,
        across=None,
        shear=None,
        density=1030,
        radial=8.3,
        tangential=10.8,
        source="general knowledge",
        status=MEMORY,
        shrinkage_status=MEMORY,
    ),
)

_BY_NAME = {word.lower(): wood for wood in WOODS for word in (wood.name, *wood.aliases)}


def find_wood(name: str) -> Wood | None:
    """The wood of this name or alias, whatever its capitals; None if the table has none."""
    return _BY_NAME.get(" ".join(name.lower().split()))


def unknown_wood(key: str, name: str, own: str | None = None) -> Problem:
    """The message for a wood that the table does not have: the key, and the nearest known name, or `own`, one of the
    design's own."""
    near = [own] if own is not None else difflib.get_close_matches(name.lower(), _BY_NAME, 1, 0.6)
    otherwise = f"take the known wood that is nearest in stiffness, or state your own under [woods.{name}]"
    attempt = f'did you mean "{near[0]}"?' if near else otherwise
    known = ", ".join(sorted((wood.name for wood in WOODS), key=str.lower))
    return Problem(key, "is not in the table of woods", f'"{name}"', f"known are {known}", attempt)
