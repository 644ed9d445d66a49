"""Fences, stops, templates, holes and tolerances: closed forms and published tables."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import laid_out, preset
from scipy import stats

from neckmodel.errors import DesignError
from neckmodel.layout.channel.step import Step
from neckmodel.layout.hardware.screws import lead_hole
from neckmodel.layout.workshop.router import RouterSetting, line_centres, router_settings, template_offset
from neckmodel.layout.workshop.tolerance import contributions, worst_loss


@pytest.mark.parametrize(
    ("bush", "cutter", "offset"), [(16, 6, 5.0), (30, 10, 10.0), (15, 9, 3.0), (19.05, 12.7, 3.175)]
)
def test_guide_bush(bush, cutter, offset):
    """Half the difference of the diameters; the last three are worked values printed by router suppliers."""
    assert template_offset(bush, cutter) == pytest.approx(offset)


def fences(centres, base, width, cutter):
    """As the sheets have them."""
    return RouterSetting(
        Step("run", 17.0, 428.0, width, 9.3, 9.3), None, cutter, centres, base, None, None, None
    ).fences


@given(st.floats(20, 60), st.floats(40, 90), st.floats(6, 20), st.floats(3, 6))
def test_fences_put_the_cutters_edges_on_the_steps_sides(edge, base, width, cutter):
    offsets = fences(line_centres(edge, width, cutter, 2), base, width, cutter)
    centres = [offset + base for offset in offsets]  # the base runs along the fence
    assert centres[0] - cutter / 2 == pytest.approx(edge - width / 2, abs=1e-9)
    assert centres[-1] + cutter / 2 == pytest.approx(edge + width / 2, abs=1e-9)


def test_one_fence_for_a_cutter_as_wide_as_the_step():
    assert fences(line_centres(30.0, 6.0, 6.0, 1), 75.0, 6.0, 6.0) == (-45.0,)


def test_stops():
    """Redpoll's run, a base of 75 mm radius: 428 + 75 - 3."""
    run = next(s for s in router_settings(laid_out("redpoll", "workshop.router_base=75")) if s.step.name == "run")
    first, last = run.stop_start, run.stop_end
    assert (first + 75.0 - 3.0, last - 75.0 + 3.0) == (17.0, 428.0)  # the cutter's edge at the step's ends
    assert last == pytest.approx(500.0)


# Wood Handbook FPL-GTR-282 (2021), p. 8-10 and 8-11: gauge, shank, lead hole in softwood and in hardwood, mm
LEAD_HOLES = ((6, 3.51, 1.64, 2.10), (8, 4.17, 1.94, 2.50), (10, 4.83, 2.25, 2.90), (12, 5.49, 2.56, 3.29))


@pytest.mark.parametrize(("gauge", "shank", "soft", "hard"), LEAD_HOLES, ids=lambda v: str(v))
def test_lead_holes(gauge, shank, soft, hard):
    assert shank == pytest.approx((0.060 + 0.013 * gauge) * 25.4, abs=5e-3)  # gauge sizes: from memory, not verified
    assert lead_hole(shank, "softwood") == pytest.approx(soft, abs=0.011)
    assert lead_hole(shank) == pytest.approx(hard, abs=0.011)


def test_heel_screws_of_the_redpoll():
    layout = laid_out("redpoll")
    screw = layout.screws[0]
    assert screw.bite == pytest.approx(45.0 - 27.0)
    assert screw.z_point == pytest.approx(-19.0 + 18.0)
    assert screw.hole == pytest.approx(lead_hole(4.5))
    assert (screw.x, screw.y) == pytest.approx((468.41 - 15.0, -17.0))


def test_a_screw_that_does_not_reach_the_neck():
    with pytest.raises(DesignError, match=r"heel\.screws\[0\]\.length.*more than 27\.00 mm"):
        laid_out("redpoll", "heel.screws=[{from_end = 15.0, y = 17.0, diameter = 4.5, length = 25.0}]")


def test_dowels_go_in_by_their_own_length():
    dowels = 'heel.screws=[{from_end = 15.0, y = 17.0, diameter = 8.0, length = 12.0, kind = "dowel"}]'
    (dowel,) = laid_out("redpoll", dowels).screws
    assert (dowel.name, dowel.hole, dowel.bite, dowel.z_point) == ("dowel-1", 8.0, 12.0, -7.0)


def test_worst_case_of_a_wall_straight_down():
    """A wall of 3.6 against 3.0: 2.85 in the worst case, yet 0.9962 of necks pass, a tolerance being two sigmas."""
    tolerances = preset("redpoll").workshop.tolerances
    taken = contributions(tolerances, 0.0, -1.0, 9.3)
    assert 3.6 - worst_loss(tolerances, 0.0, -1.0, 9.3) == pytest.approx(2.85)
    assert math.hypot(*taken.values()) == pytest.approx(math.hypot(0.15, 0.1, 0.1, 0.4), rel=1e-12)
    assert stats.norm.cdf(0.6, scale=math.hypot(*taken.values()) / 2) == pytest.approx(0.9962, abs=5e-5)
    assert max(taken, key=taken.__getitem__) == "carve"


def test_loss_of_a_diagonal_wall():
    tolerances = preset("redpoll", "workshop.tolerances.tilt=0.01").workshop.tolerances
    assert worst_loss(tolerances, 0.6, 0.8, 10.0) == pytest.approx(0.6 * 0.2 + 0.8 * 0.35 + 0.4 + 0.1)
