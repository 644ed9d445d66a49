"""Which cutter finds room along a step as well as across it: small steps whose answers are plain."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from layout_samples import laid_out, preset

from neckmodel.design import Cutter, Workshop
from neckmodel.layout.channel.corners import run_on
from neckmodel.layout.channel.cutters import cut_step, room_along
from neckmodel.layout.channel.step import Step

RUN = Step("run", 20.0, 300.0, 6.0, 9.0, 9.0, end_end="square")


def shop(*diameters: float) -> Workshop:
    rack = tuple(Cutter(diameter=d, flute_length=20.0, stick_out=40.0) for d in diameters)
    return preset("redpoll").workshop.model_copy(update={"cutters": rack})


def pocket(depth: float, width: float = 10.0, start: float = 17.0, end: float = 20.0) -> Step:
    """A short pocket before the run, closed on the head side, open to the run."""
    return Step("pocket", start, end, width, depth, depth, end_start="square")


def test_a_short_pocket_gets_a_cutter_no_wider_than_it_is_long() -> None:
    """3 mm long and 10 wide; the run beside it is too narrow to run on into."""
    steps = (RUN, pocket(8.0))
    assert room_along(steps[1], steps) == pytest.approx(3.0)
    assert cut_step(steps[1], shop(3.0, 5.0, 8.0), steps).diameter == 3.0


@pytest.mark.parametrize(
    ("depth", "width", "free"),
    [(8.0, 6.0, 280.0), (9.0, 6.0, 280.0), (9.1, 6.0, 0.0), (8.0, 6.2, 0.0)],
)
def test_a_cutter_runs_on_only_where_it_takes_no_wood_that_stays(depth: float, width: float, free: float) -> None:
    """Into the run, 6.0 wide and 9.0 deep and 280 long: as deep and as wide pass, deeper or wider do not."""
    steps = (RUN, pocket(depth, width))
    assert run_on(steps[1], "end", steps) == pytest.approx(free)
    assert run_on(steps[1], "start", steps) == 0.0


def test_a_curved_neighbour_counts_where_it_is_shallowest() -> None:
    """A floor 6 deep at both ends and 9 in the middle lets a cutter in that stands 6 deep, not one of 6.1."""
    run = Step("run", 20.0, 300.0, 10.0, 6.0, 6.0, depth_middle=9.0)
    assert run_on(pocket(6.0), "end", (run,)) == pytest.approx(280.0)
    assert run_on(pocket(6.1), "end", (run,)) == 0.0


def test_an_end_that_leaves_the_wood_bounds_nothing() -> None:
    slot = Step("access-slot", -2.0, 0.0, 6.0, 7.0, 7.0, end_end="square")
    assert room_along(slot, (slot,)) == math.inf
    assert cut_step(slot, shop(4.0, 6.0), (slot,)).diameter == 6.0


def test_a_step_that_ends_where_a_closed_pocket_ends_has_no_way_on() -> None:
    """A run into an anchor's pocket, both to x 300: the pocket's end is a wall; two open ends there leave the wood."""
    run = Step("run", 20.0, 300.0, 6.0, 9.0, 9.0)
    anchor = Step("anchor", 286.0, 300.0, 8.0, 10.0, 10.0, end_start="square", end_end="square")
    assert run_on(run, "end", (run, anchor)) == 0.0
    assert run_on(run, "end", (run, replace(anchor, end_end="open"))) == math.inf


def test_no_cutter_so_short_is_said_with_the_length() -> None:
    steps = (RUN, pocket(8.0))
    cutting = cut_step(steps[1], shop(4.0, 6.0), steps)
    assert cutting.diameter is None
    assert cutting.says == "the smallest cutter of the rack, 4.00 mm, is wider than this step is long, 3.00 mm"
    assert "is wider than this step" in cut_step(pocket(8.0, 3.5), shop(4.0), ()).says


def test_the_washer_s_pocket_of_wheatear_gets_the_cutter_that_goes_in() -> None:
    """4 mm long, deeper than the adjuster's pocket that it opens into: of 4 and 5 only the cutter of 4."""
    layout = laid_out("wheatear")
    washer = layout.step("washer")
    assert washer.x_end - washer.x_start == pytest.approx(4.0)
    cutting = layout.cutting("washer")
    assert cutting is not None
    assert cutting.diameter == 4.0
    assert cutting.lines == 1 + math.ceil((10.2 - 4.0) / 3.6)
