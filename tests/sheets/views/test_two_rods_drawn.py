"""Two rods on the drawings: in plan each at its own y, from the side once where both look alike, in sections both."""

from __future__ import annotations

from functools import cache

import pytest
from pair_samples import CUTTERS, FERN_PAIR, KEY, pair

from neckmodel.layout import Layout, lay_out
from neckmodel.sheets.marks.display import Circle, Path
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.plan import draw_plan
from neckmodel.sheets.views.section import draw_section, section_words
from neckmodel.sheets.views.side import seen_from_side, side_notes


@cache
def layout(*overrides: str) -> Layout:
    return lay_out(pair(*overrides, more=KEY + CUTTERS))


def middles(sketch: Sketch, layer: str) -> set[float]:
    """y of the middle of every path on a layer."""
    paths = [mark for mark in sketch.marks if isinstance(mark, Path) and mark.layer.name == layer]
    return {round((max(y for _, y in p.points) + min(y for _, y in p.points)) / 2, 6) for p in paths}


@pytest.mark.parametrize(("hand", "side"), [("right", 1.0), ("left", -1.0)])
def test_each_rod_and_its_channel_lie_at_their_own_y_in_plan(hand: str, side: float) -> None:
    sketch = Sketch()
    draw_plan(sketch, layout(f'design.hand="{hand}"'))
    assert middles(sketch, "rod") == {-9.0, 9.0}
    for number, y in ((1, -9.0), (2, 9.0)):
        for kind in ("run", "adjuster", "access slot"):
            assert middles(sketch, f"{kind} {number}") == {side * y}


def test_cover_strips_lie_over_either_rod() -> None:
    sketch = Sketch()
    draw_plan(sketch, lay_out(pair(text=FERN_PAIR)))
    assert middles(sketch, "cover strip") == {-11.0, 11.0}


def test_from_the_side_steps_alike_are_drawn_and_told_once() -> None:
    assert [step.name for step in seen_from_side(layout())] == ["run-1", "adjuster-1", "access-slot-1"]
    said = [note.says for note in side_notes(layout(), 0.0)]
    assert "each run 9.30 mm deep" in said
    assert "each adjuster 8.20 mm deep" in said


def test_from_the_side_a_step_that_was_cut_unlike_the_other_is_told_by_itself() -> None:
    found = layout("measured.channel.run-2.depth=9.4")
    assert {"run-1", "run-2"} <= {step.name for step in seen_from_side(found)}
    said = [note.says for note in side_notes(found, 0.0)]
    assert "run 1 9.30 mm deep" in said
    assert "run 2 9.40 mm deep" in said
    assert "each adjuster 8.20 mm deep" in said


def test_a_section_shows_both_rods_and_both_keys() -> None:
    """Seen from the head, so that the treble side lies to the left."""
    cut = Sketch()
    draw_section(cut, layout(), 200.0, (0.0, 0.0), 1.0)
    ys = {round(sum(x for x, _ in mark.points) / len(mark.points)) for mark in _paths(cut, "rod")}
    assert ys == {-9, 9}
    at_slot = Sketch()
    draw_section(at_slot, layout(), 5.0, (0.0, 0.0), 1.0)
    keys = [mark for mark in at_slot.marks if isinstance(mark, Circle) and mark.layer.name == "adjusting key"]
    assert {round(mark.at[0], 6) for mark in keys} == {-9.0, 9.0}
    words = section_words(layout(), 200.0, "mm")
    assert {"run 1: 6.10 mm wide, 9.30 mm deep", "run 2: 6.10 mm wide, 9.30 mm deep"} <= set(words)


def _paths(sketch: Sketch, layer: str) -> list[Path]:
    return [mark for mark in sketch.marks if isinstance(mark, Path) and mark.layer.name == layer]
