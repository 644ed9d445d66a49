"""The preset with a tenon, a bar and four pairs of strings: its own numbers, worked out once by hand and by section."""

from __future__ import annotations

import math
from functools import cache

import pytest

from neckmodel.checks import check
from neckmodel.design import read
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.presets import path_of
from neckmodel.solids import build


@cache
def neck() -> tuple[Layout, Findings]:
    path = path_of("pipit")
    assert path is not None
    layout = lay_out(read(path))
    return layout, check(build(layout))


def test_it_passes_every_check() -> None:
    _, findings = neck()
    assert findings.passed
    assert {f.check for f in findings.findings if f.verdict == "skipped"} == {"stock/grain"}


def test_the_bars_place_and_wall() -> None:
    """From 4 to 11 (195 - 6 - 1 - 177); least wall 3.904 for a channel of 6.1 x 9.1 from x = 6: the least distance to
    400,000 points of `(y/a)**1.7 + (z/b)**1.7 = 1`, a 14.854 and b 13.825 from the sizes stated."""
    layout, findings = neck()
    (bar,) = layout.bars
    assert (max(b.x for b in bar.lower), min(b.x for b in bar.upper)) == (4.0, pytest.approx(11.0))
    assert (bar.x_start, bar.x_end - layout.heel.x_joint) == (6.0, pytest.approx(10.0))
    (wall,) = layout.walls
    assert wall.wall == pytest.approx(3.904, abs=5e-4)
    found = findings["wall/bar-1"]
    assert found.measured is not None
    assert found.error is not None
    # the solid's taper takes a little, and its measuring error is stated
    assert wall.wall - 0.03 < found.measured + found.error < wall.wall + 0.03


def test_the_head_of_one_piece_from_a_board_of_45() -> None:
    layout, findings = neck()
    height = 150 * math.sin(math.radians(12)) + 14 * math.cos(math.radians(12))
    assert -min(z for _, z in layout.blank_profile) == pytest.approx(height)
    found = findings["stock/size"]
    assert found.verdict == "pass"  # the board is stated as trued
    assert found.measured == pytest.approx(45 - height, abs=1e-3)


def test_the_tenon_ends_the_wood() -> None:
    layout, _ = neck()
    assert layout.heel.x_joint == pytest.approx(173.0)
    assert layout.heel.x_end == 195.0
    assert layout.heel.tenon is not None
