"""Every section and key of the design file is accepted and read."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

import every_key
import pytest

from neckmodel.design import Design, read_text
from neckmodel.design.defaults.defaults import DEFAULTS, INSTEAD, OPTIONAL
from neckmodel.design.defaults.fill import fill
from neckmodel.design.values import fields
from neckmodel.design.values.kinds import Table


def _design(text: str) -> Design:
    """The validated design, before the rules between its values."""
    return Design.model_validate(fill(tomllib.loads(text), DEFAULTS, OPTIONAL, INSTEAD), context={"unit": "mm"})


def _keys(tables: fields.Tables, path: str = "") -> Iterator[str]:
    for name in fields.fields(tables):
        key = f"{path}{name}"
        yield key
        inner = fields.below(tables, name)
        yield from _keys(inner, f"{key}.")
        for table in inner:
            if table.of_each is not None:
                yield from _keys((table.of_each,), f"{key}.plum.")


def _stated(value: object, path: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for name, item in value.items():
            yield f"{path}{name}"
            yield from _stated(item, f"{path}{name}.")
    elif isinstance(value, list):
        for item in value:
            yield from _stated(item, path)


def test_the_files_state_every_key_there_is() -> None:
    files = (
        every_key.FIRST,
        every_key.second(),
        every_key.THIRD,
        every_key.FOURTH,
        every_key.HEADLESS,
        every_key.LATER,
        every_key.LATER_SIDE,
    )
    stated = {key for text in files for key in _stated(tomllib.loads(text))}
    stated |= {f"neck.back.fret_12.{name}" for name in ("family", "fullness", "lean")}  # stated at fret 1
    stated |= {"fretboard.radius.nut", "fretboard.radius.end"}  # stated by one radius
    assert set(_keys((Design,))) - stated == set()


@pytest.mark.parametrize(
    "text",
    [
        every_key.FIRST,
        every_key.second(),
        every_key.THIRD,
        every_key.FOURTH,
        every_key.HEADLESS,
        every_key.LATER,
        every_key.LATER_SIDE,
    ],
    ids=["first", "second", "third", "fourth", "headless", "later", "later-side"],
)
def test_nothing_in_it_is_refused(text: str) -> None:
    assert read_text(text, "whinchat.toml").name == "whinchat"


def test_values_are_read_as_stated_in_mm() -> None:
    design = _design(every_key.FIRST)
    assert design.design.date == "2031-05-30"
    assert (design.strings.scale.bass, design.strings.scale.treble) == (660.0, 647.7)
    assert not design.strings.scale.single
    assert design.fretboard.radius is not None
    assert design.fretboard.radius.nut == design.fretboard.radius.end == 304.8
    assert design.neck.back.fret_1.fullness == 1.8
    assert design.neck.back.fret_1.lean == 1.0
    assert (design.neck.back.fret_12.family, design.neck.back.fret_12.fullness) == ("D", 2.6)
    assert design.heel.width == 58.0
    assert design.body.cutouts[0].from_ == 420.0
    assert design.rod_place.from_nut is None
    assert design.rod is not None
    assert design.rod.axis_depth is not None
    assert (design.rod.axis_depth.adjuster, design.rod.axis_depth.middle) == (6.0, 9.5)
    assert design.workshop.printer.bed == (200.0, 210.0, 220.0)
    assert design.limits.wall.washer == 4.1
    assert design.woods is not None
    assert design.woods.own["plum"].model_dump() == {
        "density": 720.0,
        "modulus": 12000.0,
        "modulus_spread": 0.1,
        "bending_strength": 100.0,
        "compression_parallel": 50.0,
        "compression_across": 9.0,
        "shrinkage_radial": 4.1,
        "shrinkage_tangential": 7.9,
    }
    assert design.measured == (
        ("board.thickness", 69.85),
        ("channel.run.depth", 9.6),
        ("neck.thickness.fret_1", 20.9),
    )


def test_the_other_way_to_say_it() -> None:
    design = _design(every_key.second())
    assert design.fretboard.past_last_fret is None
    assert design.fretboard.ends_at == 480.0
    assert design.fretboard.radius is None
    assert design.strings.scale.single
    assert design.neck.back.fret_1 == design.neck.back.fret_12
    assert design.neck.back.fret_1.fullness == 3.5
    # the margins follow from the stated width: (42 - 36)/2 at the nut; at fret 21 of 647.7, x = 455.145,
    # the edges are 42 + 14 x/480 apart and the strings 36 + 18 x/647.7
    x = 647.7 * (1 - 2 ** (-21 / 12))
    assert design.fretboard.edge_margin.nut == 3.0
    assert design.fretboard.edge_margin.last_fret == pytest.approx(
        (42 + 14 * x / 480 - 36 - 18 * x / 647.7) / 2, abs=1e-9
    )


def test_a_design_cannot_be_changed() -> None:
    design = _design(every_key.FIRST)
    tables = [value for value in vars(design).values() if isinstance(value, Table)]
    assert len(tables) == 20
    with pytest.raises(ValueError, match="frozen"):
        design.rod_place.past_joint = 3.0  # type: ignore[misc]
