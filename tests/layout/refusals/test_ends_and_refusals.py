"""Ends of a slanted fretboard, nut and zero fret, courses; and what is refused, with its words."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scale_samples import laid_out, plain, two

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.layout.strings.strings import string_positions


def test_an_end_follows_the_last_fret_or_is_square_where_it_is_stated() -> None:
    slanted = laid_out(*two(680, 648, 9)).fretboard
    assert slanted.slope_end == slanted.slots[-1].slope != 0
    square = laid_out(*two(680, 648, 9), "fretboard.ends_at=490").fretboard
    assert [x for x, _ in square.end] == [490.0, 490.0]
    assert square.slope_start == slanted.slope_start != 0


def test_a_square_end_must_clear_the_far_corner_of_the_last_fret() -> None:
    """Fret 22's line at the edge: x + |slope| y, half the slot's width and 0.5 mm of wood beyond."""
    board = laid_out(*two(680, 648, 9), "fretboard.ends_at=500").fretboard
    last = board.slots[-1]
    corner = max(x for x, _ in board.line(last.x, last.slope))
    least = corner + 0.3 * math.hypot(1, last.slope) + 0.5
    assert laid_out(*two(680, 648, 9), f"fretboard.ends_at={least + 0.01}").fretboard.x_end == pytest.approx(
        least + 0.01
    )
    with pytest.raises(DesignError, match=r"fretboard.ends_at = .*between fret 22 and the fretboard's end at the edge"):
        laid_out(*two(680, 648, 9), f"fretboard.ends_at={least - 0.02}")


def test_the_wood_ends_where_a_slanted_fretboard_reaches() -> None:
    layout = laid_out(*two(680, 648, 9))
    assert layout.heel.x_end == pytest.approx(layout.fretboard.x_last)
    assert layout.fretboard.x_last > layout.fretboard.x_end


def test_the_nut_stands_against_the_fretboard_and_keeps_its_thickness() -> None:
    layout = laid_out(*two(680, 648, 9), "nut.thickness=5")
    corners = np.array(layout.nut.corners)
    back, front = corners[[0, 3]], corners[[1, 2]]
    assert front == pytest.approx(np.array(layout.fretboard.start), abs=1e-9)
    along = (front[1] - front[0]) / np.linalg.norm(front[1] - front[0])
    step = front[0] - back[0]
    assert abs(step[0] * along[1] - step[1] * along[0]) == pytest.approx(5.0, abs=1e-9)  # square to its faces
    assert layout.head.x_line < corners[:, 0].min()


def test_a_zero_fret_stands_on_the_datum_with_the_nut_behind_it() -> None:
    layout = laid_out("fretboard.zero_fret=true", 'fretboard.radius="flat"', "action.at_12=2.0")
    assert (layout.nut.x_start, layout.nut.x_end) == (-7.0, -2.0)
    assert (layout.fretboard.x_start, layout.fretboard.slots[0].x, layout.fretboard.slots[0].fret) == (-2.0, 0.0, 0)
    assert len(layout.fretboard.slots) == 23
    string = layout.frets.strings[0]
    assert string.z(0.0) == pytest.approx(6.0 + 1.1)  # on the fret's top
    assert layout.action.at_bridge == pytest.approx(4.0)  # 2 a_12 - 0
    places = {station.name: station.x for station in layout.stations}
    assert (places["zero fret"], places["nut"], places["back of the nut"]) == (0.0, -2.0, -7.0)


def test_pairs_of_strings_by_centres() -> None:
    y = string_positions(22.0, (0.3,) * 8, "centres", 2.5)
    assert np.diff(y)[::2] == pytest.approx([2.5] * 4)
    middles = (y[::2] + y[1::2]) / 2
    assert np.diff(middles) == pytest.approx([(22.0 - 2.5) / 3] * 3)
    assert (y[0], y[-1]) == pytest.approx((-11.0, 11.0))


@given(st.integers(3, 12), st.lists(st.floats(0.2, 1.2), min_size=24, max_size=24), st.floats(1.5, 3))
def test_pairs_of_strings_by_gaps(courses: int, sizes: list[float], gap: float) -> None:
    """Equal clear gaps between neighbouring courses, whatever the strings' thickness."""
    d = np.array(sizes[: 2 * courses])
    y = string_positions(8.0 * courses, tuple(d), "gaps", gap)
    clear = (y[2::2] - d[2::2] / 2) - (y[1:-1:2] + d[1:-1:2] / 2)
    assert clear == pytest.approx([clear[0]] * (courses - 1), abs=1e-9)
    assert y[-1] - y[0] == pytest.approx(8.0 * courses)
    assert np.diff(y)[::2] == pytest.approx([gap] * courses)


def test_twelve_pairs_are_twenty_four_strings() -> None:
    changes = ("strings.courses=12", "strings.paired=true", "strings.pair_gap=2", "strings.spacing_at_nut=66")
    layout = laid_out(*changes, "strings.spacing_at_bridge=80")
    assert len(layout.frets.strings) == 24
    assert layout.frets.strings[-1].y_nut == pytest.approx(33.0)


PAIRED = ("strings.paired=true", "strings.courses=4", "strings.spacing_at_nut=30", "strings.spacing_at_bridge=40")


@pytest.mark.parametrize(
    ("overrides", "says"),
    [
        (
            two(900, 600, 12),
            "--set: strings.scale = {bass = 900, treble = 600, square_fret = 12}: the nut would stand 74 degrees off "
            "square; at most 45 degrees; scale lengths nearer to each other, or another square_fret",
        ),
        (
            (*two(680, 648, 9), "head.starts_at=-10"),
            "--set: head.starts_at = -10: lies under the nut; at most -12.71 mm, the far side of the nut",
        ),
        (
            ("fretboard.zero_fret=true", "head.starts_at=-6"),
            "--set: head.starts_at = -6: lies under the nut; at most -7.00 mm, the far side of the nut",
        ),
        (
            ("fretboard.past_last_fret=0.5",),
            "--set: fretboard.past_last_fret = 0.5: leaves 0.20 mm of wood between fret 22 and the fretboard's end at "
            "the edge; at least 0.80 mm",
        ),
        (
            ("strings.scale={bass = 660, treble = 640, square_fret = 40}",),
            "--set: strings.scale.square_fret = 40: is too large; allowed are 0 to 36",
        ),
        (
            PAIRED,
            "plain:4: strings.pair_gap: is missing; paired courses need it",
        ),
        (
            (*PAIRED, "strings.pair_gap=7"),
            "--set: strings.pair_gap = 7: leaves 4 pairs too little room at the nut; allowed is at most 6.75 mm",
        ),
        (
            (*PAIRED, "strings.pair_gap=1", "strings.each=[" + ", ".join(["{diameter = 1.2}"] * 8) + "]"),
            "--set: strings.pair_gap = 1: lets the strings of a pair touch; allowed is more than 1.2 mm",
        ),
        (
            (*PAIRED, "strings.pair_gap=2", "strings.each=[" + ", ".join(["{diameter = 0.3}"] * 4) + "]"),
            "strings.each = [{diameter = 0.3}, {diameter = 0.3}, {diameter = 0.3}, {d...: lists 4 strings; allowed "
            "are 8, every one from the bass side, or none",
        ),
    ],
)
def test_refused_in_these_words(overrides: tuple[str, ...], says: str) -> None:
    with pytest.raises(DesignError) as caught:
        lay_out(plain(*overrides))
    assert says in str(caught.value)


@given(st.integers(3, 12), st.sampled_from(("gaps", "centres")), st.floats(0.6, 8.0))
def test_no_pairs_that_are_read_run_into_each_other(courses: int, divided_by: str, gap: float) -> None:
    """Whatever the reader lets through keeps every string clear of the next, at the nut where it is narrowest."""
    changes = (f"strings.courses={courses}", "strings.paired=true", f"strings.divided_by={divided_by}")
    spacing = 5.5 * courses
    each = f"strings.each=[{', '.join(['{diameter = 1.2}', '{diameter = 0.8}'] * courses)}]"
    places = (
        f"strings.spacing_at_nut={spacing}",
        f"strings.spacing_at_bridge={spacing + 10}",
        "fretboard.edge_margin=5",
    )
    least = 1.0 + (0.8 + 1.2) / 2  # from centre to centre of neighbouring courses
    room = spacing - courses * gap - (courses - 1) * least  # even gaps and even centres alike: all strings are alike
    if room < 0 or gap <= 1.0:
        with pytest.raises(DesignError, match=r"strings\.pair_gap"):
            plain(*changes, each, *places, f"strings.pair_gap={gap}")
        return
    design = plain(*changes, each, *places, f"strings.pair_gap={gap}")
    y = string_positions(spacing, (1.2, 0.8) * courses, design.strings.divided_by, gap)
    assert (np.diff(y) > 1.0).all()  # half of both strings
    assert (np.diff(y)[1::2] > least - 1e-9).all()
