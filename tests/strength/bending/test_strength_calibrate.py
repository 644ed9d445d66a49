"""What was measured narrows the estimate, and leads back to what it was measured on; what cannot be is refused."""

from __future__ import annotations

import math
import re

import pytest
from strength_samples import FOLDER, laid_out

from neckmodel.cli.guard import WRONG, verdict
from neckmodel.design import read_text
from neckmodel.design.rules.calibration import (
    LEAST_MODULUS,
    LEAST_SAG,
    LEAST_SLENDER,
    MOST_MODULUS,
    READING,
    blank_modulus,
)
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.limits import SHEAR_FREE, SPREAD_MODULUS
from neckmodel.strength import Strength, estimate
from neckmodel.strength.bending.bending import bending_of
from neckmodel.strength.bending.calibration import Corners, corners_of, spread_of_sag
from neckmodel.strength.bending.shear import shear_ratio, with_shear
from neckmodel.strength.materials.own import wood_of
from neckmodel.strength.materials.woods import WOODS
from neckmodel.strength.strings.load import load_of
from neckmodel.strength.strings.pull import pull_of

# redpoll's board is 65 x 24, of maple with upright rings: E = 1.10 x 12.6 GPa, G(LT) = 0.063 E (Wood Handbook,
# FPL-GTR-282, tables 5-3a and 5-1)
MAPLE, MAPLE_G = 13_860.0, 0.063 * 13_860.0
BENDS = 50 * 600**3 / (48 * MAPLE * 65 * 24**3 / 12)
SHEARS = 1.2 * 50 * 600 / (4 * MAPLE_G * 65 * 24)


def readings(**found: float) -> list[str]:
    return [f"calibration.{name}={value!r}" for name, value in found.items()]


def measured(**found: float) -> Strength:
    return estimate(laid_out("redpoll", *readings(**found)))


def corners(*settings: str, **found: float) -> Corners:
    layout = laid_out("redpoll", *settings, *readings(**found))
    design = layout.design
    neck, board = wood_of(design, design.neck.wood), wood_of(design, design.fretboard.wood)
    assert neck is not None
    assert board is not None
    return corners_of(layout, bending_of(layout, load_of(layout, pull_of(design.strings)), None), (neck,), board)


def refused(**found: float) -> str:
    with pytest.raises(DesignError) as caught:
        measured(**found)
    assert verdict(caught.value) == (WRONG, str(caught.value))
    return str(caught.value)


def test_without_measurements_the_range_is_the_handbooks() -> None:
    plain, empty = estimate(laid_out("redpoll")), estimate(laid_out("redpoll", "calibration={}"))
    assert plain == empty
    assert plain.measured == ""


@pytest.mark.parametrize("change", [0.2, 0.28, 0.45])
def test_strung_less_unstrung_becomes_the_relief(change: float) -> None:
    """The estimate then gives what was measured, and only the two readings (0.03 mm each) are left of its range."""
    plain = estimate(laid_out("redpoll"))
    found = measured(relief_unstrung=-0.05, relief_strung=change - 0.05)
    assert found.relief.likely == pytest.approx(change, abs=1e-6)
    assert found.relief.low == pytest.approx(change - 0.03 * 2**0.5, abs=1e-6)
    assert found.relief.high == pytest.approx(change + 0.03 * 2**0.5, abs=1e-6)
    assert found.relief.high - found.relief.low < (plain.relief.high - plain.relief.low) / 2
    assert found.measured == "the relief strung and unstrung"
    assert found.rod is not None
    assert found.rod.likely.need == pytest.approx(change - 0.15, abs=1e-3)


def test_a_stiffer_reading_means_a_stiffer_neck() -> None:
    soft = measured(relief_unstrung=0.0, relief_strung=0.45)
    stiff = measured(relief_unstrung=0.0, relief_strung=0.2)
    assert stiff.bending.likely > soft.bending.likely
    assert stiff.bending.low <= stiff.bending.likely <= stiff.bending.high


@pytest.mark.parametrize("strung", [4.0, 0.01])
def test_a_relief_this_neck_cannot_have_is_refused_with_what_it_can(strung: float) -> None:
    """Both ends of what is allowed are then met by the estimate; 0.01 mm beyond either is refused."""
    says = refused(relief_unstrung=0.0, relief_strung=strung)
    found = re.fullmatch(
        rf"--set: calibration\.relief_strung = {strung}: is no relief that the strings can give this neck; "
        r"allowed are ([0-9.]+) to ([0-9.]+) mm; read both again, the rod slack and the strings at pitch",
        says,
    )
    assert found is not None, says
    least, most = float(found[1]), float(found[2])
    plain = estimate(laid_out("redpoll")).relief
    assert 0 < least < plain.low < plain.high < most < 4
    for end in (least, most):
        relief = measured(relief_unstrung=0.0, relief_strung=end).relief
        assert relief.likely == pytest.approx(end, abs=1e-6)
        assert relief.low < end - 0.001
        assert relief.high > end
    refused(relief_unstrung=0.0, relief_strung=round(least - 0.01, 2))
    refused(relief_unstrung=0.0, relief_strung=round(most + 0.01, 2))


def test_what_is_allowed_counts_from_the_relief_unstrung() -> None:
    ends = [re.findall(r"allowed are (\S+) to (\S+) mm", refused(relief_unstrung=u, relief_strung=4.0)) for u in (0, 1)]
    (low, high), (higher_low, higher_high) = ((float(a), float(b)) for ((a, b),) in ends)
    assert (higher_low, higher_high) == pytest.approx((low + 1, high + 1), abs=1e-9)


def test_a_relief_refused_names_the_line_in_the_file() -> None:
    text = (FOLDER / "redpoll.toml").read_text(encoding="utf-8")
    text += "\n[calibration]\nrelief_unstrung = 0.0\nrelief_strung = 4.0\n"
    with pytest.raises(DesignError) as caught:
        estimate(lay_out(read_text(text, "redpoll.toml")))
    line = text.splitlines().index("relief_strung = 4.0") + 1
    assert str(caught.value).startswith(f"redpoll.toml:{line}: calibration.relief_strung = 4.0: is no relief")


def test_the_boards_sag_gives_its_modulus_without_shear() -> None:
    """By bending 0.2168 mm, `P L**3/(48 E I)`, and by shear 0.0066 more, `1.2 P L/(4 G b h)` (Timoshenko, a rectangle
    under a load in the middle)."""
    assert pytest.approx(0.21680, abs=5e-6) == BENDS
    assert pytest.approx(0.00661, abs=5e-6) == SHEARS
    assert blank_modulus(50.0, 600.0, 65.0, 24.0, BENDS) == pytest.approx(MAPLE)
    assert blank_modulus(50.0, 600.0, 65.0, 24.0, BENDS + SHEARS) == pytest.approx(13_450, abs=1)
    found = corners(weight=50.0, span=600.0, sag=BENDS + SHEARS)
    assert found.whole.neck[0] == found.below.neck[0] == pytest.approx(MAPLE, rel=1e-9)
    assert found.whole.board == corners().whole.board


def test_a_sag_as_of_handbook_wood_narrows_the_range_alone() -> None:
    plain = estimate(laid_out("redpoll"))
    same = measured(weight=50.0, span=600.0, sag=BENDS + SHEARS)
    assert same.relief.likely == pytest.approx(plain.relief.likely, rel=1e-9)
    assert same.relief.high - same.relief.low < 0.9 * (plain.relief.high - plain.relief.low)
    stiff = measured(weight=50.0, span=600.0, sag=(BENDS + SHEARS) / 1.15)
    assert stiff.relief.likely < same.relief.likely
    assert stiff.measured == "the sag of the board under a weight"


@pytest.mark.parametrize(
    ("weight", "measuring", "spread"),
    [
        (50.0, 0.1, 0.13487),  # hypot(0.03/0.22341, 3 x 0.1/24) = hypot(0.13428, 0.0125)
        (200.0, 0.1, 0.05),  # hypot(0.03357, 0.0125) = 0.03582: less than weight and supports are known to
        (200.0, 0.6, 0.08217),  # hypot(0.03357, 0.075)
    ],
)
def test_the_spread_of_a_sag_is_that_of_its_readings(weight: float, measuring: float, spread: float) -> None:
    sag = (BENDS + SHEARS) * weight / 50
    found = corners(f"workshop.tolerances.measuring={measuring}", weight=weight, span=600.0, sag=sag)
    assert found.stiffest.neck[0] == pytest.approx(MAPLE * (1 + spread), rel=1e-5)
    assert found.weakest.neck[0] == pytest.approx(MAPLE * (1 - spread), rel=1e-5)
    handbook = corners()
    assert (found.stiffest.board, found.weakest.board) == (handbook.stiffest.board, handbook.weakest.board)


def test_no_sag_that_is_taken_tells_less_than_the_handbook() -> None:
    """Least sag, thinnest board, usual measuring."""
    assert spread_of_sag(LEAST_SAG, 8.0, 0.1) < SPREAD_MODULUS
    assert spread_of_sag(0.3, 20.0, 0.1) == pytest.approx(math.hypot(0.1, 0.015))
    assert pytest.approx(0.03) == READING


def test_shear_by_the_handbooks_own_tests() -> None:
    """FPL-GTR-282, page 5-2 and footnote c of table 5-3: 10 % of shear at a span of 14 thicknesses; table 5-1 has
    G(LR) 0.111 and G(LT) 0.063 of E for sugar maple, and none in LT for white oak."""
    assert with_shear(16.0, 1.0, LEAST_SLENDER) == pytest.approx(SHEAR_FREE, abs=0.003)
    assert shear_ratio("maple", "quarter") == pytest.approx(1 / 0.063)
    assert shear_ratio("Sugar maple", "flat") == pytest.approx(1 / 0.111)
    assert shear_ratio("oak", "flat") == pytest.approx(1 / 0.086)
    assert [shear_ratio(*of) for of in (("oak", "quarter"), ("rosewood", "flat"), ("plum", "flat"))] == [16.0] * 3


def test_a_board_with_flat_rings_shears_less() -> None:
    """1.2 (1/0.111) 0.04**2 = 1.730 %, against 1.2 (1/0.063) 0.04**2 = 3.048 % with upright ones."""
    flat = corners('board.rings="flat"', weight=50.0, span=600.0, sag=0.22).whole.neck[0]
    upright = corners(weight=50.0, span=600.0, sag=0.22).whole.neck[0]
    assert upright / flat == pytest.approx(1.03048 / 1.01730, rel=1e-5)


def test_bounds_of_wood_are_those_of_the_table() -> None:
    """A third of the least modulus and twice the greatest, to 5 %."""
    moduli = [wood.modulus for wood in WOODS]
    assert pytest.approx(min(moduli) / 3, rel=0.05) == LEAST_MODULUS
    assert pytest.approx(2 * max(moduli), rel=0.05) == MOST_MODULUS


def test_sag_and_relief_together() -> None:
    """The relief rules the estimate; the sag says how much of the stiffness is the neck's own. Both are named."""
    sag = measured(weight=50.0, span=600.0, sag=0.18)
    both = measured(weight=50.0, span=600.0, sag=0.18, relief_unstrung=0.0, relief_strung=0.3)
    assert sag.relief.likely < 0.27
    assert both.relief.likely == pytest.approx(0.3, abs=1e-6)
    assert both.measured == "the relief strung and unstrung, and the sag of the board under a weight"
    with_sag = corners(weight=50.0, span=600.0, sag=0.18, relief_unstrung=0.0, relief_strung=0.3).whole
    without = corners(relief_unstrung=0.0, relief_strung=0.3).whole
    assert with_sag.neck[0] / with_sag.board > 1.15 * without.neck[0] / without.board


def test_a_bare_rods_bow_sets_its_turns() -> None:
    """Twice the bow a turn is half the turns for the same relief, and the same force."""
    one = estimate(laid_out("redpoll")).rod
    assert one is not None
    two = measured(rod_bow_per_turn=2 * one.rod.bare_bow_per_turn).rod  # type: ignore[attr-defined]
    assert two is not None
    assert two.likely.turns == pytest.approx(one.likely.turns / 2, rel=1e-9)
    assert two.likely.force == pytest.approx(one.likely.force, rel=1e-9)


def test_a_bow_that_no_thread_gives_is_refused() -> None:
    """redpoll's rod bows by about 6.5 mm for a turn; a fifth to five times that is taken."""
    rod = estimate(laid_out("redpoll")).rod
    assert rod is not None
    bow = rod.rod.bare_bow_per_turn  # type: ignore[attr-defined]
    says = refused(rod_bow_per_turn=0.5)
    assert says == (
        "--set: calibration.rod_bow_per_turn = 0.5: is no bow that one turn can give this rod; "
        f"allowed are {math.ceil(20 * bow) / 100:g} to {math.floor(500 * bow) / 100:g} mm; "
        "read it again, the rod bare and its adjuster just tight"
    )
    refused(rod_bow_per_turn=5.01 * bow)
    assert measured(rod_bow_per_turn=4.99 * bow).rod is not None
