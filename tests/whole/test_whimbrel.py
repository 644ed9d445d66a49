"""The seven-string preset with two scale lengths: worked values of its layout, and its solids all sound and passing."""

from __future__ import annotations

from pathlib import Path

import pytest
from measured_runs import found_on, measured_parts

from neckmodel.checks import check
from neckmodel.checks.bench import Bench
from neckmodel.design import read
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out
from neckmodel.solids import build

PRESET = Path(__file__).parents[2] / "presets" / "whimbrel.toml"


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(read(PRESET))


@pytest.fixture(scope="module")
def findings(layout: Layout) -> Findings:
    return check(build(layout))


def test_its_frets(layout: Layout) -> None:
    """c_B = sqrt(684**2 - 7.5**2) = 683.9589, c_T = 652.9569: the centre line 668.4579; fret 24
    at three quarters of it; fret 9 square."""
    assert layout.frets.scale == pytest.approx(668.4579, abs=1e-4)
    assert layout.frets.frets[23].x == pytest.approx(0.75 * 668.4579, abs=1e-3)
    assert layout.frets.frets[8].x_bass == pytest.approx(layout.frets.frets[8].x_treble, abs=1e-9)
    assert [x for x, _ in layout.fretboard.end] == [510.0, 510.0]


def test_its_rod_keeps_the_gap_over_the_channels_whole_width(layout: Layout) -> None:
    """4 + 0.2618 x 3.05 = 4.80; the rod over all 496 from 24.5, its block's face at 509.5."""
    assert layout.rod is not None
    assert layout.rod.x_min == pytest.approx(4.799, abs=1e-3)
    assert (layout.rod.x_block, layout.rod.x_adjuster) == pytest.approx((509.5, 520.5))


def test_its_least_wall(layout: Layout, findings: Findings) -> None:
    """4.3785 by section at the rod's own end; the solid's channel begins end_clearance sooner: up to 0.015 less."""
    assert layout.wall_at(layout.step("run"), 24.5) == pytest.approx(4.3785, abs=5e-4)
    wall = findings["wall/run"]
    assert wall.measured is not None
    assert wall.error is not None
    assert wall.measured <= 4.3785
    assert wall.measured + wall.error >= 4.3785 - 0.015


def test_all_its_checks_pass(findings: Findings) -> None:
    assert findings.passed
    assert all(part.valid and part.watertight and part.solids == 1 for part in findings.parts)
    assert findings["fret-slots/wood"].verdict == findings["place/wheel"].verdict == "pass"


def test_its_left_handed_twin_passes_alike(findings: Findings) -> None:
    twin = found_on(Bench(measured_parts(lay_out(read(PRESET, ['design.hand="left"'])))))
    measured = {found.check: found.measured for found in findings.findings}
    assert {found.check: found.measured for found in twin.findings} == measured
