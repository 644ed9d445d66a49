"""An adjuster that stands proud, and a key's slot that goes on into the head."""

from __future__ import annotations

import pytest
from neck_runs import bench, found, found_all, laid_out


def test_an_adjuster_against_the_fretboard_is_an_overlap_too():
    findings = found_all("redpoll", "rod.adjuster.axis_below_top=3.3")
    assert findings["overlap/fretboard-rod"].verdict == "fail"
    # the adjuster's top 0.1 proud: down by that and by half of the usual 0.8 of clearance on its diameter
    assert findings["fit/adjuster"].remedy.set == {"channel.deeper_by": 0.6}


def test_a_groove_is_left_in_the_head_where_the_step_is_lower_than_the_keys_floor():
    """Floor 4.3 + 4.53 / 2 + 0.5 = 7.065: with a step of 7.07 the slot ends at the head line, with 7.0 it goes on."""
    slots = [laid_out("redpoll", f"head.drop={drop}").step("access-slot") for drop in (7.07, 7.0)]
    assert [slot.x_start for slot in slots] == pytest.approx([-6.0, -176.0])
    tuner = found("wall/tuner", "redpoll", "head.drop=7")
    assert tuner.measured == pytest.approx(15 - 5.53 / 2 - 5, abs=0.02)  # the groove runs between the tuners
    assert found("wall/tuner", "redpoll", "head.drop=7.07").measured > 30
    assert bench("redpoll", "head.drop=7").in_wood("access-slot").surface[:, :, 0].min() < -170
