"""The channel's steps, how they are cut, and how the key comes to the adjuster: printed values and closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import L_KEY, laid_out, plain
from scipy import integrate

from neckmodel.layout import lay_out
from neckmodel.layout.channel.corners import shoulder_area
from neckmodel.layout.channel.cutters import line_count, pass_count
from neckmodel.layout.channel.run import run_long
from neckmodel.layout.key.driver import head_relief, largest_driver_angle
from neckmodel.layout.key.hexagon import CORNERS, across_corners, largest_turn, swing_half_width


@pytest.mark.parametrize(
    ("block", "width", "radius", "play", "run"),
    [
        (5.5, 5.5, 2.75, 0.0, 2.750),
        (5.5, 5.6, 2.75, 0.0, 2.228),
        (5.5, 6.0, 3.0, 0.0, 1.801),
        (5.5, 6.0, 3.0, 0.1, 2.079),
        (5.5, 6.35, 2.0, 0.0, 0.767),
    ],
)
def test_running_a_channel_long(block, width, radius, play, run):
    assert run_long(block, width, radius, play) == pytest.approx(run, abs=5e-4)


def test_a_block_too_wide_for_a_round_end():
    assert run_long(5.6, 5.5, 2.75) == math.inf


@given(st.floats(3, 20), st.floats(0, 1), st.floats(0.3, 1))
def test_a_block_clears_the_end_that_was_run_long(block, wider, part):
    """The block's corner touches the arc of the cutter in the channel's corner, and no more."""
    width = block + wider
    radius = part * width / 2
    run = run_long(block, width, radius)
    aside = block / 2 - (width / 2 - radius)  # of the corner from the arc's centre
    if aside > 0:
        assert math.hypot(aside, radius - run) == pytest.approx(radius, rel=1e-9)
    else:
        assert run == 0.0


def test_lines():
    assert [line_count(w, d) for w, d in ((6.0, 6.0), (6.0, 5.5), (14.0, 6.0), (6.1, 6.0))] == [1, 2, 3, 2]


@given(st.floats(3, 30), st.floats(3, 12))
def test_lines_leave_no_ridge_and_no_line_too_many(width, cutter):
    if width < cutter:
        return
    lines = line_count(width, cutter)
    apart = (width - cutter) / max(lines - 1, 1)
    assert apart <= 0.9 * cutter + 1e-6
    if lines > 2:
        assert (width - cutter) / (lines - 2) > 0.9 * cutter - 1e-6


def test_passes():
    assert [pass_count(depth, step) for depth, step in ((11.05, 2.75), (9.9, 3.3), (0.5, 3.0))] == [5, 3, 1]
    assert 11.05 / pass_count(11.05, 2.75) == pytest.approx(2.210)


def test_corners_left_by_a_round_cutter():
    assert shoulder_area(3.0, 0.0) == pytest.approx(3.863, abs=5e-4)
    assert shoulder_area(3.5, 5.5) == pytest.approx(3.034, abs=5e-4)
    assert shoulder_area(3.0, 6.0) == pytest.approx(0.0, abs=1e-12)


@given(st.floats(1, 6), st.floats(0, 1), st.floats(1, 3))
def test_shoulders_by_numerical_integration(radius, part, wider):
    """What lies outside the cutter's arc, beyond the entering run, integrated by scipy."""
    pocket = 2 * radius * wider
    run = part * pocket
    centre = pocket / 2 - radius

    def left(y: float) -> float:
        return radius - math.sqrt(max(radius**2 - max(y - centre, 0.0) ** 2, 0.0))

    area = 2 * integrate.quad(left, run / 2, pocket / 2, points=sorted({max(run / 2, centre)}))[0]
    assert shoulder_area(radius, run, pocket) == pytest.approx(area, abs=1e-6 * radius**2)


# Widest across corners (e max), mm: JIS B 4648:2008, understood to follow ISO 2936
ISO_2936 = ((1.5, 1.68), (2, 2.25), (2.5, 2.82), (3, 3.39), (4, 4.53), (5, 5.67), (6, 6.81), (8, 9.09))
# The same in inches: ASME B18.3-2012
ASME_B18_3 = ((1 / 16, 0.0701), (3 / 32, 0.1058), (1 / 8, 0.1418), (5 / 32, 0.1774), (3 / 16, 0.2135), (1 / 4, 0.2845))


@pytest.mark.parametrize(
    ("size", "corners"), [*ISO_2936, *((s * 25.4, e * 25.4) for s, e in ASME_B18_3)], ids=lambda v: f"{v:.3f}"
)
def test_hexagon_keys(size, corners):
    assert across_corners(size) == pytest.approx(corners, abs=1e-9)


@pytest.mark.parametrize("size", sorted(CORNERS))
def test_standard_keys_have_rounded_corners(size):
    """Published corners lie a little under the sharp hexagon's, and well over its flats."""
    assert 1.1 * size < across_corners(size) < 2 * size / math.sqrt(3)


def test_an_odd_key_is_taken_as_sharp():
    assert across_corners(4.4) == pytest.approx(4.4 * 2 / math.sqrt(3))


@pytest.mark.parametrize(("height", "half"), [(6.0, 6.079), (8.0, 7.234), (12.0, 9.544)])
def test_room_for_a_turning_arm(height, half):
    assert swing_half_width(height, 60.0, 4.53) == pytest.approx(half, abs=5e-4)


def test_turn_between_two_strings():
    assert largest_turn(12.5, 3.35, 4.53) == pytest.approx(4.92, abs=5e-3)


@given(st.floats(1, 40), st.floats(1, 40), st.floats(1, 10))
def test_the_largest_turn_just_fits(rise, room, corners):
    turn = largest_turn(rise, room, corners)
    if turn > 0:
        assert swing_half_width(rise, 2 * turn, corners) == pytest.approx(room, rel=1e-6)
    else:
        assert corners / 2 >= room - 1e-9


def test_straight_driver_under_the_nut():
    assert largest_driver_angle(5.5, 8.0, 5.0, 0.0, 4.53, 0.5) == pytest.approx(11.679, abs=5e-4)
    assert largest_driver_angle(2.0, 8.0, 5.0, 0.0, 4.53, 0.5) < 0  # hardly below the glue plane: not even level


@pytest.mark.parametrize(("angle", "relief"), [(0.0, 35.800), (5.0, 22.141), (10.0, 14.321)])
def test_relief_of_an_angled_head(angle, relief):
    assert head_relief(5.5, 8.0, -6.0, angle, 13.0, 4.53, 0.5) == pytest.approx(relief, abs=5e-4)


@pytest.mark.parametrize(("name", "lower_side"), [("dunnock", 7.265), ("redpoll", 7.065)])
def test_straight_key_of_the_presets(name, lower_side):
    layout = laid_out(name)
    slot = layout.step("access-slot")
    assert (slot.depth_start, slot.depth_end) == pytest.approx((lower_side, lower_side), abs=5e-4)
    assert slot.width == pytest.approx(5.53)
    assert slot.x_start == layout.head.x_line  # out through the step's wall
    assert slot.end_start == "open"
    assert layout.head.drop > lower_side


def test_straight_key_on_an_angled_head_leaves_through_its_face():
    layout = laid_out("garganey")
    slot = layout.step("access-slot")
    assert layout.head.face(slot.x_start) == pytest.approx(-slot.depth, abs=1e-9)


def test_channel_of_the_redpoll():
    layout = laid_out("redpoll")
    run, adjuster = layout.step("run"), layout.step("adjuster")
    assert (run.x_start, run.x_end) == pytest.approx((17.0, 428.0))  # the anchor at 427 and its clearance
    assert (run.width, run.depth) == pytest.approx((6.1, 9.3))
    assert (adjuster.x_start, adjuster.x_end) == pytest.approx((6.0, 17.0))


def test_wider_blocks_get_pockets_of_their_own():
    more = ["rod.block={length = 12.0, width = 8.0, height = 10.0}", "rod.anchor={length = 9.0, width = 7.0}"]
    layout = laid_out("redpoll", *more)
    block, anchor, run = (layout.step(name) for name in ("block", "anchor", "run"))
    assert (block.x_start, block.x_end, block.width, block.depth) == pytest.approx((17.0, 30.0, 8.1, 10.1))
    assert (anchor.x_start, anchor.x_end, anchor.width, anchor.depth) == pytest.approx((417.0, 428.0, 7.1, 9.3))
    assert (run.width, run.depth, run.end_end) == (pytest.approx(6.1), pytest.approx(9.3), "open")


def test_ends_run_long_clear_the_block():
    squared, long = (laid_out("redpoll", f'channel.ends="{ends}"').step("run") for ends in ("squared", "run-long"))
    radius = 3.0  # the 6 mm cutter of the rack, in a run of 6.1
    assert (squared.corner_end, long.corner_end) == (0.0, radius)
    over, aside = long.x_end - 427.0, 3.0 - (6.1 / 2 - radius)
    assert math.hypot(radius - over, aside) == pytest.approx(radius - 0.025, abs=1e-9)  # half of the block's side play


def l_key(*overrides: str):
    return lay_out(plain("rod_place.from_nut=8", *overrides, more=L_KEY))


def test_l_key_on_a_stepped_head_rises_where_the_slot_has_left_the_wood():
    layout = l_key("head.drop=9", "heel.depth=20")
    assert [s.name for s in layout.steps if s.x_start < 0] == ["access-slot"]
    assert layout.step("access-slot").x_start == layout.head.x_line


def test_l_key_in_an_angled_head_gets_a_pocket_to_turn_in():
    layout = l_key('head.kind="angled"', "head.angle=4", "head.swell_length=60", "head.thickness=19")
    slot, swing = layout.step("access-slot"), layout.step("key-swing")
    assert slot.x_start == swing.x_start == pytest.approx(8.0 - 70.0 - 1.0)  # withdrawn: the arm's length and clearance
    near = 8.0 + 4.0 - 70.0 + 4.53  # of the rising arm's nut side: adjuster, engaged depth, arm, width across corners
    assert swing.x_end == pytest.approx(near + 4.0 + 1.0)  # the bend's inner radius and the clearance
    height = layout.rod.axis + layout.head.face(swing.x_end)  # the head's face falls away from the nut
    assert swing.width == pytest.approx(2 * (swing_half_width(height, 75.0, 4.53) + 1.0))
    assert swing.depth == slot.depth == pytest.approx(4.3 + 4.53 / 2 + 1.0)


def test_no_key_no_slot():
    assert {s.name for s in lay_out(plain()).steps} == {"run", "adjuster"}


def test_cutters_of_the_redpoll():
    layout = laid_out("redpoll")
    run, adjuster, slot = (layout.cutting(name) for name in ("run", "adjuster", "access-slot"))
    assert (run.diameter, run.lines, run.passes) == (6.0, 1, 4)  # a rod of 6.00: one line of 6.00 holds it
    assert run.pass_depth == pytest.approx(9.3 / 4)
    assert (slot.diameter, slot.lines) == (4.0, 2)  # 5.53 wide: the 6 mm cutter is too wide
    square = 2 * 9.0 * (1 - math.pi / 4)
    assert run.corners == pytest.approx(2 * square)  # the anchor's end, and below the floor of the adjuster's pocket
    # the access slot is the shallower: below its floor the pocket's end is closed; the run is the deeper
    assert adjuster.corners == pytest.approx(square + shoulder_area(3.0, 6.1, 7.8))


def test_no_cutter_small_enough():
    layout = laid_out("redpoll", "workshop.cutters=[{diameter = 12.0, flute_length = 20.0, stick_out = 40.0}]")
    assert layout.cutting("run").diameter is None
    assert "12.00 mm, is wider" in layout.cutting("run").says
