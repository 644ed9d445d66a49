"""Adjusters at the heel, one-way rods and odd segments laid out: printed values and closed forms."""

from __future__ import annotations

import math

import pytest
from rod_samples import HEX_AT_HEEL, L_KEY, ODD, STRAIGHT, acoustic, brute_wall, plain, seven

from neckmodel.layout import lay_out
from neckmodel.layout.json.layout import layout_json
from neckmodel.layout.neck.section import Opening, section_walls


# --- the adjuster at the heel ----------------------------------------------------------------------------------------
def test_nut_side_end_behind_a_slanted_nut():
    """680 and 648 mm, square at fret 9, 48 at the nut: gap 4 and |sigma(0)| v, v half of 6.1 mm: 4.82."""
    layout = lay_out(seven())
    chords = [math.sqrt(scale**2 - ((63.0 - 48.0) / 2) ** 2) for scale in (680.0, 648.0)]
    slope = (1 - 2 ** (-9 / 12)) * (chords[0] - chords[1]) / 48.0
    assert layout.rod.x_min == pytest.approx(4.0 + slope * 3.05, abs=1e-9) == pytest.approx(4.82, abs=5e-3)


def test_place_of_the_wheel():
    """Over all 496 from x 24.5: the block's face at 509.5, the wheel of 9 mm beyond the wood's end at 510."""
    rod = lay_out(seven()).rod
    assert (rod.x_start, rod.x_adjuster, rod.x_block) == (24.5, 520.5, 509.5)
    assert rod.x_adjuster - rod.wheel == 511.5
    assert rod.proud == pytest.approx(14.0 / 2 - (4.6 + 0.1))
    assert rod.x_wheel == pytest.approx(510.0 + 9.0 - 496.0)
    assert rod.x_max == pytest.approx(510.0 - (496.0 - 11.0))  # the block within the wood
    assert (rod.x_span, rod.x_past_joint) == (pytest.approx(lay_out(seven()).frets.x(1)), 509.5)


def test_least_wall_of_the_heel_side_run():
    """At the rod's own nut-side end, with one scale length as with two: 4.379."""
    for scale in ("664.0", "{bass = 680.0, treble = 648.0, square_fret = 9}"):
        layout = lay_out(seven(scale=scale))
        assert layout.wall_at(layout.step("run"), 24.5) == pytest.approx(4.379, abs=5e-4 if scale[0] == "{" else 2e-3)
    section = lay_out(seven()).back.section(24.5)
    by_hand = brute_wall(section.half_width, section.depth, 2.2, 3.05, 9.3)
    assert section_walls([section], [Opening(-3.05, 3.05, 9.3)])[0] == pytest.approx(by_hand, abs=1e-3)


def test_only_what_lies_in_the_wood_is_cut():
    layout = lay_out(seven())
    assert [step.name for step in layout.steps] == ["run"]
    run = layout.step("run")
    assert (run.x_start, run.x_end, run.end_start, run.end_end) == (23.5, 510.0, "square", "open")
    nearer = lay_out(seven("rod_place.from_nut=22"))
    adjuster = nearer.step("adjuster")
    assert (adjuster.x_start, adjuster.x_end, adjuster.end_end) == (508.0, 510.0, "open")
    assert adjuster.depth == pytest.approx(4.7 + 7.0 + 0.4)


def test_recess_in_the_body():
    layout = lay_out(seven())
    wheel, bar = layout.recesses
    assert (wheel.x_start, wheel.x_end, wheel.width) == pytest.approx((510.0, 521.5, 14.8))
    assert wheel.depth == pytest.approx(4.7 + 7.0 + 0.4)
    assert wheel.below_top == pytest.approx(wheel.depth + layout.design.body.top)
    assert bar.swing == 45.0  # eight holes
    half = (4.7 + layout.design.body.top) * math.tan(math.radians(22.5)) + 1.95 / math.cos(math.radians(22.5)) + 0.5
    assert bar.width == pytest.approx(2 * half)
    assert [r["name"] for r in layout_json(layout)["body_recesses"]] == ["adjuster", "key"]
    assert lay_out(acoustic()).recesses == ()


def test_a_bent_rod_s_adjuster_needs_its_recess_as_deep_as_the_deeper_of_its_ends():
    """Acoustic, turned round, its face 2 beyond the wood: its axis climbs from the block to the adjuster's face, so
    that the recess holds the adjuster at the block: its axis there by the parabola through 6.0, 9.5 and 6.0."""
    end = lay_out(acoustic()).heel.x_end + 2.0
    layout = lay_out(
        acoustic("rod.adjuster_at=heel", "adjusting_key.kind=straight", f"rod_place.from_nut={end - 360.0}")
    )
    recess = layout.recesses[0]
    assert recess.name == "adjuster"
    assert recess.x_end == pytest.approx(end + 1.0)
    u = 12.0 / 360.0  # from the adjuster's face, along the rod
    axis = 6.0 + 4 * 3.5 * u * (1 - u)
    assert axis > 6.4
    assert recess.depth == recess.depth_end == pytest.approx(axis + (8.0 + 0.8) / 2)


def test_rods_that_fit_at_the_heel():
    """From the joint's block to the wood's end, between the nut's gap and fret 1."""
    rod = lay_out(seven()).rod
    at_least = lay_out(seven(f"rod.length={rod.fitting_from + 0.01}", "rod_place.from_nut=auto")).rod
    at_most = lay_out(seven(f"rod.length={rod.fitting_to - 0.01}", "rod_place.from_nut=auto")).rod
    assert at_least.x_min <= at_least.x_span + 0.02
    assert at_most.x_min <= at_most.x_max + 0.02
    beyond = lay_out(seven(f"rod.length={rod.fitting_to + 0.5}", "rod_place.from_nut=auto")).rod
    assert beyond.x_min > beyond.x_max


def test_auto_keeps_the_wheel_out_of_the_fretboard():
    rod = lay_out(seven('rod_place.from_nut="auto"')).rod
    assert rod.x_wheel <= rod.x_start <= rod.x_max
    assert (2 * rod.x_start).is_integer()


def test_a_straight_key_from_the_body():
    layout = lay_out(plain(HEX_AT_HEEL + STRAIGHT))
    slot = layout.step("access-slot")
    assert slot.x_start == pytest.approx(440.0 + 1.0)
    assert slot.x_end == pytest.approx(468.406)
    assert slot.end_end == "open"
    assert slot.depth == pytest.approx(4.3 + 4.53 / 2 + 0.5)
    recess = layout.recesses[-1]
    assert (recess.x_start, recess.x_end) == pytest.approx((468.406, 440.0 + 120.0 + 0.5))
    anchor = layout.step("anchor")
    assert (anchor.x_start, anchor.x_end, anchor.width) == pytest.approx((19.0, 30.0, 8.1))


def test_an_l_key_at_the_heel_rises_behind_the_fretboard():
    """The farthest its adjuster may lie before the fretboard's end: `l - e - k_c - c`."""
    rod = lay_out(plain(HEX_AT_HEEL + L_KEY)).rod
    bound = next(b for b in rod.lower if b.key == "adjusting_key.long_arm")
    x_end = 640.0 * (1 - 2 ** (-22 / 12)) + 8.0
    assert bound.x + 420.0 == pytest.approx(x_end - (74.0 - 4.0 - 4.53 - 0.5))


# --- one-way rods and odd segments -----------------------------------------------------------------------------------


def test_a_one_way_rod_lies_in_a_straight_run():
    flat = HEX_AT_HEEL.replace("two-way", "one-way").replace('"heel"', '"head"').replace("9.2", "7.5")
    layout = lay_out(plain(flat))
    run = layout.step("run")
    assert run.is_level
    assert (run.width, run.depth) == pytest.approx((6.1, 7.6))
    assert layout.rod.kind == "one-way"


def test_odd_segments_each_find_their_place():
    layout = lay_out(plain(ODD))
    assert [(s.name, s.x_start, s.x_end) for s in layout.rod.segments] == [
        ("block", 22.0, 37.0), ("span", 37.0, 367.0), ("segment-3", 367.0, 407.0), ("anchor", 407.0, 432.0)
    ]  # fmt: skip
    run, block, third = (layout.step(name) for name in ("run", "block", "segment-3"))
    assert (run.width, run.depth) == pytest.approx((8.1, 8.5 + 0.1))  # the deepest that lies in it is the anchor
    assert (block.x_start, block.x_end, block.width, block.depth) == pytest.approx((22.0, 38.0, 9.6, 8.1))
    assert (third.x_start, third.x_end, third.width, third.depth) == pytest.approx((366.0, 408.0, 10.1, 7.1))
    assert (run.x_end, run.end_end) == (433.0, "square")


def test_odd_segments_at_the_heel_lie_the_other_way():
    layout = lay_out(plain(ODD.replace('"head"', '"heel"').replace("from_nut = 12", "from_nut = 20")))
    assert [(s.name, s.x_start, s.x_end) for s in layout.rod.segments] == [
        ("anchor", 20.0, 45.0), ("segment-3", 45.0, 85.0), ("span", 85.0, 415.0), ("block", 415.0, 430.0)
    ]  # fmt: skip


def test_a_ball_end_key_s_recess_falls_toward_the_neck():
    """Tilted upward by t on its way out, the trough under it is deeper where it starts: by tan t a mm, from the key's
    floor under its pivot. A key that lies level needs the same depth all along."""
    tilted = lay_out(plain(HEX_AT_HEEL, "adjusting_key.kind=ball-end", "adjusting_key.length=120"))
    key = tilted.key
    assert key is not None
    assert key.tilt > 1.0
    recess = next(each for each in tilted.recesses if each.name == "key")
    rise = math.tan(math.radians(key.tilt))
    assert recess.depth == pytest.approx(key.floor - rise * (recess.x_start - key.x_tip))
    assert recess.depth_end == pytest.approx(key.floor - rise * (recess.x_end - key.x_tip))
    assert recess.depth > recess.depth_end + 1.0
    assert recess.below_top == pytest.approx(recess.depth + tilted.design.body.top)
