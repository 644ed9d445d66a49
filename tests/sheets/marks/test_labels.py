"""Labels along a line against an independent solver: scipy's isotonic regression (Best and Chakravarti's problem)."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from neckmodel.sheets.marks.dimensions import Note, note_lanes
from neckmodel.sheets.marks.display import Path, Text
from neckmodel.sheets.marks.labels import spread, spread_within
from neckmodel.sheets.marks.lettering import text_box
from neckmodel.sheets.marks.sketch import Sketch

PLACES = st.lists(st.floats(-200, 700), min_size=1, max_size=60).map(sorted)


@given(PLACES, st.floats(0.5, 20), st.floats(0, 3))
def test_no_two_overlap_and_none_could_lie_nearer(places: list[float], size: float, gap: float) -> None:
    widths = [size * (1 + k % 3) for k in range(len(places))]
    centres = spread(places, widths, gap)
    steps = [(a + b) / 2 + gap for a, b in itertools.pairwise(widths)]
    assert all(b - a >= step - 1e-9 for a, b, step in zip(centres, centres[1:], steps, strict=False))
    offsets = np.concatenate([[0.0], np.cumsum(steps)])
    best = isotonic_regression(np.array(places) - offsets).x + offsets
    assert centres == pytest.approx(best.tolist(), abs=1e-6)


def test_two_at_one_place_stand_either_side_of_it() -> None:
    assert spread([10.0, 10.0], [4.0, 2.0], 1.0) == pytest.approx([8.0, 12.0])
    assert spread([0.0, 50.0], [4.0, 4.0]) == [0.0, 50.0]


@given(PLACES, st.floats(0.5, 5))
def test_within_bounds_they_stay_inside_and_clear(places: list[float], size: float) -> None:
    widths = [size] * len(places)
    centres = spread_within(places, widths, -100.0, 500.0)
    assert all(b - a >= size - 1e-9 for a, b in itertools.pairwise(centres))
    assert centres[0] - size / 2 >= -100.0 - 1e-9
    assert centres[-1] + size / 2 <= 500.0 + 1e-9


def test_no_leader_crosses_the_words_of_another_note() -> None:
    """Thirty notes crowded toward the right end, as those of a deep heel are."""
    sketch = Sketch()
    notes = [Note(600.0 - 400.0 / (k + 1), 0.0, f"seam of heel block {k}, {20 * k}.00 mm deep") for k in range(30)]
    low = note_lanes(sketch, notes, -10.0, 1.8, (0.0, 620.0))
    boxes = [text_box(mark) for mark in sketch.marks if isinstance(mark, Text)]
    leaders = [mark.points for mark in sketch.marks if isinstance(mark, Path)]
    assert (len(boxes), len(leaders)) == (30, 30)
    assert min(box[1] for box in boxes) >= low
    crossed = [
        (x, box) for (x, _), (_, foot), _ in leaders for box in boxes if box[0] < x < box[2] and foot < box[3] - 1e-9
    ]
    assert crossed == []
