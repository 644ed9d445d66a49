"""Random designs with their heads taken off: the oracle and the package find the same nut ends."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import generator
import pytest
from generator_headless import any_headless
from oracle_compare import layout_differs

from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out

if TYPE_CHECKING:
    from generator import Tables

NUMBERS = range(30)


def beheaded(seed: int) -> Tables:
    made = generator.tables(seed)
    any_headless(random.Random(f"headless {seed}"), made, 1.0)
    return made


@pytest.fixture(scope="module")
def layouts(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Layout | DesignError]:
    found: dict[int, Layout | DesignError] = {}
    for seed in NUMBERS:
        try:
            found[seed] = lay_out(generator.design_of(beheaded(seed), tmp_path_factory.mktemp("sample")))
        except DesignError as error:
            found[seed] = error
    return found


def test_most_are_built_and_every_kind_is_among_them(layouts: dict[int, Layout | DesignError]) -> None:
    built = [each for each in layouts.values() if isinstance(each, Layout)]
    assert len(built) > 0.7 * len(layouts)
    assert all(layout.head.is_none and layout.head_ways == () for layout in built)
    clamps = [layout.clamp for layout in built]
    assert any(clamp is None for clamp in clamps)
    assert any(clamp is not None and clamp.past_end > 0 for clamp in clamps)
    assert any(clamp is not None and clamp.screws for clamp in clamps)
    through = [layout for layout in built if any(step.x_start <= layout.head.x_far + 1e-6 for step in layout.steps)]
    assert {layout.key.kind for layout in through if layout.key is not None} >= {"straight", "ball-end"}
    assert {layout.left_handed for layout in built} == {True, False}
    assert any(not layout.design.strings.scale.single for layout in built)


@pytest.mark.parametrize("seed", NUMBERS)
def test_the_nut_end_agrees(seed: int, layouts: dict[int, Layout | DesignError]) -> None:
    layout = layouts[seed]
    if isinstance(layout, Layout):
        assert layout_differs(beheaded(seed), layout) == []


def test_a_difference_is_seen(layouts: dict[int, Layout | DesignError]) -> None:
    """A nut end half a millimetre longer and wider, told to the oracle only."""
    seed, layout = next((seed, each) for seed, each in layouts.items() if isinstance(each, Layout) and each.clamp)
    made = beheaded(seed)
    made["head"]["end"] = {name: size + 0.5 for name, size in made["head"]["end"].items()}
    said = " ".join(layout_differs(made, layout))
    assert "neck's end" in said
    assert "half width at 1 of the swell" in said
