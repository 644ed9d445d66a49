"""Tolerances of a key's way from the soundhole: the normal distribution's closed form."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from soundhole_samples import IN_WOOD, laid_out

from neckmodel.variants.tolerance.report import vary_tolerance


def test_the_share_that_passes_under_the_top_is_the_normal_distribution_s() -> None:
    """The axis 0.06 lower than would just do; depth 0.15 and measuring 0.1 are two sigmas each."""
    layout = laid_out(*IN_WOOD, "rod.adjuster.axis_below_top=7.1")
    assert layout.soundhole_way is not None
    spare = layout.soundhole_way.under_top.value
    assert 0 < spare < 0.2
    report = vary_tolerance(layout, necks=2000)
    found = {one.check: one for one in report.checks}
    expected = NormalDist(0.0, math.hypot(0.15, 0.1) / 2).cdf(spare)
    error = math.sqrt(expected * (1 - expected) / 2000)
    assert found["access/top"].share == pytest.approx(expected, abs=3 * error)
    assert found["access/reach"].share == 1.0
    assert found["access/brace"].share == 1.0
