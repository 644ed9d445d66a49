"""A maker's own woods: as good as a row of the table, over it, and refused as strictly as everything else."""

from __future__ import annotations

import pytest
from strength_samples import laid_out

from neckmodel.design import read_text
from neckmodel.errors import DesignError
from neckmodel.layout import Layout
from neckmodel.strength import Strength, estimate, missing
from neckmodel.strength.bending.bending import Moduli, bending_of
from neckmodel.strength.materials.own import wood_of
from neckmodel.strength.materials.woods import find_wood
from neckmodel.strength.strings.load import load_of
from neckmodel.strength.strings.pull import pull_of

# sugar maple and Indian rosewood as the table has them; modulus = bending modulus x 1.10
MAPLE = "density=706,modulus=13860,bending_strength=109,compression_parallel=54.0,compression_across=10.1"
ROSEWOOD = "density=954,modulus=13530,bending_strength=116.5,compression_parallel=63.6"


def own(name: str, values: str) -> list[str]:
    return [f"woods.{name}.{value.strip()}" for value in values.split(",")]


def figures(strength: Strength) -> tuple[float, ...]:
    assert strength.rod is not None
    relief, years = strength.relief, strength.relief_years
    ranges = (relief.low, relief.likely, relief.high, years.low, years.likely, years.high)
    return (*ranges, strength.rod.likely.turns, strength.weakest.spare, strength.weakest.spare_low)


def test_own_woods_equal_to_rows_of_the_table_give_equal_figures() -> None:
    table = laid_out("redpoll")
    woods = own("plum", MAPLE) + own("pear", ROSEWOOD)
    mine = laid_out("redpoll", *woods, "neck.wood=plum", "fretboard.wood=pear")
    assert figures(estimate(mine)) == pytest.approx(figures(estimate(table)), rel=1e-12)
    assert "own values of plum and pear" in estimate(mine).basis
    assert "own values" not in estimate(table).basis


def by_strings(layout: Layout) -> float:
    """Relief by the strings of the wood alone, its rod left out: every bit of EI is wood."""
    design = layout.design
    neck, board = wood_of(design, design.neck.wood), wood_of(design, design.fretboard.wood)
    assert neck is not None
    assert board is not None
    bending = bending_of(layout, load_of(layout, pull_of(design.strings)), None)
    return bending.under(Moduli((neck.modulus,), board.modulus, True)).straight


def test_twice_the_modulus_is_half_the_relief() -> None:
    """`kappa = M/EI`: with wood and fretboard twice as stiff the neutral axis stays and EI doubles. A slack rod's
    steel, 1 to 2 % of EI, does not double."""
    doubled = ("woods.maple.modulus=27720", "woods.rosewood.modulus=27060")
    once, twice = laid_out("redpoll"), laid_out("redpoll", *doubled)
    assert by_strings(twice) == pytest.approx(by_strings(once) / 2, rel=1e-12)
    assert 0.5 < estimate(twice).relief_whole / estimate(once).relief_whole < 0.51


def test_own_values_stand_over_the_table_and_leave_the_rest() -> None:
    design = laid_out("redpoll", "woods.maple.modulus=11000", "woods.maple.modulus_spread=0.05").design
    mine, row = wood_of(design, "maple"), find_wood("maple")
    assert mine is not None
    assert row is not None
    assert (mine.modulus, mine.modulus_low) == (pytest.approx(11_000), pytest.approx(11_000 * 0.95))
    assert (mine.rupture, mine.parallel, mine.radial) == (row.rupture, row.parallel, row.radial)
    assert mine.source == "the maker's own values, over Wood Handbook, FPL-GTR-282, table 5-3a"
    wenge = wood_of(laid_out("redpoll", "woods.wenge.modulus=16000").design, "Wenge")
    assert wenge is not None
    assert wenge.modulus_low == pytest.approx(16_000 * 0.78)  # the sources' range is not that of the maker's wood


def test_own_shrinkage_stands_over_the_printed_movement() -> None:
    """Maple's printed coefficient 0.00165 gives way to 1/(3000/S - 20)."""
    wood = wood_of(laid_out("redpoll", "woods.maple.shrinkage_radial=4.0").design, "maple")
    assert wood is not None
    assert wood.change("quarter") == pytest.approx(1 / (3000 / 4.0 - 20))
    assert wood.change("flat") == pytest.approx(0.00353)


def test_a_narrower_spread_narrows_the_range() -> None:
    wide = estimate(laid_out("redpoll")).relief
    spreads = ("woods.maple.modulus_spread=0", "woods.rosewood.modulus_spread=0")
    known = estimate(laid_out("redpoll", *spreads)).relief
    assert known.likely == pytest.approx(wide.likely, rel=1e-12)
    assert wide.low < known.low < known.likely < known.high < wide.high


@pytest.mark.parametrize(
    ("overrides", "key"),
    [
        (("neck.wood=plum", "woods.plum.modulus=12000"), "woods.plum.bending_strength"),
        (("neck.wood=plum", "woods.plum.density=600"), "woods.plum.modulus"),
        (("neck.wood=plum",), "neck.wood"),
    ],
)
def test_what_a_new_wood_lacks_is_named(overrides: tuple[str, ...], key: str) -> None:
    problem = missing(laid_out("redpoll", *overrides))
    assert problem is not None
    assert problem.key == key


def test_a_misspelt_own_wood_is_told_the_nearest() -> None:
    problem = missing(laid_out("redpoll", "neck.wood=plumm", *own("plum", MAPLE)))
    assert problem is not None
    assert problem.attempt == 'did you mean "plum"?'
    assert missing(laid_out("redpoll", "neck.wood=Plum", *own("plum", MAPLE))) is None


BASE = laid_out("redpoll").design.source.text


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[woods.plum]\nmodulu = 9000\n", 'woods.plum.modulu = 9000: is an unknown key; did you mean "modulus"?'),
        ("[woods.plum]\nmodulus = 13.8\n", "woods.plum.modulus = 13.8: is too small; allowed are 1000 to 40000 MPa"),
        ('[woods.plum]\nmodulus = "9"\n', "is not a number; write a number in MPa, 1000 to 40000"),
        ("[woods.plum]\nmodulus_spread = 22\n", "is too large; allowed are 0 to 0.5"),
        ("[woods]\nplum = 3\n", "woods.plum = 3: gives no keys, but needs them"),
        ('[woods.""]\nmodulus = 9000\n', "holds a wood whose name cannot be used; allowed are 1 to 60 signs"),
        ('[woods."B a"]\ndensity = 900\n[woods."b  a"]\ndensity = 900\n', 'is the same wood as "B a"'),
        ("".join(f"[woods.w{k}]\ndensity = 900\n" for k in range(61)), "has 61 woods; allowed are 60"),
    ],
)
def test_mistakes_are_told_with_file_line_and_key(text: str, says: str) -> None:
    with pytest.raises(DesignError) as told:
        read_text(f"{BASE}\n{text}", "mine.toml")
    assert says in str(told.value)
    assert "mine.toml:" in str(told.value)


def test_a_wood_may_have_any_name() -> None:
    """Also one that means something to the program."""
    for name in ("own", "of_each", "model_fields", "__class__", "copy"):
        design = read_text(f"{BASE}\n[woods.{name}]\ndensity = 900\n")
        assert design.woods is not None
        assert design.woods.own[name].density == 900
