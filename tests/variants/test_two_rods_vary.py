"""Two rods among a maker's own rods, over a range, and with every channel a little off."""

from __future__ import annotations

import math
from pathlib import Path
from statistics import NormalDist

import pytest
from pair_samples import FAN, KEY, pair

from neckmodel.design.rods import read_rods
from neckmodel.layout import lay_out
from neckmodel.variants.ranges import vary_range
from neckmodel.variants.rods.fit import fit_rods
from neckmodel.variants.tolerance.report import vary_tolerance

LIST = """
[[rod]]
name = "as it is"
kind = "two-way"
length = 420.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
"""


def test_rods_of_a_list_are_tried_as_a_pair_at_the_same_x(tmp_path: Path) -> None:
    (tmp_path / "rods.toml").write_text(LIST)
    design = pair(text=FAN, more=KEY)
    (fit,) = fit_rods(design, read_rods(tmp_path / "rods.toml"))
    layout = lay_out(design)
    assert fit.fits
    # least of what either rod leaves, for both start at one place
    assert fit.x_from == pytest.approx(max(rod.x_min for rod in layout.rods), abs=1e-6)
    assert fit.length_from == pytest.approx(max(rod.fitting_from for rod in layout.rods), abs=1e-6)
    assert any(margin.what == "the wood between the two rods" for margin in fit.margins)


def test_the_wood_between_is_a_margin_over_a_range() -> None:
    near, far = vary_range(pair(more=KEY), "rod.offset", (7.0, 9.0))
    assert near.first is not None
    assert near.first.what == "the wood between the two rods"
    assert near.first.value == pytest.approx(14.0 - 7.8 - 6.0)
    assert far.first is not None
    assert far.first.what != near.first.what


def test_two_channels_off_sideways_take_wood_between_as_the_normal_distribution_says() -> None:
    """0.1 to spare between two pockets, each of which may lie off by 0.2, which is two sigmas."""
    report = vary_tolerance(lay_out(pair("rod.offset=6.95", more=KEY)), necks=2000)
    found = {one.check: one for one in report.checks}
    expected = NormalDist(0.0, math.hypot(0.2, 0.2) / 2).cdf(0.1)
    error = math.sqrt(expected * (1 - expected) / 2000)
    assert found["wall/between"].share == pytest.approx(expected, abs=3 * error)
    assert {"place/adjuster-1", "place/adjuster-2"} <= set(found)
