"""Numbers in the unit that the file is not in, and lengths as makers write them in inches."""

from __future__ import annotations

from pathlib import Path

import pytest

from neckmodel.design import read_text, remarks
from neckmodel.errors import DesignError
from neckmodel.lengths import in_unit

PRESETS = sorted((Path(__file__).parents[3] / "presets").glob("*.toml"))
INCHES = """
[design]
name = "wren"
units = "in"
[strings]
courses = 6
scale = "25.2 inches"
[fretboard]
thickness = "1/4"
[neck]
joint_fret = 16
[heel]
screws = [{from_end = 0.6, y = 0.67, diameter = 0.18, length = "1 3/4"}]
[rod]
kind = "two-way"
length = "16-1/2"
width = 0.236
height = 0.36
adjuster = {diameter = 0.276, length = 0.4, axis_below_top = 0.165, socket = {kind = "hex", size = 0.157, depth = 0.2}}
[rod_place]
from_nut = "auto"
"""

METRIC = {
    "heel.screws": "[]",
    "fretboard.thickness": 6.0,
    "rod.length": 420.0,
    "rod.width": 6.0,
    "rod.height": 9.2,
    "rod.adjuster": "{diameter = 7.0, length = 10.0, axis_below_top = 4.2, "
    "socket = {kind = 'hex', size = 4.0, depth = 5.0}}",
}


def test_a_word_for_a_length_is_not_remarked_on() -> None:
    assert remarks(read_text(INCHES)) == []


def test_what_to_type_keeps_its_sign_and_its_unit() -> None:
    says = 'try "-15.0 mm", between -3.00 and 4.00 mm'
    assert in_unit(says, "in") == 'try "-15.0 mm", between -0.118 (-1/8) and 0.157 (5/32) in'
    with pytest.raises(DesignError, match=r'y = -17.0.*try "-17.0 mm"'):
        read_text(INCHES.replace("y = 0.67", "y = -17.0"))


def test_inches_as_makers_write_them() -> None:
    design = read_text(INCHES)
    assert (design.strings.scale.bass, design.fretboard.thickness) == (640.08, 6.35)
    assert design.rod is not None
    assert (design.rod.length, design.heel.screws[0].length) == (419.1, 44.45)


@pytest.mark.parametrize("stated", ["from_end = 15.0", "from_end = 15"])
def test_a_number_within_bounds_that_only_makes_sense_in_the_other_unit(stated: str) -> None:
    """15 in from the end, 381 mm, is nowhere near a heel; 15 mm is. Who means it may say so."""
    text = INCHES.replace("from_end = 0.6", stated)
    with pytest.raises(DesignError) as caught:
        read_text(text, "wren.toml")
    number = stated.partition(" = ")[2]
    assert str(caught.value) == (
        f"wren.toml:13: heel.screws[0].{stated}: makes sense only in mm, and the file is in inches; "
        f'write "{number} mm", or "{number} in" if that is meant'
    )
    assert read_text(text.replace(stated, f'from_end = "{number} mm"')).heel.screws[0].from_end == 15.0
    assert read_text(text.replace(stated, f'from_end = "{number} in"')).heel.screws[0].from_end == 381.0


def test_a_value_set_from_outside_is_held_to_its_bounds_alone() -> None:
    """What a script or a remedy sets is no slip of a maker's pen."""
    metric = ['design.units="mm"', *(f"{key}={value}" for key, value in METRIC.items())]
    assert read_text(INCHES, "wren", [*metric, "rod_place.from_nut=0.28"]).rod_place.from_nut == 0.28
    with pytest.raises(DesignError, match=r"rod_place\.from_nut = 0\.28: makes sense only in inches"):
        read_text(INCHES.replace('from_nut = "auto"', "from_nut = 0.28"), "wren", metric)


@pytest.mark.parametrize("path", PRESETS, ids=lambda path: path.stem)
def test_a_preset_marked_with_the_other_unit_gets_one_message(path: Path) -> None:
    with pytest.raises(DesignError) as caught:
        read_text(path.read_text().replace('units = "mm"', 'units = "in"'), path.name)
    (problem,) = caught.value.problems
    assert (problem.key, problem.value) == ("design.units", '"in"')
    assert "make sense only in mm" in problem.says
    assert problem.line
    assert problem.attempt.startswith('write units = "mm"')
