"""What a maker who works in inches is told to keep to is safe as told: rounded as the bound asks, never across it."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from cli_runs import Invoke
from hypothesis import given
from hypothesis import strategies as st
from inch_designs import in_inches
from measured_runs import measured_parts

from neckmodel.checks.bench import Bench
from neckmodel.checks.wood.walls import check_walls
from neckmodel.design import read_text
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.lengths import in_unit

INCH = Fraction("25.4")  # mm, by definition (1959)
TOLD = re.compile(r"(-?\d+\.\d+)(?: in)?(?: \((-?)(?:(\d+) ?)??(\d+/\d+|\d+)\))?")
sizes = st.decimals(0, 900, places=2)


def told(text: str) -> list[tuple[Fraction, Fraction]]:
    """(decimal, fraction) of every length in a sentence in inches; no fraction is told where it is 0."""
    found = []
    for decimal, minus, whole, part in TOLD.findall(text):
        fraction = int(whole or 0) + Fraction(part or 0)
        found.append((Fraction(decimal), -fraction if minus else fraction))
    return found


@given(sizes)
def test_no_deeper_is_rounded_down_and_no_thinner_up(size: Decimal) -> None:
    exact = Fraction(size) / INCH
    for words, sign in (("cut the run no deeper than", 1), ("carve no thinner than", -1)):
        ((decimal, fraction),) = told(in_unit(f"{words} {size:.2f} mm", "in"))
        assert 0 <= sign * (exact - decimal) < Fraction(1, 1000)
        assert 0 <= sign * (exact - fraction) < Fraction(1, 64)


@given(sizes, sizes)
def test_a_bound_holds_to_the_end_of_its_clause(one: Decimal, other: Decimal) -> None:
    says = f"carve no thinner than {one:.2f} mm at fret 1 and {other:.2f} mm at fret 12: the run then has 3.00 mm"
    *both, wall = told(in_unit(says, "in"))
    for size, (decimal, fraction) in zip((one, other), both, strict=True):
        assert decimal * INCH >= Fraction(size)
        assert fraction * INCH >= Fraction(size)
    assert wall == (Fraction("0.118"), Fraction(1, 8))  # the nearest: 0.11811


@pytest.mark.parametrize(
    ("says", "turned"),
    [
        ("a rod of at most 457.40 mm", "a rod of at most 18.007 in (18)"),  # 18.00787
        ("allowed is at least 16.96 mm", "allowed is at least 0.668 in (43/64)"),  # 0.66772; 43/64 = 0.671875
        ("allowed are 12.0 to 35.0 mm", "allowed are 0.473 (31/64) to 1.377 (1 3/8) in"),  # 0.47244, 1.37795
        ("allowed are 12.0 mm to 35.0 mm", "allowed are 0.473 in (31/64) to 1.377 in (1 3/8)"),
        ("allowed is at most 10.16 mm", "allowed is at most 0.400 in (25/64)"),  # 0.4 exactly
        ("cut the access slot to 7.07 mm deep", "cut the access slot to 0.279 in (9/32) deep"),  # 0.27835
        ("lengthen the run to x 428.00 mm", "lengthen the run to x 16.851 in (16 55/64)"),  # 16.85039
        ("lengthen the access slot back to x -6.00 mm", "lengthen the access slot back to x -0.237 in (-1/4)"),
        ("make the neck 0.57 mm thicker", "make the neck 0.022 in thicker"),
    ],
)
def test_what_is_to_be_followed_keeps_its_bounds(says: str, turned: str) -> None:
    assert in_unit(says, "in", to_follow=True) == turned
    assert in_unit(says, "mm", to_follow=True) == says


def test_what_is_only_told_is_rounded_to_the_nearest() -> None:
    assert in_unit("at least 16.96 mm of the strip", "in") == "at least 0.668 in (43/64) of the strip"
    assert in_unit("at most 0.12 mm from it", "in") == "at most 0.005 in from it"


def test_the_allowed_range_as_told_is_allowed() -> None:
    text = in_inches("redpoll")
    with pytest.raises(DesignError, match="allowed are") as caught:
        read_text(text, overrides=["neck.thickness.fret_1=0.2"])
    for length in (length for both in told(str(caught.value).partition("allowed are")[2]) for length in both):
        assert "allowed are" not in refusal(text, f"neck.thickness.fret_1={float(length)}")  # other rules may refuse it


def refusal(text: str, override: str) -> str:
    try:
        read_text(text, overrides=[override])
    except DesignError as error:
        return str(error)
    return ""


def test_the_depth_told_for_the_next_cut_leaves_the_wall(invoke: Invoke) -> None:
    """A tenon sawn 33/64 in (13.097 mm) deep: the anchor's pocket in it cut just as deep as told, by the decimal or the
    fraction, leaves its 3.0 mm."""
    sawn = {"heel": {"tenon": {"depth": "33/64 in"}}}
    Path("sawn.toml").write_text(in_inches("wheatear", measured=sawn), encoding="utf-8")
    (line,) = [row for row in invoke("layout", "sawn.toml").stdout.splitlines() if "pocket no deeper" in row]
    ((decimal, fraction),) = told(line)
    assert (decimal, fraction) == (Fraction("0.397"), Fraction(25, 64))
    for depth in (decimal, fraction):
        cut = {**sawn, "channel": {"anchor": {"depth": f"{float(depth)} in"}}}
        layout = lay_out(read_text(in_inches("wheatear", measured=cut)))
        found = {each.check: each for each in check_walls(Bench(measured_parts(layout)))}
        assert found["wall/anchor"].verdict != "fail"
        assert found["wall/anchor"].measured >= 3.0


def test_an_angle_is_no_length(invoke: Invoke) -> None:
    """A head of 10 degrees lies inside the usual 8 to 17 in any unit."""
    Path("bass.toml").write_text(in_inches("garganey"), encoding="utf-8")
    assert "head.angle" not in invoke("layout", "bass.toml").stderr
    assert "head.angle = 7 lies outside" in invoke("layout", "bass.toml", "--set", "head.angle=7").stderr
