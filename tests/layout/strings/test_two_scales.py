"""Two scale lengths against plane geometry, equal temperament and worked values."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scale_samples import fretted, laid_out, plain, two

from neckmodel.design.values.scale import fret_share, spans
from neckmodel.errors import DesignError
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.rod.bars import BAR_FIT
from neckmodel.layout.strings.frets import fret_at, fret_distance
from neckmodel.layout.strings.strings import crossing, fret_error

# A scale of 25.5 in = 647.7 mm exactly (25.4 mm to the inch by definition, 1959): frets by equal temperament, the ratio
# of the semitone being the twelfth root of two, 1.059463094359; worked by hand to 0.001 mm
TABLE_647_7 = {
    1: 36.353,
    2: 70.665,
    3: 103.051,
    4: 133.620,
    5: 162.473,
    7: 215.412,
    9: 262.575,
    12: 323.850,
    24: 485.775,
}

EXAMPLE = spans(686.0, 648.0, 8, 44.0, 62.0)


@pytest.mark.parametrize(("number", "x"), TABLE_647_7.items())
def test_one_scale_length_by_the_table(number: int, x: float) -> None:
    layout = laid_out('strings.scale="25.5 in"', "fretboard.frets=24")
    assert layout.frets.frets[number - 1].x == pytest.approx(x, abs=6e-4)


def test_one_scale_length_twice_is_one_scale_length() -> None:
    one, same = laid_out("strings.scale=640"), laid_out("strings.scale={bass = 640, treble = 640, square_fret = 0}")
    assert one.frets == same.frets
    assert {fret.slope for fret in one.frets.frets} == {0.0}


def test_the_worked_example_off_by_0_182_mm() -> None:
    """Shares of the spacing 0.32 at the nut and 0.30 at the bridge: fret 12 is off by 0.182 mm, 0.93 cent."""
    error = fret_error(EXAMPLE, -22 + 0.32 * 44, -31 + 0.30 * 62, 12)
    assert (abs(error.mm), abs(error.cents)) == pytest.approx((0.182, 0.93), abs=6e-4 + 5e-3)
    assert abs(error.mm) == pytest.approx(0.182, abs=5e-4)


def test_the_example_drawn_and_measured() -> None:
    """The same by drawing: two lines crossed by a third, lengths by Pythagoras, pitch by Mersenne's law."""
    c_bass, c_treble = math.sqrt(686.0**2 - 9.0**2), math.sqrt(648.0**2 - 9.0**2)
    shift = fret_share(8) * (c_treble - c_bass) / 2
    nut, bridge = (
        np.array([[shift, -22.0], [-shift, 22.0]]),
        np.array([[shift + c_bass, -31.0], [-shift + c_treble, 31.0]]),
    )
    start = nut[0] + 0.32 * (nut[1] - nut[0])
    end = bridge[0] + 0.30 * (bridge[1] - bridge[0])
    line = nut + 0.5 * (bridge - nut)  # fret 12 halves both outer strings
    part, _ = np.linalg.solve(np.array([end - start, line[0] - line[1]]).T, line[0] - start)
    length = math.dist(start, end)
    found = fret_error(EXAMPLE, float(start[1]), float(end[1]), 12)
    assert found.mm == pytest.approx((part - 0.5) * length, abs=1e-9)
    assert found.cents == pytest.approx(1200 * math.log2(1 / (1 - part)) - 1200, abs=1e-9)


@given(st.floats(300, 900), st.floats(0, 0.1), st.integers(0, 12), st.floats(20, 80), st.floats(0, 30))
def test_each_outer_string_is_its_own_scale(bass: float, less: float, square: int, at_nut: float, wider: float) -> None:
    """Along each outer string, every fret leaves `2**(-n/12)` of that string's own scale length."""
    treble = bass * (1 - less)
    made = spans(bass, treble, square, at_nut, at_nut + wider)
    ends = {}
    for number in (0, 1, 7, 12, 19, 24):
        fret, half = fret_at(made, number), (at_nut + wider * fret_share(number)) / 2
        ends[number] = ((fret.x_bass, -half), (fret.x_treble, half))
    saddle = made.slope(1.0)
    half = (at_nut + wider) / 2
    for side, (scale, y) in enumerate(((bass, -half), (treble, half))):
        bridge = (made.centre + saddle * y, y)
        whole = math.dist(ends[0][side], bridge)
        if treble != bass:
            assert whole == pytest.approx(scale, rel=1e-9)
        for number, places in ends.items():
            assert math.dist(places[side], bridge) == pytest.approx(whole * 2 ** (-number / 12), rel=1e-9)


@given(st.floats(300, 900), st.floats(0.01, 0.1), st.integers(0, 12))
def test_the_square_fret_is_square_and_the_datum_stays(bass: float, less: float, square: int) -> None:
    made = spans(bass, bass * (1 - less), square, 44.0, 60.0)
    fret = fret_at(made, square)
    assert fret.x_bass == pytest.approx(fret.x_treble, abs=1e-9)
    nut = fret_at(made, 0)
    assert (nut.x, nut.x_bass) == pytest.approx((0.0, -nut.x_treble), abs=1e-9)
    assert nut.x_bass == pytest.approx(fret_share(square) * (made.treble - made.bass) / 2, abs=1e-9)
    assert nut.slope >= 0  # the longer bass string starts on the head side


@given(st.floats(0, 1), st.integers(1, 24))
def test_a_string_that_divides_both_ends_alike_has_true_frets(share: float, number: int) -> None:
    at_nut, at_bridge = -22 + share * 44, -31 + share * 62
    assert crossing(EXAMPLE, at_nut, at_bridge, number) == pytest.approx(fret_share(number), abs=1e-12)


def test_strings_of_even_centres_are_true_and_even_gaps_report_their_worst() -> None:
    each = "strings.each=[" + ", ".join(f"{{diameter = {d}}}" for d in (1.4, 1.1, 0.8, 0.5, 0.35, 0.25)) + "]"
    even = laid_out(*two(686, 648, 8), each, "strings.divided_by=centres")
    assert max(abs(s.worst.cents) for s in even.frets.strings) < 1e-9
    gaps = laid_out(*two(686, 648, 8), each)
    worst = gaps.frets.worst
    by_hand = [fret_error(gaps.frets.spans, s.y_nut, s.y_bridge, n) for s in gaps.frets.strings for n in range(1, 23)]
    assert abs(worst.worst.cents) == pytest.approx(max(abs(e.cents) for e in by_hand), abs=1e-12)
    assert gaps.frets.strings[0].worst.mm == pytest.approx(0.0, abs=1e-9)
    assert 0.05 < abs(worst.worst.cents) < 3


def test_a_gap_to_a_slanted_nut_holds_over_the_whole_channel() -> None:
    """680/648, square fret 9, S 48/63, a channel 6.1 wide: 4 + 0.2703 x 3.05 = 4.82; the joint likewise."""
    changes = (f"bars.width={6.1 - BAR_FIT}", "bars.from_nut=6", "strings.courses=7", "neck.joint_fret=19")
    layout = laid_out(*two(680, 648, 9, 48, 63), *changes, "fretboard.frets=24", "bars.length=480", "bars.height=9")
    nut, joint = layout.bars[0].lower
    assert nut.x == pytest.approx(4.824, abs=5e-4)
    slope = abs(layout.frets.slope(19))
    assert joint.x == pytest.approx(float(fret_distance(layout.frets.scale, 19)) + 15 - 480 + slope * 3.05, abs=1e-9)


def _edges(layout: Layout) -> np.ndarray:
    """(n, 2) x of every line across the fretboard at its bass and treble edge, in order from the nut."""
    board = layout.fretboard
    lines = [board.start, *(line for slot in board.slots for line in board.slot_lines(slot)), board.end]
    return np.array([[point[0] for point in line] for line in lines])


@settings(max_examples=150, deadline=None)
@given(fretted())
def test_no_lines_cross_and_the_strings_lie_on_the_fretboard(overrides: tuple[str, ...]) -> None:
    try:
        layout = lay_out(plain(*overrides))
    except DesignError:
        assume(False)
    assert (np.diff(_edges(layout), axis=0) > 0).all()
    board, strings = layout.fretboard, layout.frets.strings
    assert len(strings) == layout.design.strings.count
    for string in strings:
        for x in (string.x_nut, string.x_12, layout.frets.frets[-1].x, board.x_end):
            assert abs(string.y(x)) < board.half_width(x) - 0.5
    for x in np.linspace(0, board.x_end, 5):
        assert (np.diff([string.y(x) for string in strings]) > 0).all()
    for line in (board.start, board.end):  # both ends stop at the edges
        assert [abs(y) for _, y in line] == pytest.approx([board.half_width(x) for x, _ in line], abs=1e-9)


def test_most_of_these_necks_can_be_laid_out() -> None:
    """The property test above would prove little if it threw most of its necks away."""
    made = []

    @settings(max_examples=100, deadline=None, database=None)
    @given(fretted())
    def draw(overrides: tuple[str, ...]) -> None:
        try:
            lay_out(plain(*overrides))
            made.append(True)
        except DesignError:
            made.append(False)

    draw()
    assert sum(made) > 0.6 * len(made)


@pytest.mark.parametrize("factor", [0.5, 0.75, 1.25])
def test_every_length_times_a_factor_gives_every_place_times_it(factor: float) -> None:
    one = spans(680.0, 648.0, 9, 48.0, 63.0)
    scaled = spans(680.0 * factor, 648.0 * factor, 9, 48.0 * factor, 63.0 * factor)
    for number in range(25):
        a, b = fret_at(one, number), fret_at(scaled, number)
        assert (b.x, b.x_bass, b.x_treble) == pytest.approx((factor * a.x, factor * a.x_bass, factor * a.x_treble))
        assert b.slope == pytest.approx(a.slope, abs=1e-12)
