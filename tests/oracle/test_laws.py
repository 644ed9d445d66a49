"""Laws that hold whatever the design: all lengths larger by a factor, the other hand, a deeper channel."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import generator
import pytest
from measured_runs import measured_parts
from neck_runs import RUNS

from neckmodel.checks.bench import Bench
from neckmodel.checks.registry import functions
from neckmodel.design import Design, changed
from neckmodel.design.values import fields
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.rod.bars import BAR_FIT

LARGER = 1.1
MEASURING = 0.0125  # mm, half the width of the interval in which a wall is found
MORE = 0.3  # mm of depth
SAMPLE = range(110)
WALLS = {function for check, function in RUNS.items() if check.startswith("wall")}  # those that find walls
WITH_SOLIDS = ("sample-6", "sample-1")  # tenon, left-handed, one-way; compression rod and bar


def lengths(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], float]]:
    """Every length of a design, defaults included, with its path."""
    if isinstance(value, dict):
        for name, item in value.items():
            yield from lengths(item, (*path, name))
    elif isinstance(value, list | tuple):
        for number, item in enumerate(value):
            yield from lengths(item, (*path, number))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        field = fields.field_at(Design, path)
        if field is not None and fields.is_length(field):
            yield path, float(value)


def enlarged(layout: Layout) -> Layout:
    """The same neck, every length larger. Two lengths are the package's own: the steps in which it looks for a rod's
    place, which is stated here, and the room beside a bar, which is made up for in the bar.
    Raises DesignError where that leaves the range of what is built.
    """
    design = layout.design
    sizes = {".".join(map(str, p)): LARGER * v for p, v in lengths(design.model_dump(by_alias=True))}
    if design.neck.reinforcement is not None:  # no channel, so none of its sizes may be stated
        sizes = {key: value for key, value in sizes.items() if key.partition(".")[0] not in ("rod_place", "channel")}
    if layout.rod is not None:
        sizes["rod_place.from_nut"] = LARGER * layout.rod.x_start
    if design.bars is not None:
        sizes["bars.width"] += (LARGER - 1) * BAR_FIT
        sizes["bars.height"] += (LARGER - 1) * BAR_FIT
    return lay_out(changed(design, {key: f"{value!r} mm" for key, value in sizes.items()}))


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> list[Layout]:
    found = []
    for seed in SAMPLE:
        try:
            found.append(lay_out(generator.design_of(generator.tables(seed), tmp_path_factory.mktemp("law"))))
        except DesignError:
            continue
    return found


def of_one_size(layout: Layout) -> bool:
    """Whether a drawing, or a standard key whose width across corners a table says, keeps its size."""
    key = layout.design.adjusting_key
    if key is None:
        return layout.head.contour is not None
    one, other = across_corners(key.size), across_corners(LARGER * key.size)
    return layout.head.contour is not None or abs(LARGER * one - other) > 1e-9


def test_all_lengths_larger_all_walls_and_places_larger(sample: list[Layout]) -> None:
    compared = 0
    for layout in (each for each in sample if not of_one_size(each)):
        try:
            large = enlarged(layout)
        except DesignError:
            continue
        compared += 1
        for one, other in zip(layout.walls, large.walls, strict=True):
            assert (other.step, other.wall) == (one.step, pytest.approx(LARGER * one.wall, abs=1e-6)), layout.name
        # two more lengths are the package's own: of wood before a zero fret, and of stock under the finished back
        places, larger = (sorted((s.name, s.x) for s in each.stations) for each in (layout, large))
        for (name, x), (same, there) in zip(places, larger, strict=True):
            if x > 0 and not name.startswith("back of the"):
                assert (same, there) == (name, pytest.approx(LARGER * x, abs=1e-6)), layout.name
    assert compared >= 20


def measured(layout: Layout) -> dict[str, float]:
    """Every wall as measured on the solids, mm; each within MEASURING of the exact one."""
    bench = Bench(measured_parts(layout))
    findings = [finding for function in functions() if function.__name__ in WALLS for finding in function(bench)]
    return {f.check: f.measured for f in findings if f.check.startswith("wall/") and f.measured is not None}


@pytest.fixture(scope="module")
def built(sample: list[Layout]) -> dict[str, dict[str, float]]:
    return {layout.name: measured(layout) for layout in sample if layout.name in WITH_SOLIDS}


def named(sample: list[Layout], name: str) -> Layout:
    return next(layout for layout in sample if layout.name == name)


@pytest.mark.parametrize("name", WITH_SOLIDS)
def test_all_lengths_larger_on_the_solids(name: str, sample: list[Layout], built: dict[str, dict[str, float]]) -> None:
    large = measured(enlarged(named(sample, name)))
    assert large == pytest.approx(
        {check: LARGER * wall for check, wall in built[name].items()}, abs=MEASURING * (1 + LARGER)
    )


@pytest.mark.parametrize("name", WITH_SOLIDS)
def test_the_other_hand_has_the_same_walls(name: str, sample: list[Layout], built: dict[str, dict[str, float]]) -> None:
    layout = named(sample, name)
    other = "right" if layout.left_handed else "left"
    assert measured(lay_out(changed(layout.design, [f"design.hand={other}"]))) == pytest.approx(built[name], abs=1e-9)


def test_a_deeper_channel_never_leaves_a_thicker_wall(sample: list[Layout]) -> None:
    compared = 0
    for layout in sample:
        deep = layout.design.channel.deeper_by + MORE
        try:
            deeper = lay_out(changed(layout.design, [f"channel.deeper_by={deep} mm"]))
        except DesignError:
            continue
        for one, other in zip(layout.walls, deeper.walls, strict=True):
            compared += 1
            assert other.wall <= one.wall + 1e-9, (layout.name, one.step)
            assert other.wall >= one.wall - 2 * MORE - 1e-9
    assert compared > 60


@pytest.mark.parametrize("name", WITH_SOLIDS)
def test_a_deeper_channel_on_the_solids(name: str, sample: list[Layout], built: dict[str, dict[str, float]]) -> None:
    design = named(sample, name).design
    deeper = measured(lay_out(changed(design, [f"channel.deeper_by={design.channel.deeper_by + MORE} mm"])))
    for check_name, wall in built[name].items():
        assert deeper[check_name] <= wall + 2 * MEASURING, check_name
