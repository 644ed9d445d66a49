"""Compression rods laid out: printed values, closed forms, and what is refused of rods by its key.

Least walls, place intervals, the ball end's angle and the wheel's place are worked values of two of the workshop's
necks, each recomputed here by hand or by brute force.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from rod_samples import ACOUSTIC, FERN, ODD, acoustic, brute_wall, plain, seven

from neckmodel.design import read_text
from neckmodel.design.remarks import remarks
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.json.layout import layout_json

# a hexagon across corners, largest: 5.67 for 5 mm, 4.53 for 4 mm (JIS B 4648:2008, from a published copy of its table)
CORNERS_5 = 5.67


# --- compression rods ------------------------------------------------------------------------------------------------
def test_least_wall_of_the_bent_run_by_section():
    """Channel 5.2 wide, floor at axis + 2.5 + 0.15, the axis 6 / 9.5 / 6 from x 4 to 364: 4.163."""
    layout = lay_out(acoustic())
    run = layout.step("run")
    assert run.width == pytest.approx(5.2)
    found = next(w for w in layout.walls if w.step == "run")
    assert found.wall == pytest.approx(4.163, abs=5e-4)
    by_hand = []
    for x in np.linspace(16.0, 364.0, 697):
        u = (x - 4.0) / 360.0
        depth = 6.0 + 3.5 * 4 * u * (1 - u) + 2.5 + 0.15
        assert run.depth_at(float(x)) == pytest.approx(depth, abs=1e-9)
        t = 21.5 + 2.0 * (x - layout.back.x_1) / (layout.back.x_12 - layout.back.x_1) - 6.0
        by_hand.append(brute_wall(layout.back.half_width(float(x)), t, 2.0, 2.6, depth))
    assert found.wall == pytest.approx(min(by_hand), abs=2e-3)


def test_place_interval_of_the_compression_rod():
    rod = lay_out(acoustic()).rod
    assert (rod.x_min, rod.x_max) == pytest.approx((4.0, 9.02), abs=5e-3)
    joint = 642.0 * (1 - 2 ** (-14 / 12))
    assert next(b.x for b in rod.lower if b.key == "rod_place.past_joint") == pytest.approx(joint + 5.0 - 360.0)


def test_ball_end_key_of_the_wheatear():
    """alpha = floor(min(alpha_max, 25)): 15, on which the slot's floor rises toward the head."""
    layout = lay_out(acoustic())
    key, slot = layout.key, layout.step("access-slot")
    assert key.tilt == 15.0
    pivot = 4.0 + 3.0 - 2.5  # engaged 3.0: the ball's middle stands half a millimetre inside the socket's face

    def upper_side(angle: float) -> float:
        turn = math.radians(angle)
        return -layout.rod.axis_at(pivot) + (pivot + 5.0) * math.tan(turn) + CORNERS_5 / 2 / math.cos(turn) + 0.5

    assert upper_side(15.0) <= 0.0 < upper_side(16.0)
    rise = (slot.depth_end - slot.depth_start) / (slot.x_end - slot.x_start)
    assert math.degrees(math.atan(rise)) == pytest.approx(15.0, abs=1e-9)
    at_pivot = layout.rod.axis_at(pivot) + CORNERS_5 / 2 / math.cos(math.radians(15)) + 0.5
    assert slot.depth_at(pivot) == pytest.approx(at_pivot, abs=1e-9)
    assert layout.head.face(slot.x_start) == pytest.approx(-slot.depth_start, abs=1e-9)  # out through the head's face
    assert slot.width == pytest.approx(CORNERS_5 + 1.0)


def test_a_ball_end_engaged_deeper_is_tilted_less():
    assert lay_out(acoustic("adjusting_key.engaged_depth=5")).key.tilt < 15.0
    assert lay_out(acoustic("nut.thickness=3", "head.starts_at=-4")).key.tilt > 15.0
    flat = lay_out(acoustic("rod.axis_depth.adjuster=16", "rod.axis_depth.middle=18"))
    assert flat.key.tilt == 25.0  # so deep that the nut does not matter: the ball's own limit


def test_a_straight_key_follows_the_bent_rods_adjuster():
    layout = lay_out(acoustic('adjusting_key.kind="straight"'))
    slope = math.atan2(3.5 * 4 * (12 / 360) * (1 - 12 / 360), 12.0)
    assert layout.rod.tilt == pytest.approx(math.degrees(slope))
    assert layout.key.tilt == layout.rod.tilt
    assert layout.key.engaged == 5.0
    assert layout.key.x_tip == pytest.approx(4.0 + 5.0 * math.cos(slope))
    assert layout.key.axis == pytest.approx(6.0 + layout.key.engaged * math.sin(slope))


def test_washer_pocket():
    layout = lay_out(acoustic())
    washer, step = layout.rod.washer, layout.step("washer")
    assert (washer.x_start, washer.x_end) == (16.0, 17.5)
    u = (16.75 - 4.0) / 360.0
    axis = 6.0 + 3.5 * 4 * u * (1 - u)
    assert washer.axis == pytest.approx(axis)
    assert (step.width, step.depth) == pytest.approx((10.2, axis + 5.0 + 0.15))
    assert (step.x_end, step.end_end) == (17.5, "square")  # it bears on the wood here
    assert step.x_end - step.x_start == pytest.approx(4.0)  # as long as the smallest cutter is wide
    assert 5.0 < washer.hole < 5.6


@pytest.mark.parametrize(("diameter", "enough"), [(10.0, True), (12.0, False)])
def test_a_washer_of_10_leaves_3_under_its_pocket_and_one_of_12_does_not(diameter, enough):
    layout = lay_out(acoustic(f"rod.washer.diameter={diameter}"))
    wall = next(w.wall for w in layout.walls if w.step == "washer")
    assert (wall >= 3.0) is enough


def test_cover_strip_fills_the_run_over_the_rod():
    layout = lay_out(acoustic())
    strip, rod = layout.rod.strip, layout.rod
    assert (strip.x_start, strip.x_end, strip.width) == pytest.approx((17.5, 352.0, 5.2))
    for x in np.linspace(17.5, 352.0, 15):
        assert strip.underside.at(float(x)) == pytest.approx(rod.axis_at(float(x)) - 2.5, abs=3e-3)
        assert strip.underside.at(float(x)) <= rod.axis_at(float(x)) - 2.5  # never in the rod


def test_a_compression_rod_with_its_adjuster_at_the_heel_is_the_same_one_turned_round():
    """Length 300 from x 40: the same stations counted from the other end, the deepest place the same."""
    more = ["rod.length=300", "rod_place.from_nut=40", "rod.axis_depth.anchor=7", "adjusting_key.kind=straight"]
    at_head, at_heel = (lay_out(acoustic(*more, f"rod.adjuster_at={end}")) for end in ("head", "heel"))
    assert at_heel.rod.x_adjuster == at_head.rod.x_anchor_end == 340.0
    for name in ("run", "anchor", "washer", "adjuster"):
        one, other = at_head.step(name), at_heel.step(name)
        assert 380.0 - one.x_end == pytest.approx(other.x_start)
        assert 380.0 - one.x_start == pytest.approx(other.x_end)
        assert one.width == other.width
        for x in np.linspace(one.x_start, one.x_end, 5):
            assert other.depth_at(380.0 - float(x)) == pytest.approx(one.depth_at(float(x)))
    assert at_heel.rod.tilt == pytest.approx(at_head.rod.tilt)


def test_what_the_json_tells_of_a_compression_rod():
    data = layout_json(lay_out(acoustic()))
    run = next(step for step in data["channel"] if step["step"] == "run")
    u = (190.5 - 4.0) / 360.0
    assert run["depth_middle"] == pytest.approx(6.0 + 14 * u * (1 - u) + 2.65, abs=1e-5)
    assert data["rod"]["axis"]["arc_differs_by"] == pytest.approx(3.5**3 / 360**2, abs=1e-5)
    assert data["rod"]["washer"]["diameter"] == 10.0
    assert data["rod"]["cover_strip"]["thickness_most"] == pytest.approx(7.0, abs=3e-3)
    assert (data["rod"]["x_adjuster"], data["rod"]["x_anchor_end"]) == (4.0, 364.0)
    assert next(s for s in data["channel"] if s["step"] == "adjuster")["depth_middle"] is None


# --- what is refused -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("changes", "key", "says"),
    [
        (("rod.axis_depth.adjuster=2", "rod.axis_depth.middle=4"), "rod.axis_depth.adjuster", "room for a cover strip"),
        (("rod.axis_depth.middle=25",), "rod.axis_depth.middle", "to a slope of 0.21"),
        (("rod.washer.diameter=6",), "rod.washer.diameter", "hardly wider than the rod"),
        (("rod.length=50", "rod.anchor.length=30", "rod.axis_depth.middle=6.5"), "rod.length", "hardly any rod"),
        (("rod.anchor.height=13",), "rod.anchor.height", "above the glue plane"),
        (("adjusting_key.engaged_depth=6", "rod.axis_depth={adjuster=16,middle=18,anchor=16}"),
         "adjusting_key.engaged_depth", "does not let a ball-end key tilt"),
        (('adjusting_key.kind="bar"',), "adjusting_key.kind", "turns nothing but a spoke wheel"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_its_key(changes, key, says):
    with pytest.raises(DesignError) as caught:
        lay_out(acoustic(*changes))
    problem = caught.value.problems[0]
    assert problem.key == key
    assert says in problem.says
    assert problem.allowed or problem.attempt


@pytest.mark.parametrize(
    ("text", "key", "says"),
    [
        (ODD.replace("330.0", "331.0"), "rod.segments", "come to 421 mm with the adjuster, and rod.length is 420 mm"),
        (ODD.replace("axis_below_top = 3.5", "axis_below_top = 9.0"), "rod.adjuster.axis_below_top", "below the rod"),
    ],
)
def test_odd_segments_must_make_the_rod(text, key, says):
    with pytest.raises(DesignError) as caught:
        plain(text)
    assert [p.key for p in caught.value.problems] == [key]
    assert says in caught.value.problems[0].says


def test_a_spoke_wheel_at_the_head_is_refused():
    with pytest.raises(DesignError, match="where the fretboard covers a spoke wheel"):
        seven('rod.adjuster_at="head"')


def test_bounds_told_are_the_least_that_will_do():
    """What a refusal allows is laid out, and a hundredth less is not."""
    for key, least in (("rod.axis_depth.adjuster", 3.0), ("rod.axis_depth.anchor", 3.0)):
        more = ("adjusting_key.engaged_depth=2.5", "rod.washer.thickness=0.3", "rod.anchor.length=0")
        lay_out(acoustic(f"{key}={least}", *more))
        with pytest.raises(DesignError):
            lay_out(acoustic(f"{key}={least - 0.01}", *more))


def test_idle_keys_of_a_compression_rod_are_told():
    text = ACOUSTIC + FERN.replace("[adjusting_key]", "block = {length = 5.0}\n[adjusting_key]")
    said = remarks(read_text(text, "acoustic"))
    assert any("rod.block has no effect" in line for line in said)
