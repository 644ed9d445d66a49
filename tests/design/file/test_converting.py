"""A file in the other unit: sizes within the stated rounding, back again as they were, and all else untouched."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path

import every_key
import pytest
from hypothesis import given
from hypothesis import strategies as st

from neckmodel.design import read, read_text
from neckmodel.design.reading.lengths import Stated, lengths
from neckmodel.design.reading.units import convert, handy, repointed, turned
from neckmodel.design.values.keys import look_up
from neckmodel.design.values.kinds import Length
from neckmodel.units import to_mm

PRESETS = sorted((Path(__file__).parents[3] / "presets").glob("*.toml"))
WRENS = sorted(Path(__file__).parents[2].rglob("wren.toml"))
WIDE = Length(-5000, 5000)
# half of 0.0001 in, the international inch of 25.4 mm
NEAR = 0.00127


def bare(value: float) -> Stated:
    return Stated(("board", "length"), value, WIDE)


@given(st.integers(-90_000, 90_000))
def test_a_length_to_a_hundredth_of_a_millimetre_comes_back(hundredths: int) -> None:
    size = hundredths / 100
    inches = turned(bare(size), "mm", "in")
    assert abs(float(inches) * 25.4 - size) < NEAR
    assert len(inches.partition(".")[2]) <= 4
    assert float(turned(bare(float(inches)), "in", "mm")) == size


@given(st.integers(-350_000, 350_000))
def test_a_length_to_a_ten_thousandth_of_an_inch_comes_back(ten_thousandths: int) -> None:
    inches = ten_thousandths / 10_000
    size = turned(bare(inches), "in", "mm")
    assert abs(float(size) - inches * 25.4) < NEAR
    assert float(turned(bare(float(size)), "mm", "in")) == inches


@given(st.floats(-5000, 5000))
def test_any_length_moves_by_less_than_told(size: float) -> None:
    assert abs(Fraction(turned(bare(size), "mm", "in")) * Fraction(254, 10) - Fraction(repr(size))) < NEAR


def test_bounds_are_kept() -> None:
    """100 mm, the shortest board, is 3.93700787 in: 3.937 would be too short by 0.0002 mm."""
    assert turned(Stated(("board", "length"), 100.0, Length(100, 4000)), "mm", "in") == "3.93701"


@pytest.mark.parametrize("path", [*PRESETS, *WRENS], ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_there_and_back_is_the_same_design(path: Path) -> None:
    design = read(path)
    other = "in" if design.design.units == "mm" else "mm"
    there = convert(design, other)
    assert there.turned > 5
    middle = read_text(there.text)
    back = convert(middle, design.design.units)
    assert read_text(back.text).sha256 == design.sha256
    assert middle.design.units == other
    # every row keeps its words and its remark: only numbers and the unit are others
    rows = zip(design.source.text.splitlines(), there.text.splitlines(), strict=True)
    strip = str.maketrans("", "", "0123456789.-")
    for was, now in rows:
        was, now = (re.sub(r'size = "([\d.]+) (mm|in)"', r"size = \1", row) for row in (was, now))  # of a key: it stays
        assert now.translate(strip).replace('"in"', '"mm"') == was.translate(strip).replace('"in"', '"mm"')
    for one in lengths(tomllib.loads(design.source.text)):
        if one.bare:
            found = look_up(tomllib.loads(there.text), one.path)
            assert abs(to_mm(found, other) - to_mm(one.value, design.design.units)) < NEAR, one.path


@pytest.mark.parametrize("text", [every_key.FIRST, every_key.second()], ids=["first", "second"])
def test_every_key_there_is(text: str) -> None:
    """Measured values, readings and lists too; angles, forces, counts, masses and shares stay."""
    design = read_text(text)
    there = read_text(convert(design, "in").text)
    before, after = (dict(_numbers(one.model_dump(by_alias=True))) for one in (design, there))
    assert before.keys() == after.keys()
    for key, value in before.items():
        # what is left out may follow from several that are turned, as a wound string's diameter does from its wires
        assert after[key] == pytest.approx(value, abs=5 * NEAR), key
    assert read_text(convert(there, "mm").text).sha256 == design.sha256


def _numbers(value: object, key: str = "") -> list[tuple[str, float]]:
    if isinstance(value, dict):
        return [pair for name, item in value.items() for pair in _numbers(item, f"{key}.{name}")]
    if isinstance(value, list | tuple):
        return [pair for at, item in enumerate(value) for pair in _numbers(item, f"{key}.{at}")]
    return [(key, value)] if isinstance(value, float) else []


def test_a_size_with_its_own_unit_stays_and_a_fraction_gets_one() -> None:
    text = convert(read(PRESETS[0].with_name("redpoll.toml")), "in").text.replace(
        "\nthickness = 0.2362\n", '\nthickness = "1/4"  # mine\n', 1
    )
    text = re.sub("at_12 = .*", 'at_12 = "2 mm"', text)
    back = convert(read_text(text), "mm")
    assert '\nthickness = "1/4 in"  # mine\n' in back.text
    assert 'at_12 = "2 mm"' in back.text
    assert back.kept == 1


def test_a_file_to_start_from_in_inches() -> None:
    """0.001 in, over 4 in 0.01 in, a 64th where it lies as near; the board and the gap from the nut rather more."""
    for key, size, told in (
        ("neck.thickness.fret_1", 20.5, "0.807"),  # 0.80709
        ("strings.scale", 640.0, "25.2"),  # 25.19685
        ("rod.length", 420.0, "16.54"),  # 16.53543
        ("action.at_nut", 0.4, '"1/64"'),  # 0.015748; 0.015625
        ("heel.screws.0.length", 38.1, '"1 1/2"'),
        ("board.thickness", 24.0, "0.95"),  # 0.94488
        ("rod_place.from_nut", 4.0, "0.158"),  # 0.15748
        ("head.tuners.0.x", -40.0, "-1.575"),
        ("neck.thickness.fret_12", 25.4, "1.0"),
    ):
        path = tuple(int(part) if part.isdigit() else part for part in key.split("."))
        assert handy(Stated(path, size, WIDE), "mm", "in") == told, key
    assert handy(bare(25.2), "in", "mm") == "640.08"


def test_drawings_are_still_found_from_another_folder(tmp_path: Path) -> None:
    text = '[design]\nname = "x"\n[head]  # of oak\noutline = {file = "drawn/head.dxf", layer = "a"}\n'
    moved = repointed(text, tmp_path / "one", tmp_path / "two" / "deep")
    assert 'file = "../../one/drawn/head.dxf", layer = "a"' in moved
    assert "[head]  # of oak" in moved
    assert repointed(text, tmp_path, tmp_path) == text
