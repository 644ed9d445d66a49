"""Two rods in the order of work, on the routing sheet's settings, in tables and in the order list."""

from __future__ import annotations

import pytest
from pair_samples import CUTTERS, FERN_PAIR, KEY, ONE, pair

from neckmodel.layout import Layout, lay_out
from neckmodel.layout.workshop.router import router_settings
from neckmodel.work.measures import measures
from neckmodel.work.order import order_of_work


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(pair(more=KEY + CUTTERS))


def told(layout: Layout) -> str:
    return "\n".join(line for work in order_of_work(layout) for line in (work.title, *work.says, *work.checks))


def test_each_piece_of_work_speaks_of_both_rods(layout: Layout) -> None:
    says = told(layout)
    for phrase in (
        "Have both rods and their key in your hand",
        "There are two rods alike, rod 1 at y -9.00 mm and rod 2 at y 9.00 mm: do what follows with each of them.",
        "from the reference edge and a line for either rod 9.00 mm to each side of it.",
        "each rod goes in and comes out by hand",
        "Rout the access slots",
        "Take the rods out.",
        "Do so at both rods, one after the other.",
        "each run is still 9.20 mm deep or more",
        "turn one adjuster by an eighth of a turn and the other by as much",
        "Keep both rods alike: one turned alone also twists the neck.",
    ):
        assert phrase in says


def test_a_neck_with_one_rod_hears_of_one() -> None:
    says = told(lay_out(pair(text=ONE, more=KEY + CUTTERS)))
    assert "two rods" not in says
    assert "each rod" not in says
    assert "twist" not in says


def test_steps_alike_are_routed_one_after_the_other_the_wider_ones_first(layout: Layout) -> None:
    cuts = [work.cuts for work in order_of_work(layout) if work.cuts]
    assert cuts == [("adjuster-1", "adjuster-2", "run-1", "run-2"), ("access-slot-1", "access-slot-2")]


def test_the_fence_for_each_rod_is_set_from_the_one_reference_edge(layout: Layout) -> None:
    """The cutter's middle lies half the blank's width, less or more 9 mm, from the bass-side edge."""
    settings = {setting.step.name: setting for setting in router_settings(layout)}
    half = layout.blank_half_width
    assert settings["run-1"].centres == (pytest.approx(half - 9.0),)
    assert settings["run-2"].centres == (pytest.approx(half + 9.0),)


def test_both_channels_are_measured(layout: Layout) -> None:
    keys = {row.key for _, rows in measures(layout) for row in rows}
    assert {"channel.run-1.depth", "channel.run-2.depth", "channel.adjuster-2.width"} <= keys
    rows = {row.key: row for _, group in measures(layout) for row in group}
    one, two = rows["channel.run-1.depth"], rows["channel.run-2.depth"]
    assert (one.low, one.high) == (two.low, two.high)
    assert one.low == pytest.approx(9.2)  # less would leave a rod proud


def test_two_compression_rods_get_a_strip_each() -> None:
    says = told(lay_out(pair(text=FERN_PAIR)))
    assert "Glue in the cover strips" in says
    assert "each adjuster turns by hand, and no rod rattles when the blank is knocked" in says
    assert "The rods lie under their strips, slack." in says
