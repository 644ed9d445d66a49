"""The table of woods against the handbook's own relations, and slope of grain."""

from __future__ import annotations

import pytest

from neckmodel.strength.bending.stress import hankinson, slope_angle
from neckmodel.strength.materials.woods import WOODS, find_wood, unknown_wood


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("maple", "sugar maple"),
        ("Mahogany", "true mahogany"),
        ("rosewood", "Indian rosewood"),
        ("  hard   Maple ", "sugar maple"),
        ("AFRICAN EBONY", "ebony"),
    ],
)
def test_trade_names(word: str, name: str) -> None:
    wood = find_wood(word)
    assert wood is not None
    assert wood.name == name


def test_every_name_and_alias_names_one_wood() -> None:
    words = [word.lower() for wood in WOODS for word in (wood.name, *wood.aliases)]
    assert len(words) == len(set(words))


def test_an_unknown_wood_is_told_the_nearest() -> None:
    assert find_wood("mapel") is None
    problem = unknown_wood("neck.wood", "mapel")
    assert problem.key == "neck.wood"
    assert problem.attempt == 'did you mean "maple"?'
    assert "sugar maple" in problem.allowed
    assert "nearest in stiffness" in unknown_wood("neck.wood", "xyzzy").attempt


@pytest.mark.parametrize(
    ("name", "modulus", "rupture", "parallel", "gravity"),
    [
        ("sugar maple", 13_860, 109, 54.0, 0.63),
        ("yellow birch", 15_290, 114, 56.3, 0.62),
        ("black walnut", 12_760, 101, 52.3, 0.55),
        ("Sitka spruce", 11_880, 70, 38.7, 0.40),
    ],
)
def test_rows_of_table_5_3a(name: str, modulus: float, rupture: float, parallel: float, gravity: float) -> None:
    """Wood Handbook FPL-GTR-282, table 5-3a at 12 %; modulus x 1.10; density 1000 x 1.12 x SG (equation 4-14)."""
    wood = find_wood(name)
    assert wood is not None
    assert wood.modulus == pytest.approx(modulus)
    assert (wood.rupture, wood.parallel) == (rupture, parallel)
    assert wood.density == pytest.approx(1120 * gravity, abs=0.5)


@pytest.mark.parametrize(
    ("name", "modulus", "green"),
    [
        ("true mahogany", 11_330, 0.45),
        ("Indian rosewood", 13_530, 0.75),
        ("bubinga", 18_810, 0.71),
        ("limba", 7700, 0.38),
    ],
)
def test_rows_of_table_5_5a(name: str, modulus: float, green: float) -> None:
    """Table 5-5a prints green specific gravity: at 12 % `G/(1 - 0.265 G (1 - 12/30))` (equation 4-13)."""
    wood = find_wood(name)
    assert wood is not None
    assert wood.modulus == pytest.approx(modulus)
    assert wood.density == pytest.approx(1120 * green / (1 - 0.265 * green * 0.6), abs=1.0)
    assert wood.across is None


def test_the_range_is_22_percent_or_what_the_sources_have() -> None:
    maple, wenge = find_wood("maple"), find_wood("wenge")
    assert maple is not None
    assert wenge is not None
    assert (maple.modulus_low, maple.modulus_high) == (pytest.approx(0.78 * 13_860), pytest.approx(1.22 * 13_860))
    assert (wenge.modulus_low, wenge.modulus_high) == (pytest.approx(12_650), pytest.approx(23_155))
    assert "disagree" in wenge.status
    for wood in WOODS:
        assert wood.modulus_low < wood.modulus < wood.modulus_high


@pytest.mark.parametrize(
    ("name", "rings", "printed"),
    [
        ("sugar maple", "flat", 0.00353),
        ("sugar maple", "quarter", 0.00165),
        ("black walnut", "flat", 0.00274),
        ("black walnut", "quarter", 0.00190),
        ("yellow birch", "flat", 0.00338),
        ("yellow birch", "quarter", 0.00256),
    ],
)
def test_movement_from_shrinkage_meets_the_printed_coefficients(name: str, rings: str, printed: float) -> None:
    """Wood Handbook table 13-5 prints these; `1/(3000/S - 20)` from table 4-3's shrinkage gives them within 0.5 %."""
    wood = find_wood(name)
    assert wood is not None
    shrinkage = wood.radial if rings == "quarter" else wood.tangential
    assert shrinkage is not None
    assert 1 / (3000 / shrinkage - 20) == pytest.approx(printed, rel=5e-3)
    assert wood.change(rings) == printed


def test_unprinted_movement_is_worked_out_and_unknown_stays_unknown() -> None:
    cherry, bubinga = find_wood("cherry"), find_wood("bubinga")
    assert cherry is not None
    assert bubinga is not None
    assert cherry.change("quarter") == pytest.approx(0.00126, abs=1e-5)  # table 13-5, from memory
    assert bubinga.change("flat") is None


# share of bending strength kept at slopes of grain of 1 in 25 ... 1 in 5: Wood Handbook chapter 5, from memory
SLOPES = ((25, 0.96), (20, 0.93), (15, 0.89), (10, 0.81), (5, 0.55))


@pytest.mark.parametrize(("run", "kept"), SLOPES)
def test_slope_of_grain(run: int, kept: float) -> None:
    """In the middle of the handbook's exponents, 1.75, Hankinson's formula gives the handbook's table within 0.01; at
    1.5, used here, never more."""
    assert hankinson(slope_angle(1 / run), 1.75) == pytest.approx(kept, abs=0.012)
    assert kept - 0.15 < hankinson(slope_angle(1 / run)) <= kept


def test_a_head_sawn_at_13_degrees_keeps_about_four_tenths() -> None:
    assert hankinson(13.0) == pytest.approx(0.40, abs=0.005)
    assert hankinson(0.0) == 1.0
    assert hankinson(90.0) == pytest.approx(0.07)
    assert hankinson(-13.0) == hankinson(13.0)
