"""No word of any sheet is cut at a tile's edge, printed over by a register mark or a line, or laid over another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from clear_cases import crossed, seen
from sheet_cases import INCHES, NAMES, PAPERS, check_readable, layout_of, pages_of, sheet_of

from neckmodel.sheets import Drawing, draw_all
from neckmodel.sheets.kinds.marking import fret_dimensions, station_dimensions
from neckmodel.sheets.marks.display import Circle, Text, Window
from neckmodel.sheets.marks.layers import REGISTER, TEXT
from neckmodel.sheets.marks.lettering import text_box

LEFT = 'design.hand="left"'
HANDS = tuple((name, LEFT) for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_words_stand_clear_on_every_sheet_and_paper(name: str) -> None:
    """Right-handed; wren is in inches. `check_readable` asks for lines and for words that a window cuts."""
    pages = pages_of(name)
    assert len(pages) > 30
    for page in pages:
        check_readable(page)


@pytest.mark.parametrize("case", HANDS, ids=lambda case: "-".join(case)[:20])
def test_words_stand_clear_on_left_handed_sheets(case: tuple[str, ...]) -> None:
    for sheet in draw_all(layout_of(*case), None, PAPERS):
        for page in sheet.pages:
            check_readable(page)


@pytest.mark.parametrize("name", ["redpoll", "garganey", INCHES])
@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid"])
def test_every_label_stands_whole_on_some_sheet(name: str, paper: str) -> None:
    said = {text.says for page in sheet_of(name, "marking-out", paper).pages for text in page.texts()}
    layout = layout_of(name)
    for dimension in (*fret_dimensions(layout), *station_dimensions(layout)):
        assert dimension.says in said
    whole = {text.says for text in sheet_of(name, "marking-out", "long").pages[0].texts()}
    only_there = {"marking-out sheet, 1:1", *layout.design.design.remark.splitlines()}
    missing = [says for says in whole - said if says not in only_there and " deep" in says]
    assert missing == []


def test_what_is_asked_can_be_seen() -> None:
    """A cross over a label, a label over a line, a label cut by a window: each is noticed."""
    page = next(
        p for p in sheet_of("garganey", "marking-out", "A4").pages if any(isinstance(m, Window) for m in p.marks)
    )
    assert crossed(page) == []
    text = next(text for text in page.texts() if text.turn == 90.0)
    x0, y0, x1, y1 = text_box(text)
    cross = Circle(REGISTER, ((x0 + x1) / 2, (y0 + y1) / 2), 1.5)
    assert (text.says, REGISTER.name) in crossed(replace(page, marks=(*page.marks, cross)))
    window = next(mark for mark in page.marks if isinstance(mark, Window))
    x0, y0, *_ = window.box
    inner = replace(window.drawing, marks=(*window.drawing.marks, Text(TEXT, (x0 - 1.0, y0 + 5.0), "half of it")))
    assert seen(Drawing("", (replace(window, drawing=inner),), page.box)).cut == ["half of it"]
