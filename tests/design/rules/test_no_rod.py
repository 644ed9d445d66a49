"""A neck with neither rod nor bar: how it is said, and what of it is left out."""

from __future__ import annotations

import tomllib

import jsonschema
import pytest
from kind_samples import KNOT, design, laid_out

from neckmodel.design import read
from neckmodel.design.schema import json_schema
from neckmodel.errors import DesignError
from neckmodel.presets import names, path_of


def test_nothing_of_a_channel_is_left() -> None:
    layout = laid_out(KNOT)
    assert (layout.rod, layout.bars, layout.steps, layout.key, layout.walls) == (None, (), (), None, ())
    assert not any(word in station.name for station in layout.stations for word in ("rod", "run", "bar", "adjuster"))


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        (
            'reinforcement = "none"\n',
            "",
            "sample.toml: rod: there is neither a [rod] nor [bars]; a neck has one of them, or both, or says [neck] "
            'reinforcement = "none"',
        ),
        (
            "[heel]",
            "[channel]\nwider_by = 0.1\n[heel]",
            'sample.toml:25: neck.reinforcement = "none": is stated beside [channel]: a neck without reinforcement has '
            "no channel; take out that section, or leave neck.reinforcement out",
        ),
        (
            "[heel]",
            "[bars]\nwidth = 5.0\nheight = 8.0\nlength = 300.0\n[rod_place]\npast_joint = 5.0\n[heel]",
            'sample.toml:25: neck.reinforcement = "none": is stated beside [bars] and [rod_place]: a neck without '
            "reinforcement has no channel; take out those sections, or leave neck.reinforcement out",
        ),
        (
            '"none"',
            '"some"',
            'sample.toml:25: neck.reinforcement = "some": is not one of the choices; allowed are "none"',
        ),
        (
            "reinforcement",
            "reinforcment",
            'sample.toml:25: neck.reinforcment = "none": is an unknown key; did you mean "reinforcement"?',
        ),
    ],
)
def test_half_said_is_refused_in_one_sentence(before: str, after: str, says: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(KNOT.replace(before, after))
    assert str(refused.value) == says


def test_setting_one_takes_the_other_out() -> None:
    """`--set neck.reinforcement=none` on a neck with a rod, and a bar set into one without."""
    bare = read(path_of("wheatear"), ["neck.reinforcement=none"])
    assert (bare.rod, bare.bars, bare.adjusting_key, bare.neck.reinforcement) == (None, None, None, "none")
    barred = design(KNOT, "bars.width=5", "bars.height=8", "bars.length=300")
    assert barred.neck.reinforcement is None
    assert barred.bars is not None


def test_the_schema_takes_it() -> None:
    """By a validator of JSON Schema that knows nothing of the package."""
    stated = tomllib.loads(KNOT)
    jsonschema.validate(stated, json_schema())
    del stated["neck"]["reinforcement"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(stated, json_schema())


HASHES = {
    "dunnock": "8e8e442f",
    "garganey": "d30f68a5",
    "pipit": "9364c6e7",
    "redpoll": "aa064c9f",
    "wheatear": "a5c07ee1",
    "whimbrel": "5b26b718",
}


@pytest.mark.parametrize("preset", sorted(HASHES))
def test_a_design_without_the_new_keys_has_the_hash_it_had(preset: str) -> None:
    """Printed in every title block: as it was before there were such keys."""
    assert preset in names()
    assert read(path_of(preset)).sha256[:8] == HASHES[preset]


def test_the_new_keys_are_part_of_the_hash() -> None:
    assert design(KNOT).sha256 == design(KNOT, "limits.strength_relief=0.35").sha256
    assert design(KNOT).sha256 != design(KNOT, "limits.strength_relief=0.34").sha256
