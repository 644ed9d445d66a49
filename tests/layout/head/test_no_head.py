"""Necks without a head: the printed numbers, the way of the key, what is told, and what is refused."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest
from headless_samples import AT_HEEL, SMEW
from kind_samples import design, laid_out

from neckmodel.design import read_text, remarks
from neckmodel.errors import DesignError
from neckmodel.layout import Layout
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.measured.operations import done, stages_of
from neckmodel.layout.workshop.nut_end import nut_end_reach
from neckmodel.work.order import order_of_work

L_KEY = (
    'adjusting_key.kind="L-key"',
    "adjusting_key.short_arm=25",
    "adjusting_key.long_arm=74",
    'adjusting_key.arm_in_socket="long"',
)
TWO_SCALES = ("strings.scale.bass=660", "strings.scale.treble=640", "strings.scale.square_fret=8", "head.end.width=46")


WIDE = ("strings.spacing_at_nut=60", "strings.spacing_at_bridge=84", "head.end.width=70", "head.clamp.width=66")
TWO_RODS = (
    "rod.count=2",
    "rod.offset=9",
    *WIDE,
    "head.clamp.screws=[{x=-20,y=-22,diameter=4,depth=10},{x=-20,y=22,diameter=4,depth=10}]",
    "board.width=100",
)
"""Settings with which two rods lie in a wider neck."""


def smew(*sets: str) -> Layout:
    return laid_out(SMEW, *sets)


def test_the_slot_and_the_wood_round_the_screws() -> None:
    """End 34 x 17 x 44, axis 4.3, a 4 mm key (4.53 over its corners), c 0.5; a screw at -20, 13 aside, 4 in diameter,
    12 deep. By hand: 4.53 + 2 x 0.5; 4.3 + 4.53/2 + 0.5; 17 less that; 13 - 2 - 5.53/2; 17 - 12; 22 - 13 - 2;
    34 - 20 - 2."""
    layout = smew()
    slot, clamp, head = layout.step("access-slot"), layout.clamp, layout.head
    assert clamp is not None
    assert (slot.width, slot.depth_start, slot.depth_end) == pytest.approx((5.53, 7.065, 7.065), abs=5e-4)
    assert (slot.x_start, slot.x_end) == (-34.0, 6.0)
    assert slot.end_start == "open"
    assert head.thickness - slot.depth == pytest.approx(9.935, abs=5e-4)
    hole = clamp.screws[1]
    assert hole.y - hole.diameter / 2 - slot.width / 2 == pytest.approx(8.235, abs=5e-4)
    assert head.thickness - hole.depth == 5.0
    assert head.near / 2 - hole.y - hole.diameter / 2 == 7.0
    assert hole.x - hole.diameter / 2 - head.x_far == 12.0


def test_the_shaft_flows_into_the_nut_end() -> None:
    """Half way along the swell both smoothsteps are a half; from its end on the wood is the stated block."""
    outside = smew().outside
    half, law = outside.half_width(-15.0), outside.back.half_width(-15.0)
    assert half == pytest.approx((law + 22.0) / 2)
    assert outside.half_width(-30.0) == outside.half_width(-34.0) == 22.0
    assert outside.half_width(0.0) == outside.back.half_width(0.0)
    assert outside.keel(-34.0) == outside.keel(-30.0) == 17.0
    depths = [outside.keel(-0.5 * k) for k in range(69)]
    fall = 0.5 * outside.back.depth_slope  # of the shaft itself, which grows thinner toward the nut
    assert all(deeper > one - fall for one, deeper in pairwise(depths))


def test_the_blank_runs_on_level_behind_the_nut() -> None:
    layout = smew()
    xs, zs = zip(*layout.blank_profile, strict=True)
    assert min(xs) == -34.0 - 10.0
    assert max(zs) == 0.0
    assert (-44.0, -17.0) in layout.blank_profile
    assert layout.blank_half_width >= 22.0 + 2.5


def test_clamp_and_stations() -> None:
    layout = smew("head.clamp.length=33")
    assert layout.clamp is not None
    assert (layout.clamp.x_end, layout.clamp.x_start, layout.clamp.past_end) == (-5.0, -38.0, 4.0)
    names = {station.name: station.x for station in layout.stations}
    assert names["neck's end"] == -34.0
    assert names["clamp-screw-1"] == -20.0
    assert not [name for name in names if "head" in name]
    told = layout_json(layout)
    assert told["head"]["kind"] == "none"
    assert told["head"]["clamp"]["past_end"] == 4.0
    assert json.dumps(told).count('"clamp-screw-2"') == 2  # the station and the clamp's own


def test_a_clamp_stands_behind_a_slanted_nut_and_behind_a_groove_s_wood() -> None:
    layout = smew(*TWO_SCALES)
    assert layout.clamp is not None
    assert layout.clamp.x_end == pytest.approx(min(x for x, _ in layout.nut.corners))
    grooved = smew('nut.seat="groove"', "nut.height=9", "head.end.length=44", "head.clamp.length=20")
    strip = grooved.nut_strip
    assert strip is not None
    assert grooved.clamp is not None
    assert grooved.clamp.x_end == pytest.approx(strip.x_start)


def test_a_left_hand_mirrors_the_screws() -> None:
    told = layout_json(smew('design.hand="left"', "head.clamp.screws.0.y=-12"))
    assert [screw["y"] for screw in told["head"]["clamp"]["screws"]] == [12.0, -13.0]


def test_how_long_the_key_must_be() -> None:
    """Engaged 4 in an adjuster at 7, it is held 25 past the end at -34: 7 + 34 + 25 + 4. A clamp that stands out adds
    what it stands out. Of an L-key the arm: its corner and clearance in place of the grip."""
    reach = nut_end_reach(smew())
    assert reach is not None
    assert (reach.length, reach.least) == (120.0, 70.0)
    past = nut_end_reach(smew("head.clamp.length=33"))
    assert past is not None
    assert (past.least, past.past) == (74.0, "clamp")
    bent = nut_end_reach(smew(*L_KEY))
    assert bent is not None
    assert bent.least == pytest.approx(7 + 34 + 4 + 4.53 + 0.5, abs=5e-3)
    assert [step.name for step in smew(*L_KEY).steps] == ["run", "adjuster", "access-slot"]
    assert nut_end_reach(smew(*AT_HEEL)) is None


def test_at_the_heel_nothing_is_cut_in_the_nut_end() -> None:
    layout = smew(*AT_HEEL)
    assert min(step.x_start for step in layout.steps) > 0
    assert layout.head_ways == ()


def test_two_rods_each_get_a_slot_out_of_the_nut_end() -> None:
    layout = smew(*TWO_RODS)
    slots = [step for step in layout.steps if step.name.startswith("access-slot")]
    assert [(slot.name, slot.y, slot.x_start) for slot in slots] == [
        ("access-slot-1", -9.0, -34.0),
        ("access-slot-2", 9.0, -34.0),
    ]
    said = " ".join(line for work in order_of_work(layout) for line in (work.title, *work.says, *work.checks))
    assert " head" not in said.lower()


def test_from_the_back_the_key_s_bore_comes_out_of_the_nut_end() -> None:
    bore = smew('channel.cut_from="back"', 'channel.back_strip={wood="walnut"}').step("key-bore")
    assert bore.x_start == -34.0
    assert bore.width == pytest.approx(5.53, abs=5e-3)


def test_a_ball_end_key_comes_in_straight_under_the_clamp() -> None:
    slot = smew('adjusting_key.kind="ball-end"', "adjusting_key.engaged_depth=2").step("access-slot")
    assert slot.is_level
    assert slot.x_start == -34.0


@pytest.mark.parametrize(
    ("sets", "key", "says"),
    [
        (("head.end.width=42",), "head.end.width", "at least 42.60 mm"),
        (("head.end.thickness=14",), "head.end.thickness", "at least 14.75 mm"),
        (
            ("head.end.length=10", "head.clamp.screws=[]", 'nut.seat="groove"', "nut.height=9"),
            "head.end.length",
            "12.50",
        ),
        (("head.swell_length=33.5",), "head.swell_length", "at most 33.00 mm"),
        (("head.clamp.screws.0.x=-6",), "head.clamp.screws[0].x", "at most -7.00 mm"),
        (("head.clamp.screws.0.x=-32",), "head.clamp.screws[0].x", "at least -31.00 mm"),
        (("head.clamp.screws.0.y=21.5",), "head.clamp.screws[0].y", "at most 21.00 mm"),
        (("head.drop=9",), "head.drop", 'is stated beside head.kind = "none"'),
        (("head.angle=12",), "head.angle", "only its nut end"),
        (("head.starts_at=-6",), "head.starts_at", "only its nut end"),
        (("head.length=100",), "head.length", "only its nut end"),
        (("head.thickness=15",), "head.thickness", "only its nut end"),
        (("head.volute={length=20,height=2}",), "head.volute", "only its nut end"),
        (("head.tuners=[]",), "head.tuners", "only its nut end"),
        (("head.wings=[]",), "head.wings", "only its nut end"),
        (('head.scarf="under"',), "head.scarf", "only its nut end"),
        (("head.outline={near=44,far=50}",), "head.outline", "only its nut end"),
        (('head.kind="stepped"',), "head.end", "is stated of a neck with a head"),
    ],
)
def test_what_is_refused(sets: tuple[str, ...], key: str, says: str) -> None:
    with pytest.raises(DesignError) as refused:
        smew(*sets)
    problem = next(problem for problem in refused.value.problems if problem.key == key)
    assert says in f"{problem.says}; {problem.allowed}; {problem.attempt}"


def test_a_neck_without_a_head_needs_its_nut_end() -> None:
    with pytest.raises(DesignError) as refused:
        read_text(SMEW.replace("end = {length = 34.0, thickness = 17.0, width = 44.0}\n", ""), "smew.toml")
    assert [problem.key for problem in refused.value.problems] == ["head.end"]


def test_what_has_no_effect_is_told() -> None:
    told = " ".join(remarks(design(SMEW, "limits.wall.tuner=3.5", "limits.head_break_angle=6")))
    assert "limits.wall.tuner has no effect: the neck has no head" in told
    assert "limits.head_break_angle has no effect" in told
    assert remarks(design(SMEW, "adjusting_key.grip=30")) == []
    assert "adjusting_key.grip has no effect" in " ".join(remarks(design(SMEW, *AT_HEEL, "adjusting_key.grip=30")))


def test_one_wall_for_all_is_also_the_clamp_s() -> None:
    plain = design(SMEW)
    assert plain.limits.wall.clamp_screw == 3.0
    assert design(SMEW, "limits.wall=2.5").limits.wall.clamp_screw == 2.5
    assert design(SMEW, "limits.wall.run=2.5").limits.wall.clamp_screw == 3.0


def test_a_short_nut_end_swells_over_less() -> None:
    assert design(SMEW).head.swell_length == 30.0
    assert design(SMEW, "head.end.length=24").head.swell_length == 20.0


@pytest.mark.parametrize("sets", [(), AT_HEEL, ('heel.kind="through"', "heel.wood_ends_at=700", "heel.screws=[]")])
def test_no_work_speaks_of_a_head(sets: tuple[str, ...]) -> None:
    said = " ".join(
        line.replace("screw's head", "")
        for work in order_of_work(smew(*sets))
        for line in (work.title, *work.says, *work.checks)
    )
    assert " head" not in said.lower()
    assert "nut end" in said
    assert "clamp-screw" in said or "clamp screw" in said


def test_measured_sizes_count_as_done() -> None:
    layout = smew("measured.head.end.thickness=17.1", "measured.head.clamp.screws.1.depth=12.4")
    assert layout.head.thickness == 17.1
    assert layout.clamp is not None
    assert layout.clamp.screws[1].depth == 12.4
    assert "head.clamp.screws.1" in [name for stage in stages_of(layout) for name in stage]
    assert {"head", "head.clamp.screws.1"} <= done(layout).surely
