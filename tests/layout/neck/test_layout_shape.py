"""Head, heel and what lies between: transitions, the sawn profile, and what is refused because it would not fit."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_samples import PLAIN, PRESETS, laid_out, plain
from shape_oracle import crosses_itself, spans_at

from neckmodel.design import read_text
from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.neck.back import smoothstep


def test_smoothstep():
    assert [smoothstep(u) for u in (-1.0, 0.0, 0.25, 0.5, 1.0, 2.0)] == [0.0, 0.0, 0.15625, 0.5, 1.0, 1.0]


@pytest.mark.parametrize("name", PRESETS)
def test_thickness_where_it_is_quoted(name):
    """At fret 1 and fret 12, crown to back, no transition reaches in."""
    layout = laid_out(name)
    stated = layout.design.neck.thickness
    for fret, thickness in ((1, stated.fret_1), (12, stated.fret_12)):
        x = layout.frets.x(fret)
        assert layout.outside.weight(x) == 0.0
        assert layout.outside.keel(x) + layout.fretboard.thickness == pytest.approx(thickness, abs=1e-12)


@pytest.mark.parametrize("name", PRESETS)
def test_the_back_hardly_thins_before_it_swells_toward_the_head(name):
    """The thickness line runs on under the nut and falls by some 0.01 a mm; nothing else makes the back thinner."""
    layout = laid_out(name)
    outside = layout.outside
    x = np.linspace(0.0, layout.head.x_swell, 400)[1:]
    depth = np.array([outside.keel(v) for v in x])
    assert depth.min() >= outside.back.depth(0.0) - outside.back.depth_slope * -outside.x_head_stock - 0.01
    falls = np.diff(depth)
    assert falls.min() >= -outside.back.depth_slope * abs(x[1] - x[0]) - 1e-9


def test_an_inclined_head_swells_from_where_its_box_is_as_deep_as_the_shaft():
    outside = laid_out("garganey").outside
    assert outside.x_blend < 0
    assert outside.box_bottom(outside.x_blend)[1] == pytest.approx(outside.back.depth(outside.x_blend), abs=1e-9)
    fall = math.tan(math.radians(10.0))
    first, last = outside.box_bottom(-1e-9), outside.box_bottom(outside.head.x_swell)
    for upright_or_bottom in (0, 1):
        steeper = (last[upright_or_bottom] - first[upright_or_bottom]) / -outside.head.x_swell
        assert steeper == pytest.approx(fall, abs=1e-9)  # parallel to the head's back
    assert laid_out("redpoll").outside.x_blend == 0.0


@pytest.mark.parametrize("name", PRESETS)
def test_outline_in_plan(name):
    layout = laid_out(name)
    outside, head, heel, board = layout.outside, layout.head, layout.heel, layout.fretboard
    assert outside.half_width(0.0) == board.half_width(0.0)
    assert outside.half_width(head.x_line) == pytest.approx(board.half_width(head.x_line))
    assert outside.half_width(head.x_far) == pytest.approx(head.far / 2)
    assert head.side(head.x_line) == pytest.approx(head.near / 2)
    end = board.half_width(heel.x_end) if heel.half_width is None else heel.half_width
    assert outside.half_width(heel.x_end) == pytest.approx(end)
    assert layout.blank_half_width == pytest.approx(max(end, head.far / 2) + 2.5)


def test_a_head_narrower_than_the_neck_tapers_straight():
    outside = lay_out(plain("head.outline={near = 38.0, far = 36.0}")).outside
    assert outside.head_tapers
    line, cove = outside.head.x_line, outside.x_cove
    middle = outside.half_width((line + cove) / 2)
    assert middle == pytest.approx((outside.half_width(line) + outside.half_width(cove)) / 2, abs=1e-9)
    assert cove == line - 20.0


def test_a_through_heel_of_no_stated_width_has_parallel_sides():
    layout = laid_out("garganey", 'heel.width="follow-fretboard"')
    end = layout.fretboard.half_width(layout.fretboard.x_end)
    assert layout.outside.half_width(layout.heel.x_joint) == pytest.approx(end)
    assert layout.outside.half_width(1000.0) == pytest.approx(end)


def test_head_face_along_its_slope():
    head = laid_out("garganey").head
    x, z = head.on_face(-100.0)
    assert math.hypot(x - head.x_line, z) == pytest.approx(100.0)
    assert z == pytest.approx(head.face(x))
    assert math.degrees(math.atan2(-z, head.x_line - x)) == pytest.approx(10.0)
    assert (head.face(x) - head.back(x)) * math.cos(math.radians(10.0)) == pytest.approx(14.0)
    tuner = laid_out("garganey").tuners[0]
    run = np.array([math.cos(math.radians(10.0)), 0.0, math.sin(math.radians(10.0))])
    assert np.dot(tuner.axis, run) == pytest.approx(0.0, abs=1e-12)
    assert np.linalg.norm(tuner.axis) == pytest.approx(1.0)


def test_side_profile_of_the_redpoll():
    """Stepped: sawn to size at head and heel, 2.0 under the back between 45 degree ramps."""
    layout = laid_out("redpoll")
    profile = np.array(layout.blank_profile)
    assert (-6.0, 0.0) in layout.blank_profile
    assert (-6.0, -10.0) in layout.blank_profile
    assert spans_at(profile, -100.0) == pytest.approx((-24.0, -10.0))
    assert spans_at(profile, 470.0) == pytest.approx((-19.0, 0.0))
    assert spans_at(profile, 200.0)[0] == pytest.approx(-layout.back.depth(200.0) - 2.0)
    turns = [b - a for a, b in zip(profile, np.roll(profile, -1, axis=0), strict=True)]
    ramps = [abs(dz / dx) for dx, dz in turns if abs(dx) > 1e-9 and abs(dz / dx) > 0.05]
    assert ramps == pytest.approx([1.0, 1.0])
    assert profile[:, 0].max() - profile[:, 0].min() == pytest.approx(468.41 + 10 + 176 + 10)


@pytest.mark.parametrize("angle", [3.0, 10.0, 17.0])
def test_long_ends_beyond_an_inclined_head_keep_their_wood(angle):
    changes = (f"head.angle={angle}", "head.thickness=16", "head.swell_length=50", "board.allowance.ends=200")
    layout = laid_out("garganey", *changes)
    profile = np.array(layout.blank_profile)
    assert not crosses_itself(profile)
    low, high = spans_at(profile, layout.head.x_far - 199.0)
    assert high - low >= 7.9 * math.cos(math.radians(angle))  # half the head, square to its face


@pytest.mark.parametrize("back", [0.2, 2.0, 6.0])
def test_stock_under_an_inclined_head_leaves_wood_to_carve(back):
    """The head's back would come out of the shaft's own back before the nut: the saw leaves it in time."""
    layout = laid_out("garganey", f"board.allowance.back={back}")
    outside, profile = layout.outside, np.array(layout.blank_profile)
    assert outside.flat_depth(-1e-9) < outside.back.depth(0.0)
    for x in np.linspace(outside.x_head_stock + 1e-6, 0.0, 200):
        assert -spans_at(profile, x)[0] - outside.keel(x) >= 0.2 - 1e-9


@settings(max_examples=200)
@given(st.floats(3, 17), st.floats(8, 22), st.floats(12, 90), st.floats(13, 30))
def test_what_the_refusal_of_a_head_asks_for_is_enough(angle, thickness, swell, depth):
    def design(thick: float):
        changes = [f"neck.thickness={{fret_1 = {depth}, fret_12 = {depth + 1}}}", f"heel.depth={depth}"]
        head = ['head.kind="angled"', f"head.angle={angle}", f"head.thickness={thick}", f"head.swell_length={swell}"]
        return plain(*changes, *head)

    try:
        lay_out(design(thickness))
    except DesignError as error:
        (problem,) = error.problems
        assert problem.key == "head.thickness"
        least = float(re.search(r"at least ([\d.]+) mm", problem.allowed)[1])
        assert least > thickness
        if least <= 30:  # the reader takes no more
            lay_out(design(least))
            with pytest.raises(DesignError, match=r"head\.thickness"):
                lay_out(design(least - 0.02))


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        (["heel.width=40"], "heel.width"),
        (["heel.corner_radius=30", "heel.wood_ends_at=500"], "heel.corner_radius"),
        (["heel.wood_ends_at=390"], "heel.wood_ends_at"),
        (["heel.depth=17.5"], "heel.depth"),
        (["head.swell_length=7"], "head.swell_length"),
        (["head.length=40", "head.swell_length=60"], "head.swell_length"),
        (["head.drop=1", "head.thickness=14"], "head.thickness"),
        (["neck.back={family = 'C', lean = 10.0}", "strings.spacing_at_nut=20"], "neck.back.fret_1.lean"),
        (["neck.joint_fret=8", "heel.depth=120", "strings.scale=350", "heel.wood_ends_at=200"], "heel.depth"),
    ],
)
def test_refusals_name_their_key(changes, key):
    with pytest.raises(DesignError) as caught:
        lay_out(plain(*changes))
    assert [problem.key for problem in caught.value.problems] == [key]


def test_strings_beyond_the_edges_of_a_stated_width():
    both = "edge_margin = {nut = 3.5, last_fret = 3.5}\nwidth = {nut = 43.0, end = 46.0}"
    with pytest.raises(DesignError, match=r"fretboard\.width\.end = 46\.0: the outer strings run beyond"):
        lay_out(read_text(PLAIN.replace("edge_margin = 3.5", both)))


def test_a_swell_that_reaches_fret_12_is_remarked():
    layout = lay_out(plain("neck.joint_fret=13", "heel.swell_from=40"))
    (remark,) = layout.remarks
    x = layout.heel.x_swell
    assert f"{x:.2f} mm" in remark
    assert f"{layout.back.thickness(x):.2f} mm" in remark
    assert lay_out(plain()).remarks == ()


def test_twice_every_length_twice_every_place_and_wall():
    """No number of the shaft or the channel hides a length of its own; only the head's cove keeps its size."""

    def at(size: float):
        lengths = {
            "strings.scale": 400.0,
            "strings.spacing_at_nut": 24.0,
            "strings.spacing_at_bridge": 30.0,
            "fretboard.past_last_fret": 6.0,
            "fretboard.edge_margin": 2.5,
            "fretboard.thickness": 4.0,
            "fretboard.radius": 200.0,
            "fretboard.fret_slot.depth": 1.2,
            "neck.thickness.fret_1": 14.0,
            "neck.thickness.fret_12": 15.5,
            "heel.wood_ends_at": 300.0,
            "heel.depth": 14.0,
            "heel.swell_from": 20.0,
            "heel.corner_radius": 4.0,
            "nut.height": 7.0,
            "head.starts_at": -6.0,
            "head.drop": 7.0,
            "head.thickness": 8.0,
            "head.length": 90.0,
            "head.swell_length": 25.0,
            "rod.length": 260.0,
            "rod.width": 4.0,
            "rod.height": 6.0,
            "rod.block.length": 8.0,
            "rod.block.width": 5.5,
            "rod.block.height": 6.5,
            "rod.anchor.width": 4.0,
            "rod.anchor.height": 6.0,
            "rod.adjuster.diameter": 6.0,
            "rod.adjuster.length": 9.0,
            "rod.adjuster.axis_below_top": 3.4,
            "rod_place.from_nut": 5.0,
            "rod_place.past_joint": 9.0,
            "rod_place.wood_beyond_rod": 4.0,
            "channel.wider_by": 0.1,
            "channel.deeper_by": 0.15,
            "channel.adjuster_clearance": 0.8,
            "channel.end_clearance": 0.9,
            "limits.place_adjuster": 3.0,
        }
        shape = f'neck.back={{fret_1 = {{family = "C", lean = {size!r}}}, fret_12 = "D"}}'
        return lay_out(plain(shape, *(f"{key}={value * size!r}" for key, value in lengths.items())))

    one, two = at(1.0), at(2.0)
    for name in ("run", "block", "adjuster"):
        a, b = one.step(name), two.step(name)
        assert (b.x_start, b.x_end, b.width, b.depth) == pytest.approx(
            [2 * v for v in (a.x_start, a.x_end, a.width, a.depth)]
        )
    assert [w.wall for w in two.walls] == pytest.approx([2 * w.wall for w in one.walls], abs=1e-6)
    assert [f.x for f in two.frets.frets] == pytest.approx([2 * f.x for f in one.frets.frets])
    rods = [(r.x_min, r.x_max, r.x_span, r.x_cover, r.fitting_to) for r in (one.rod, two.rod)]
    assert rods[1] == pytest.approx([2 * v for v in rods[0]])
    assert two.fretboard.slots[-1].wood_below == pytest.approx(2 * one.fretboard.slots[-1].wood_below)
    for x in (30.0, 150.0, 240.0, 249.0):
        assert two.outside.half_width(2 * x) == pytest.approx(2 * one.outside.half_width(x))
    assert two.outside.x_heel_run_out / 2 == pytest.approx(one.outside.x_heel_run_out, abs=1.0)


def test_a_deeper_channel_never_leaves_a_thicker_wall():
    walls = []
    for deeper in np.linspace(0.0, 3.0, 31):
        found = {w.step: w.wall for w in laid_out("redpoll", f"channel.deeper_by={deeper}").walls}
        walls.append([found[name] for name in ("run", "adjuster", "access-slot")])
    assert np.all(np.diff(walls, axis=0) < 0)
