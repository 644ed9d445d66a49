"""The way of a key from the soundhole: values worked out by hand beforehand, and by a second route of plain numbers.

The sample's sizes: L 642, joint 14, adjuster's face at 398, its axis 9.6 deep, a 5 mm key, the soundhole from 452 to
552, the top 2.8 thick, the neck set back by 0.6 degrees, a brace from 428 to 442, 16 deep.
"""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from soundhole_samples import BALL_END, IN_WOOD, L_KEY, design, laid_out, way

from neckmodel.design import remarks
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.key.hexagon import across_corners
from neckmodel.layout.rod.bounds import cut_outs

X_JOINT = 642 * (1 - 2 ** (-14 / 12))
TILT = math.tan(math.radians(0.6))


def top_under(x: float) -> float:
    """The top's under side, by the body's own lines."""
    return -2.8 - (x - X_JOINT) * TILT


def test_the_printed_values() -> None:
    """To the digit printed; 1e-4 of slack for the bridge's height, from which the 0.6 degrees follow."""
    found, _ = way()
    layout = laid_out()
    assert layout.rod is not None
    assert (layout.rod.x_adjuster, layout.rod.axis) == (398.0, pytest.approx(9.6))
    assert layout.action.angle == pytest.approx(0.6, abs=1e-5)
    assert found.diameter == pytest.approx(6.670, abs=5e-4)
    assert (found.under_top.value, found.under_top.x) == (pytest.approx(2.460, abs=5e-4), 452.0)
    assert found.over_braces is not None
    assert (found.over_braces.value, found.over_braces.x) == (pytest.approx(2.565, abs=5e-4), 442.0)
    assert found.under_braces is not None
    assert (found.under_braces.value, found.under_braces.x) == (pytest.approx(6.619, abs=5e-4), 428.0)
    assert found.least == pytest.approx(83.0, abs=1e-9)
    assert way(*L_KEY)[0].least == pytest.approx(64.17, abs=1e-9)


def test_a_bore_is_as_wide_as_a_published_key_and_its_play() -> None:
    """JIS B 4648:2008: a 5 mm key is 5.67 across corners at most."""
    assert across_corners(5.0) == 5.67
    for play in (0.3, 0.5, 1.0):
        assert way(f"channel.key_clearance={play}")[0].diameter == pytest.approx(5.67 + 2 * play)


def test_the_room_is_that_of_a_sampled_cylinder() -> None:
    """Second route: points all round a cylinder on the axis, against planes; no formula of the bore's upper line."""
    found, _ = way(*IN_WOOD)
    x, turn = np.meshgrid(np.linspace(390.0215, 452.0, 2001), np.linspace(0.0, 2 * np.pi, 721))
    z = -9.6 + 6.67 / 2 * np.sin(turn)
    under = -2.8 - (x - X_JOINT) * TILT
    assert found.under_top.value == pytest.approx(float((under - z).min()), abs=1e-4)
    brace = (x >= 428) & (x <= 442)
    assert found.over_braces is not None
    assert found.over_braces.value == pytest.approx(float((under - z)[brace].min()), abs=1e-3)
    assert found.under_braces is not None
    assert found.under_braces.value == pytest.approx(float((z - (under - 16.0))[brace].min()), abs=1e-3)


def test_the_adjuster_s_own_bore_where_it_stands_beyond_the_wood() -> None:
    """6.5 and 0.8 of clearance, from the tenon's end to 1.0 past its face; the key's bore from there on."""
    found, _ = way()
    own, key = found.bores
    assert (own.what, own.diameter) == ("adjuster", pytest.approx(7.3))
    assert (own.x_start, own.x_end) == (pytest.approx(X_JOINT + 25), pytest.approx(399.0))
    assert (key.what, key.x_start, key.x_end) == ("key", pytest.approx(399.0), 452.0)
    assert [(hole.name, hole.bore.what) for hole in found.holes] == [
        ("block", "adjuster"),
        ("block", "key"),
        ("brace-1", "key"),
    ]
    assert all(step.name != "access-slot" for step in laid_out().steps)


def test_within_the_wood_the_slot_runs_out_through_the_end_and_the_bore_begins_there() -> None:
    layout, (found, key) = laid_out(*IN_WOOD), way(*IN_WOOD)
    slot = layout.step("access-slot")
    assert (slot.x_start, slot.x_end, slot.end_end) == (383.0, pytest.approx(X_JOINT + 34), "open")
    assert (slot.width, slot.depth) == (pytest.approx(6.67), pytest.approx(9.6 + 5.67 / 2 + 0.5))
    assert [bore.what for bore in found.bores] == ["key"]
    assert found.bores[0].x_start == pytest.approx(slot.x_end)
    assert key.floor == pytest.approx(slot.depth)
    assert layout.recesses == ()  # the body is bored, not opened from its top


def test_however_short_the_key_the_slot_leaves_the_wood() -> None:
    """A key from inside comes in through the end: the slot does not stop where a short key, withdrawn, would."""
    short = (*IN_WOOD, "adjusting_key.handle.length=2", "adjusting_key.length=20")
    assert laid_out(*short).step("access-slot").x_end == pytest.approx(X_JOINT + 34)


def test_no_pocket_is_cut_for_an_arm_that_hangs() -> None:
    layout = laid_out(*IN_WOOD, *L_KEY, "adjusting_key.long_arm=95")
    assert [step.name for step in layout.steps] == ["run", "block", "adjuster", "access-slot"]
    assert layout.key is not None
    assert layout.key.hangs
    face = laid_out(*IN_WOOD, "adjusting_key.enters=face", *L_KEY, "adjusting_key.short_arm=30")
    assert face.key is not None
    assert not face.key.hangs


@pytest.mark.parametrize("deep", [9.5, 12.0, 15.0])
def test_a_ball_end_is_tilted_to_the_last_whole_degree_that_passes_under_the_edge(deep: float) -> None:
    """Second route: degree by degree, the key's upper corner line at the edge, and its clearance, under the top."""
    over = (*IN_WOOD, *BALL_END, f"rod.adjuster.axis_below_top={deep}", "rod.block.height=16")
    found, key = way(*over)
    layout = laid_out(*over)
    assert layout.rod is not None
    pivot = layout.rod.x_adjuster - (4.0 - 2.5)  # the ball's middle, inside the socket
    passing = []
    for degrees in range(26):
        turn = math.radians(degrees)
        upper = -(deep + 0.1) + (452.0 - pivot) * math.tan(turn) + 5.67 / 2 / math.cos(turn)
        if upper + 0.5 <= top_under(452.0) + 1e-9:
            passing.append(degrees)
    assert key.tilt == max(passing) > 0
    assert found.under_top.value >= 0
    assert found.bores[-1].axis(452.0) == pytest.approx(deep + 0.1 - (452.0 - pivot) * math.tan(math.radians(key.tilt)))


def test_a_ball_end_that_does_not_even_pass_level_stays_level() -> None:
    found, key = way(*IN_WOOD, *BALL_END, "rod.adjuster.axis_below_top=6.0")
    assert key.tilt == 0.0
    assert found.under_top.value < 0


def test_a_bent_rod_s_key_and_bore_follow_its_adjuster() -> None:
    """A compression rod whose adjuster points upward: the bore lies on that line, on and on."""
    over = (
        "rod.kind=compression",
        "rod.diameter=5",
        "rod.axis_depth={adjuster = 9.6, middle = 11.0, anchor = 7.0}",
        'rod.adjuster={diameter = 7.0, length = 12.0, socket = {kind = "hex", size = 5.0, depth = 6.0}}',
        "rod.length=374",
        "heel.tenon.length=34",
        "body.head_block_ends_at=410",
    )
    found, key = way(*over)
    layout = laid_out(*over)
    assert layout.rod is not None
    assert key.tilt == pytest.approx(layout.rod.tilt)
    (bore,) = found.bores
    x = np.array([395.0, 420.0, 450.0])
    line = layout.rod.axis - (x - layout.rod.x_adjuster) * math.tan(math.radians(layout.rod.tilt))
    assert [bore.axis(float(each)) for each in x] == pytest.approx(line.tolist())


def test_a_neck_that_leans_forward_is_nearest_to_the_top_at_its_own_end() -> None:
    """A bridge 6 mm lower tilts the neck forward: the top then rises away from the bore."""
    found, _ = way(*IN_WOOD, "action.bridge_height=7.7")
    assert found.top.angle < 0
    assert found.under_top.x == pytest.approx(X_JOINT + 34)


def test_without_a_stated_bridge_the_top_lies_level() -> None:
    text = [line for line in design().source.text.splitlines() if not line.startswith("bridge_height")]
    from neckmodel.design import read_text
    from neckmodel.layout import lay_out

    found = lay_out(read_text("\n".join(text))).soundhole_way
    assert found is not None
    assert found.top.angle == 0.0
    assert found.under_top.value == pytest.approx(9.6 - 7.3 / 2 - 2.8)  # the adjuster's bore is the wider one


def test_the_soundhole_bounds_wood_and_rod_like_a_cut_out_and_counts_once() -> None:
    once, twice = laid_out(), laid_out("body.cutouts=[{from = 452.0, to = 552.0}, {from = 600.0, to = 610.0}]")
    assert [(bound.reason, bound.x) for bound in cut_outs(once.design)] == [("the soundhole", 452.0)]
    assert [bound.x for bound in cut_outs(twice.design)] == [600.0, 452.0]
    assert once.rod is not None
    assert twice.rod is not None
    mine = [bound for bound in once.rod.upper if bound.key == "body.soundhole.from"]
    assert [bound.x for bound in mine] == [pytest.approx(452.0 - (390 - 20))]
    assert len(twice.rod.upper) == len(once.rod.upper) + 1
    assert [(hole.x_from, hole.source) for hole in once.body.cut_outs] == [(452.0, "soundhole")]
    assert once.body.x_back == 452.0


def test_a_soundhole_bounds_a_rod_turned_at_the_head_too() -> None:
    over = (
        "rod.adjuster_at=head",
        "adjusting_key.enters=face",
        "rod.block.height=9.2",
        "rod.adjuster.axis_below_top=4.2",
    )
    layout = laid_out(*over)
    assert layout.rod is not None
    assert layout.soundhole_way is None
    bound = next(each for each in layout.rod.upper if each.key == "body.soundhole.from")
    assert bound.x == pytest.approx(452.0 - 6.0 - 1.0 - 390.0)


def test_the_key_s_length_bounds_the_rod_s_place() -> None:
    """The adjuster lies no farther from the edge than the key reaches: the bound and access/reach meet at 0."""
    layout, (found, _) = laid_out("adjusting_key.length=63"), way("adjusting_key.length=63")
    assert layout.rod is not None
    bound = next(each for each in layout.rod.lower if each.key == "adjusting_key.length")
    assert layout.rod.x_start - bound.x == pytest.approx(found.reach) == pytest.approx(0.0, abs=1e-9)


def test_an_l_key_s_arm_hangs_over_the_back_by_the_body_s_own_sizes() -> None:
    """Second route: the far corners of an arm 5.67 thick, its end 80 - 2.5 below the axis, turned to and fro."""
    found, key = way(*L_KEY, "adjusting_key.long_arm=140", "adjusting_key.short_arm=80")
    turns = np.radians(np.linspace(-37.5, 37.5, 3001))
    corners = [(side * 5.67 / 2, 80.0 - 2.5) for side in (-1, 1)]
    lowest = max(float((y * np.sin(turns) + z * np.cos(turns)).max()) for y, z in corners)
    x = 394.0 + 140.0
    back = max(top_under(each) - (98.0 - 2 * 2.8) for each in (x, x - 5.67))
    assert found.under_arm(key) == pytest.approx(-9.6 - lowest - back, abs=1e-4)


def test_a_key_drawn_back_lies_in_the_soundhole_or_passes_under_the_top() -> None:
    """Its tip is free at the brace's end, 442; with its handle 110 long it just ends at the far edge, 552."""
    found, key = way()
    assert (found.x_free, found.drawn, found.past_edge) == (442.0, 552.0, pytest.approx(0.0))
    half = 9.0 / 2 + 0.5
    assert found.under_far_edge(key) == pytest.approx(9.6 + top_under(552.0) - half, abs=1e-4)
    long, key = way("adjusting_key.length=190")
    assert long.past_edge == pytest.approx(-100.0)
    assert long.under_far_edge(key) == pytest.approx(9.6 + top_under(652.0) - half, abs=1e-4)


def test_the_room_beside_a_string_is_the_wider_side_s() -> None:
    """Half the soundhole less the outer string's place, half its diameter and 3.0, in the middle of the hole."""
    found, _ = way()
    share = (502.0 - 0.0) / 642.0
    treble = 50.0 - (36.2 / 2 + (54.0 - 36.2) / 2 * share) - 0.30 / 2 - 3.0
    assert (found.side, found.beside) == ("treble", pytest.approx(treble, abs=0.02))


def test_a_left_handed_neck_and_inches_have_the_same_way() -> None:
    found, left = way()[0], way("design.hand=left")[0]
    assert (left.under_top, left.least, left.beside) == (found.under_top, found.least, found.beside)
    inch = way(f"body.soundhole.from={452 / 25.4} in")[0]
    assert inch.under_top.value == pytest.approx(found.under_top.value)


def test_the_layout_s_data_hold_it_and_only_then() -> None:
    told = json.loads(json.dumps(layout_json(laid_out())))["soundhole_way"]
    assert told["diameter"] == 6.67
    assert told["under_top"] == pytest.approx(2.460, abs=5e-4)
    assert [hole["name"] for hole in told["through"]] == ["block", "block", "brace-1"]
    assert "soundhole_way" in layout_json(laid_out("design.hand=left"))
    face = laid_out("adjusting_key.enters=face")
    assert "soundhole_way" not in layout_json(face)


def test_what_has_no_effect_is_told() -> None:
    said = remarks(design("adjusting_key.enters=face"))
    for key in ("body.top_thickness", "body.head_block_ends_at", "body.braces"):
        assert f"{key} has no effect: no key enters through a soundhole" in said
    assert not [each for each in remarks(design()) if "no effect" in each]
    assert "adjusting_key.grip has no effect: an L-key is held by its hanging arm" in remarks(
        design(*L_KEY, "adjusting_key.grip=30")
    )
