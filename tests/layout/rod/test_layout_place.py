"""Where the rod may lie and which rods would fit: printed values, the presets and the designs that fail on purpose."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_samples import L_KEY, laid_out, plain, preset

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.key.reach import key_reach
from neckmodel.layout.rod.rod import bounds_in_wood


def place(length: float, *overrides: str):
    return lay_out(plain(f"rod.length={length}", *overrides, more=L_KEY)).rod


def test_reach_of_a_4_mm_key():
    """The standard's arms less their tolerances: long 74 - 4, short 29 - 2 (JIS B 4648, understood as ISO 2936)."""
    assert key_reach(plain(more=L_KEY)) == pytest.approx(55.470, abs=1e-9)
    assert key_reach(plain('adjusting_key.arm_in_socket="short"', more=L_KEY)) == pytest.approx(12.470, abs=1e-9)
    assert key_reach(preset("redpoll")) == float("inf")  # a straight key


@pytest.mark.parametrize(("length", "low", "high"), [(360.0, 41.016, 55.470), (420.0, 4.0, 41.406)])
def test_interval_of_places(length, low, high):
    rod = place(length)
    assert (rod.x_min, rod.x_max) == pytest.approx((low, high), abs=5e-4)


def test_no_place_for_a_long_rod():
    rod = place(470.0)
    assert rod.x_min - rod.x_max == pytest.approx(12.594, abs=5e-4)
    assert rod.x_adjuster == rod.x_min == 4.0  # "auto": the least gap, so that what is missing can be shown


def test_rods_that_would_fit():
    rod = place(420.0)
    assert (rod.fitting_from, rod.fitting_to) == pytest.approx((345.546, 457.406), abs=5e-4)


@given(st.floats(0.01, 5.0))
def test_the_rods_that_would_fit_do_and_others_do_not(beyond):
    ends = place(420.0)
    for length, fits in (
        (ends.fitting_from, True),
        (ends.fitting_to, True),
        (ends.fitting_from - beyond, False),
        (ends.fitting_to + beyond, False),
    ):
        rod = place(length)
        assert (rod.x_min <= rod.x_max + 1e-6) is fits


def test_the_stricter_rule_counts_the_anchors_inner_face():
    outer, inner = (
        place(360.0, "rod.anchor={length = 12.0}", f'rod_place.past_joint_of="{face}"') for face in ("outer", "inner")
    )
    assert inner.x_min == pytest.approx(outer.x_min + 12.0)
    assert inner.fitting_from == pytest.approx(outer.fitting_from + 12.0)


def test_auto_takes_the_middle_before_fret_1():
    rod = place(420.0)
    fret_1 = 640.0 * (1 - 2 ** (-1 / 12))
    assert rod.x_span == pytest.approx(fret_1 - 10.0 - 12.0, abs=1e-9)
    middle = (4.0 + min(41.406, fret_1 - 22.0)) / 2
    assert middle - 0.5 < rod.x_adjuster <= middle
    assert (2 * rod.x_adjuster).is_integer()


INTERVALS = (("dunnock", 4.0, 40.24), ("redpoll", 4.0, 41.41), ("garganey", 4.0, 46.0))


@pytest.mark.parametrize(("name", "low", "high"), INTERVALS)
def test_intervals_of_the_presets(name, low, high):
    rod = laid_out(name).rod
    assert (rod.x_min, rod.x_max) == pytest.approx((low, high), abs=5e-3)


def test_a_cut_out_of_the_body_bounds_the_rod():
    tightest = min(laid_out("garganey").rod.upper, key=lambda bound: bound.x)
    assert tightest.reason == "a body cut-out"
    uncut = laid_out("garganey", "body.cutouts=[]").rod
    assert bounds_in_wood(uncut)[1].x == pytest.approx(1010.0 - 6.0 - 1.0 - 600.0)  # the wood's end
    assert uncut.x_max == pytest.approx(852.0 * 0.75 + 8.0 - 1.0 - 600.0)  # the fretboard's
    assert tightest.x == pytest.approx(653.0 - 6.0 - 1.0 - 600.0)


def test_a_rod_in_wood_may_still_come_out_from_under_the_fretboard():
    rod = laid_out("dunnock", "rod.length=565", "heel.wood_ends_at=576.00").rod
    assert rod.x_cover == pytest.approx(776.0 * (1 - 2 ** (-22 / 12)) + 9.0 - 1.0 - 565.0)
    assert bounds_in_wood(rod)[1].x == pytest.approx(576.0 - 6.0 - 1.0 - 565.0)  # what place/adjuster holds it to
    assert rod.x_max == rod.x_cover < bounds_in_wood(rod)[1].x


def test_dunnock_with_a_rod_of_565_left_to_auto():
    rod = laid_out("dunnock", "rod.length=565", 'rod_place.from_nut="auto"').rod
    assert rod.x_min - rod.x_max == pytest.approx(8.76, abs=1e-6)
    assert rod.fitting_to == pytest.approx(556.24, abs=1e-6)


@pytest.mark.parametrize("change", ["rod.length=556.24", "heel.wood_ends_at=576.00"])
def test_what_gives_that_rod_a_place(change):
    first = [] if change.startswith("rod") else ["rod.length=565"]
    rod = laid_out("dunnock", *first, change, 'rod_place.from_nut="auto"').rod
    low, high = bounds_in_wood(rod)
    assert low.x <= rod.x_adjuster <= high.x + 1e-6


def test_dunnock_with_a_rod_of_565_at_a_stated_6():
    rod = laid_out("dunnock", "rod.length=565").rod
    assert rod.x_adjuster == 6.0
    assert rod.x_adjuster - rod.x_max == pytest.approx(10.76, abs=1e-6)
    for change in (["rod.length=554.24"], ["rod.length=565", "heel.wood_ends_at=578.00"]):
        moved = laid_out("dunnock", *change).rod
        low, high = bounds_in_wood(moved)
        assert low.x <= moved.x_adjuster <= high.x + 1e-6


def test_bounds_name_the_key_that_moves_them():
    keys = {bound.key for bound in (*place(360.0).lower, *place(360.0).upper)}
    assert keys == {
        "rod_place.from_nut",
        "rod_place.past_joint",
        "heel.wood_ends_at",
        "adjusting_key.long_arm",
        "fretboard.past_last_fret",
    }
    short = place(360.0, 'adjusting_key.arm_in_socket="short"')
    assert min(short.upper, key=lambda bound: bound.x).key == "adjusting_key.short_arm"


def test_bars_have_bounds_of_their_own():
    """A single bar instead of a rod: 352 mm scale, joint at fret 12, wood to 198, 180 long, 8 past the joint."""
    design = plain(
        "strings.scale=352",
        "strings.spacing_at_nut=22",
        "strings.spacing_at_bridge=40",
        "neck.joint_fret=12",
        "fretboard.frets=20",
        "fretboard.past_last_fret=6",
        "heel.wood_ends_at=198",
        "rod_place.past_joint=8",
        more="\n[bars]\ncount = 1\nwidth = 6.0\nheight = 9.0\nlength = 180.0\nfrom_nut = 6.0\noffset = 7.0\n",
    )
    (bar,) = lay_out(design).bars
    assert (max(b.x for b in bar.lower), min(b.x for b in bar.upper)) == pytest.approx((4.0, 11.0))
    assert (bar.x_start, bar.x_end, bar.y) == (6.0, 186.0, 7.0)


def test_two_bars_that_run_into_each_other():
    with pytest.raises(DesignError, match=r"bars\.offset.*at least 2\.05 mm"):
        laid_out("garganey", "bars.offset=2.03")
