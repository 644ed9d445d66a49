"""Two rods: names, places, walls and the wood between them, against values worked out by hand and plain formulas."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from pair_samples import CUTTERS, FAN, KEY, ONE, pair

from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.channel.between import least_between, wood_between
from neckmodel.layout.channel.step import StepName, of_rod
from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.json.layout import layout_json

SCALE, NUT, BRIDGE, MARGIN, BOARD, FULLNESS = 640.0, 60.0, 84.0, 3.6, 6.0, 2.2
RUN, RUN_DEEP, POCKET, POCKET_DEEP, OFFSET, AT = 6.1, 9.3, 7.8, 8.2, 9.0, 18.0


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(pair(more=KEY + CUTTERS))


def wall_by_hand(half: float, deep: float) -> float:
    """Least wood at x 18 from a channel off the centre line to the superellipse, by two million of its points."""
    x_1, x_12 = (SCALE * (1 - 2 ** (-n / 12)) for n in (1, 12))
    thick = 21.5 + (23.5 - 21.5) * (AT - x_1) / (x_12 - x_1)
    a, b = (NUT + (BRIDGE - NUT) * AT / SCALE) / 2 + MARGIN, thick - BOARD
    y = a * (1 - np.linspace(1.0, 0.0, 2_000_001) ** 3)
    z = b * (1 - (y / a) ** FULLNESS) ** (1 / FULLNESS)
    beside = np.maximum(np.maximum(OFFSET - half - y, y - OFFSET - half), 0.0)
    return float(np.hypot(beside, np.maximum(z - deep, 0.0)).min())


def test_wood_between_two_rods_is_what_is_worked_out_by_hand(layout: Layout) -> None:
    runs, pockets = layout.of_kind(StepName.RUN), layout.of_kind(StepName.ADJUSTER)
    assert wood_between(*runs).wood == pytest.approx(11.9, abs=1e-9)
    assert wood_between(*pockets).wood == pytest.approx(10.2, abs=1e-9)
    least = least_between(layout.steps)
    assert least is not None
    assert (least.wood, least.bass, least.treble) == (pytest.approx(10.2), "adjuster-1", "adjuster-2")


@pytest.mark.parametrize(
    ("name", "half", "deep", "told"), [("run", RUN / 2, RUN_DEEP, 5.282), ("adjuster", POCKET / 2, POCKET_DEEP, 6.233)]
)
def test_walls_of_each_rod_at_its_own_place(layout: Layout, name: str, half: float, deep: float, told: float) -> None:
    for number in (1, 2):
        step = replace(layout.step(f"{name}-{number}"), x_start=AT)
        assert (step.width, step.depth) == (pytest.approx(2 * half), pytest.approx(deep))
        assert layout.wall_at(step, AT) == pytest.approx(wall_by_hand(half, deep), abs=1e-5)
        # to the digit told: 5.2815 lies on the edge between two of them
        assert layout.wall_at(step, AT) == pytest.approx(told, abs=6e-4)


def test_everything_of_a_rod_comes_twice_the_bass_side_first(layout: Layout) -> None:
    assert [(rod.number, rod.y, rod.suffix) for rod in layout.rods] == [(1, -9.0, "-1"), (2, 9.0, "-2")]
    assert [(key.suffix, key.y) for key in layout.keys] == [("-1", -9.0), ("-2", 9.0)]
    kinds = ("run", "adjuster", "access-slot")
    assert [step.name for step in layout.steps] == [f"{kind}-{n}" for n in (1, 2) for kind in kinds]
    assert [step.y for step in layout.steps] == [-9.0] * 3 + [9.0] * 3
    assert {rod.x_start for rod in layout.rods} == {AT}
    assert {wall.step for wall in layout.walls} == {step.name for step in layout.steps}


def test_json_tells_both_rods_and_keeps_the_first_where_it_was(layout: Layout) -> None:
    data = layout_json(layout)
    assert [(rod["name"], rod["y"]) for rod in data["rods"]] == [("rod-1", -9.0), ("rod-2", 9.0)]
    assert {key: value for key, value in data["rods"][0].items() if key not in ("name", "y")} == data["rod"]
    assert [(step["step"], step["y"]) for step in data["channel"]][::3] == [("run-1", -9.0), ("run-2", 9.0)]
    left = layout_json(lay_out(pair('design.hand="left"')))
    assert [(rod["name"], rod["y"]) for rod in left["rods"]] == [("rod-1", 9.0), ("rod-2", -9.0)]
    assert "rods" not in layout_json(lay_out(pair(text=ONE)))


@pytest.mark.parametrize(
    ("name", "kind", "rod", "words"),
    [
        ("run-2", "run", 2, "run of rod 2"),
        ("access-slot-1", "access-slot", 1, "access slot of rod 1"),
        ("segment-2", "segment-2", 0, "segment-2 pocket"),
        ("segment-2-1", "segment-2", 1, "segment-2 pocket of rod 1"),
        ("bar-1", "bar-1", 0, "channel of bar-1"),
        ("run", "run", 0, "run"),
    ],
)
def test_a_steps_name_says_which_rod_it_belongs_to(name: str, kind: str, rod: int, words: str) -> None:
    assert of_rod(name) == (kind, rod)
    assert step_words(name) == words


def test_bounds_of_two_scales_count_the_slanted_lines_at_each_rods_own_y() -> None:
    """Trade rule: a gap to a slanted nut or joint holds over the pocket that lies there, about the rod's own axis."""
    layout = lay_out(pair('rod_place.from_nut="auto"', text=FAN, more=KEY))
    joint, end = layout.design.neck.joint_fret, layout.fretboard
    slope_0, slope_j, slope_1 = (layout.frets.slope(n) for n in (0, joint, 1))
    assert min(abs(slope_0), abs(slope_j)) > 0.05  # they slant enough to tell
    for rod, y in zip(layout.rods, (-9.0, 9.0), strict=True):
        bounds = {bound.reason: bound.x for bound in (*rod.lower, *rod.upper)}
        nut = max(slope_0 * (y + side * POCKET / 2) for side in (-1, 1))
        assert bounds["the gap from the nut"] == pytest.approx(4.0 + nut, abs=1e-9)
        past = max(layout.frets.x(joint) + slope_j * (y + side * RUN / 2) for side in (-1, 1))
        assert bounds["the anchor past the joint"] == pytest.approx(past + 15.0 - rod.length, abs=1e-9)
        cover = min(end.x_end + end.slope_end * (y + side * RUN / 2) for side in (-1, 1))
        assert bounds["the fretboard's end"] == pytest.approx(cover - 1.0 - rod.length, abs=1e-9)
        assert rod.x_span == pytest.approx(layout.frets.x(1) + slope_1 * y - 10.0, abs=1e-9)
    assert layout.rods[0].x_start == layout.rods[1].x_start


def test_two_rods_lie_in_the_middle_of_the_room_that_both_have() -> None:
    """The middle of the common interval, in steps of half a millimetre, as for one rod."""
    layout = lay_out(pair('rod_place.from_nut="auto"', text=FAN, more=KEY))
    low = max(bound.x for rod in layout.rods for bound in rod.lower)
    high = min(min(rod.x_max, rod.x_span, rod.x_cover) for rod in layout.rods)
    middle = (low + max(low, high)) / 2
    assert layout.rods[0].x_start == pytest.approx(max(low, math.floor(2 * middle) / 2), abs=1e-9)


BARS = "[bars]\nwidth = 3.0\nheight = 8.0\nlength = 380.0\n"


def test_a_bar_between_two_rods_counts_as_their_neighbour() -> None:
    layout = lay_out(pair(more=BARS))
    assert [(bar.name, bar.y) for bar in layout.bars] == [("bar-1", 0.0)]  # one alone, where there are two rods
    least = least_between(layout.steps)
    assert least is not None
    assert least.wood == pytest.approx(9.0 - 7.8 / 2 - 3.1 / 2, abs=1e-9)
    assert {least.bass, least.treble} == {"adjuster-1", "bar-1"} or {least.bass, least.treble} == {
        "bar-1",
        "adjuster-2",
    }


@pytest.mark.parametrize(
    ("overrides", "more", "key", "least"),
    [
        (("rod.offset=3.8",), "", "rod.offset", "3.90"),  # pockets of 7.8 side by side
        (("rod.offset=5",), BARS, "rod.offset", "5.45"),  # 7.8/2 + 3.1/2
        (("bars.count=2", "bars.offset=14"), BARS, "bars.offset", "14.45"),
    ],
)
def test_channels_that_run_into_each_other_are_refused_with_the_least_that_would_do(
    overrides: tuple[str, ...], more: str, key: str, least: str
) -> None:
    with pytest.raises(DesignError) as error:
        lay_out(pair(*overrides, more=more))
    (problem,) = error.value.problems
    assert problem.key == key
    assert "run into each other" in problem.says
    assert least in problem.allowed


def test_measured_steps_of_one_rod_lift_that_rod_alone() -> None:
    """A floor found 0.4 too shallow lifts the rod by that less the 0.1 planned over it; the other rod stays."""
    layout = lay_out(pair("measured.channel.run-2.depth=8.9"))
    assert [rod.lift for rod in layout.rods] == [0.0, pytest.approx(0.4)]
    assert layout.step("run-2").depth == pytest.approx(8.9)
    assert layout.step("run-1").depth == pytest.approx(RUN_DEEP)
    with pytest.raises(DesignError) as error:
        lay_out(pair("measured.channel.run.depth=9.0"))
    assert "no step 'run'" in error.value.problems[0].says
