"""What the order of work, the measures, the order list and the sheets say of a string that starts later than the nut.
No CAD kernel."""

from __future__ import annotations

import pytest
from later_samples import SHORT, laid_out
from shapely.geometry import LineString, Polygon

from neckmodel.design import read_text
from neckmodel.design.reading.units import convert
from neckmodel.layout import lay_out
from neckmodel.report.materials import order_list
from neckmodel.sheets.kinds.sections import section_places
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.outlines import area, neck_plan
from neckmodel.sheets.views.plan import draw_plan
from neckmodel.sheets.views.section import section_words
from neckmodel.work.measures import measures
from neckmodel.work.order import order_of_work

PEG = "Bore the hole for the short string's peg"
BACK = (f'{SHORT}.peg={{from="back", x=140.0, y=-6.0, hole=6.0, depth=9.0}}',)


def said(title: str, *over: str) -> str:
    works = order_of_work(laid_out(*over))
    return next(" ".join((*work.says, *work.checks)) for work in works if work.title == title)


def test_both_edges_are_told_from_the_centre_line() -> None:
    words = said("Make the fretboard")
    assert "from 22.50 mm at the nut to 26.89 mm at x 489.99 mm" in words
    assert "from 13.00 mm at the nut to 13.70 mm at x 156.07 mm, straight" in words
    assert "from 24.01 mm at x 168.07 mm" in words
    assert "taper" not in words
    assert "between x 156.07 mm and x 168.07 mm" in said("Saw the taper and the head's outline")
    assert "4.75 mm to the treble side of the centre line at the nut" in said(
        "Plane the sides flush and carve the back"
    )


def test_the_peg_is_bored_once_the_side_is_carved() -> None:
    titles = [work.title for work in order_of_work(laid_out())]
    assert titles.index("Plane the sides flush and carve the back") < titles.index(PEG)
    assert "at x 160.00 mm, mark the hole's middle 7.50 mm below the glue plane" in said(PEG)
    assert "8.00 mm across and 9.00 mm deep, level and square to the centre line" in said(PEG)
    assert "6.00 mm to the bass side of the centre line" in said(PEG, *BACK)
    drill = next(work for work in order_of_work(laid_out()) if work.title == PEG)
    assert {caution.split(":")[0] for caution in drill.cautions} == {"Drill", "Dust"}


def test_other_necks_are_told_nothing_of_it() -> None:
    for work in order_of_work(lay_out(read_text(OTHER, "plain.toml"))):
        for line in (*work.says, *work.checks):
            assert "smooth S" not in line
            assert "peg" not in line


OTHER = """
[design]
name = "plain"
[strings]
courses = 6
scale = 640.0
[fretboard]
frets = 22
[neck]
joint_fret = 16
reinforcement = "none"
"""


def test_it_is_measured_and_ordered() -> None:
    rows = {row.says: row for _, group in measures(laid_out()) for row in group}
    wide = rows["neck: width where the bass side's step starts"]
    assert wide.nominal == pytest.approx(laid_out().fretboard.treble(wide_x()) + 13.0 + 0.6987, abs=2e-3)
    assert rows["peg: depth of its hole, at most"].nominal == pytest.approx(9.0)
    assert (
        "peg for string 1",
        "1",
        "hole 8.00 mm across, 9.00 mm deep",
        "in the bass side of the neck",
    ) in order_list(laid_out())


def wide_x() -> float:
    later = laid_out().fretboard.later
    assert later is not None
    return later.x_from


def test_the_plan_is_as_large_as_the_edges_say() -> None:
    """Shoelace of the outline drawn, against the sum of widths; the head's part is the same for both hands."""
    layout = laid_out()
    path = neck_plan(layers.NECK, layout)
    head, heel, count = layout.head, layout.heel, 4000
    step = (heel.x_end - head.x_far) / count
    wide = sum(2 * layout.outside.half_width(head.x_far + (k + 0.5) * step) for k in range(count)) * step
    corners = 2 * (8.0**2 + heel.corner_radius**2) * (1 - 3.14159 / 4)
    assert area(path) == pytest.approx(wide - corners, abs=3.0)
    across = Polygon(path.points).intersection(LineString([(0.0, -99.0), (0.0, 99.0)]))
    assert (across.bounds[1], across.bounds[3]) == pytest.approx((-13.0, 22.5), abs=0.01)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_fretboard_and_peg_are_drawn_on_their_side(hand: str) -> None:
    layout, sketch = laid_out(f"design.hand={hand}"), Sketch()
    draw_plan(sketch, layout)
    side = -1.0 if hand == "left" else 1.0
    (board,) = [mark for mark in sketch.marks if mark.layer is layers.FRETBOARD]
    ys = [y * side for x, y in board.points if abs(x) < 1e-6]
    assert sorted(ys) == pytest.approx([-13.0, 22.5])
    (peg,) = [mark for mark in sketch.marks if mark.layer is layers.SCREWS]
    assert max(y * side for _, y in peg.points) < 0
    assert {round(x, 6) for x, _ in peg.points} == {156.0, 164.0}


def test_a_section_is_cut_through_the_peg() -> None:
    layout = laid_out()
    assert any("peg" in name and x == pytest.approx(160.0) for name, x in section_places(layout, None))
    words = section_words(layout, 160.0, "mm")
    assert "peg: hole 8.00 mm across, 9.00 mm deep" in words
    assert f"{2 * layout.outside.half_width(160.0):.2f} mm wide at the glue plane" in words


def test_in_inches_it_is_told_in_inches() -> None:
    layout = lay_out(read_text(convert(laid_out().design, "in").text, "ringlet-in.toml"))
    words = next(" ".join(work.says) for work in order_of_work(layout) if work.title == PEG)
    assert " mm" not in words
    assert layout.peg is not None
    assert layout.peg.depth == pytest.approx(9.0, abs=2e-3)
