"""On sheets that are joined, a label stands on the same sheet as the tick or the hole that it speaks of."""

from __future__ import annotations

import pytest
from sheet_cases import NAMES, layout_of

from neckmodel.sheets import Drawing, draw
from neckmodel.sheets.kinds.marking import fret_dimensions, station_dimensions
from neckmodel.sheets.marks.dimensions import Note, note_lanes
from neckmodel.sheets.marks.display import Box, Window
from neckmodel.sheets.marks.layers import BLANK
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.sizes import PAPERS
from neckmodel.sheets.pages.tiles import tile
from neckmodel.sheets.pages.titles import titles_of
from neckmodel.sheets.views.holes import holes

CASES = (*((name,) for name in NAMES), ("garganey", 'design.hand="left"'))
SHEETS = {  # drawing sheets on A4 as they were before labels and ticks stood together: none is added
    "redpoll": 4,
    "garganey": 10,
    "whimbrel": 6,
}


def pages_of(case: tuple[str, ...], paper: str) -> list[Drawing]:
    """Every sheet that shows a part of the drawing."""
    (sheet,) = draw("marking-out", layout_of(*case), None, (paper,))
    return [page for page in sheet.pages if any(isinstance(mark, Window) for mark in page.marks)]


def shown(page: Drawing) -> Box:
    """What part of the drawing a page shows, in the drawing's own mm: its y = 0 is the blank's centre line."""
    return next(mark.box for mark in page.marks if isinstance(mark, Window))


def holds(box: Box, x: float, y: float) -> bool:
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("case", CASES, ids="-".join)
def test_every_station_is_told_where_its_tick_is_seen(case: tuple[str, ...], paper: str) -> None:
    """The tick of a fret crosses the blank's upper edge, every other the lower one, at the station's x."""
    layout, half = layout_of(*case), layout_of(*case).blank_half_width
    ticks = {d.says: (d.x, half) for d in fret_dimensions(layout)}
    ticks |= {d.says: (d.x, -half) for d in station_dimensions(layout)}
    told = set()
    for page in pages_of(case, paper):
        for text in page.texts():
            if text.says in ticks:
                assert holds(shown(page), *ticks[text.says]), (page.title, text.says)
                told.add(text.says)
    assert told == set(ticks)


@pytest.mark.parametrize("case", CASES, ids="-".join)
def test_every_hole_is_told_where_it_is_whole(case: tuple[str, ...]) -> None:
    """Name, place and width stand together: each as often as the others."""
    layout = layout_of(*case)
    unit, told, pages = layout.design.design.units, [], pages_of(case, "A4")
    for hole in holes(layout):
        (x, y), half, count = hole.at, hole.across / 2, 0
        for page in pages:
            if hole.name in (says := [text.says for text in page.texts()]):
                for side in (-half, half):
                    assert holds(shown(page), x + side, y + side), (page.title, hole.name)
                assert set(hole.lines(unit)) <= set(says)
                count += 1
        assert count, hole.name
        told.append(hole.name)
    for page in pages:  # no line of a label without its name
        says = [text.says for text in page.texts()]
        assert sum(line.endswith(" across") for line in says) == sum(line in told for line in says)


@pytest.mark.parametrize("name", SHEETS)
def test_it_takes_no_more_sheets(name: str) -> None:
    assert len(pages_of((name,), "A4")) == SHEETS[name]


def test_words_whose_place_lies_too_far_off_stand_all_the_same() -> None:
    """A note 400 mm from its place, on paper of 194 mm: it stands whole on a sheet, without the place."""
    sketch = Sketch()
    sketch.line(BLANK, (0.0, 0.0), (600.0, 0.0))
    note_lanes(sketch, [Note(10.0, 0.0, "far away")], -10.0, 1.8, (400.0, 600.0))
    drawing = sketch.drawing("far", (0.0, -60.0, 600.0, 10.0))
    pages = tile(drawing, PAPERS["A4"], titles_of(layout_of("redpoll"), None))
    assert "far away" in {text.says for page in pages for text in page.texts()}
