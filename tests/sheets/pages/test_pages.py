"""Every page of every sheet, for every preset and paper: what it says, how tiles join. Words that keep clear of each
other and of the page's ends are looked for in tests/sheets/test_clear.py."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from designs import Tables, design_of, designs
from hypothesis import given, reject, settings
from sheet_cases import INCHES, NAMES, PAPERS, ROUTED, check_readable, layout_of, overlapping, sheet_of, sheets_of

from neckmodel.errors import DesignError
from neckmodel.layout import lay_out
from neckmodel.sheets import KINDS, Drawing, draw_all
from neckmodel.sheets.marks.display import Circle, Mark, Text, Window
from neckmodel.sheets.marks.layers import REGISTER
from neckmodel.sheets.pages.seams import OVERLAP
from neckmodel.sheets.pages.sizes import PAPERS as SIZES
from neckmodel.sheets.pages.tiles import FOOT, MARGIN, grid
from neckmodel.sheets.pages.titles import titles_of


def test_overlaps_are_seen() -> None:
    one = sheet_of("redpoll", "routing", "A4").pages[0].texts()[1]
    assert overlapping((one, Text(one.layer, (one.at[0] + 1, one.at[1]), "x", one.height))) == [(one.says, "x")]


@pytest.mark.parametrize("name", ["redpoll", INCHES])
def test_every_kind_is_drawn_for_every_paper(name: str) -> None:
    there = {(sheet.kind, sheet.paper) for sheet in sheets_of(name)}
    apply = [kind for kind in KINDS.values() if not kind.unless(layout_of(name))]
    assert len(apply) == len(KINDS) - 1  # the order of work stands on the routing sheet
    for kind in apply:
        for paper in PAPERS:
            if kind.paged is None or paper != "long":
                assert (kind.name, paper) in there
    for sheet in sheets_of(name):
        if sheet.paper in SIZES:
            size = SIZES[sheet.paper]
            assert {tuple(sorted(page.size)) for page in sheet.pages} == {(size.width, size.height)}


@pytest.mark.parametrize("name", NAMES)
def test_every_page_says_whose_it_is_and_with_which_verdict(name: str) -> None:
    layout = layout_of(name)
    titles = titles_of(layout, None)
    expected = "date 2026-03-01" if name == INCHES else f"design {layout.design.sha256[:8]}"
    assert titles.mark == expected
    for sheet in sheets_of(name):
        for k, page in enumerate(sheet.pages, 1):
            said = " ".join(text.says for text in page.texts())
            assert name in said, page.title
            assert expected in said, page.title
            assert "NOT CHECKED" in said, page.title
            if sheet.paper != "long":
                assert f"sheet {k} of {len(sheet.pages)}" in said


@pytest.mark.parametrize("paper", sorted(SIZES))
@pytest.mark.parametrize("name", ["redpoll", "garganey", INCHES])
def test_tiles_cover_the_drawing_and_share_what_they_should(name: str, paper: str) -> None:
    pages = sheet_of(name, "marking-out", paper).pages
    windows = [mark for page in pages for mark in page.marks if isinstance(mark, Window)]
    whole = windows[0].drawing
    assert whole.texts() == ()  # words stand on the pages themselves
    way = grid(replace(whole, marks=(*whole.marks, *words_of(pages))), SIZES[paper])
    assert len(windows) == len(pages) - 1 == way.sheets  # a sheet of words comes first
    assert {id(window.drawing) for window in windows} == {id(whole)}  # drawn once
    rows = [windows[k : k + way.columns] for k in range(0, len(windows), way.columns)]
    for row in rows:
        assert row[0].box[0] <= whole.box[0]
        assert row[-1].box[2] >= whole.box[2]
        for one, other in pairwise(row):
            assert one.box[2] - other.box[0] >= OVERLAP - 1e-9
    for one, other in pairwise(rows):
        assert other[0].box[3] - one[0].box[1] >= OVERLAP - 1e-9
    assert rows[0][0].box[3] >= whole.box[3]
    assert rows[-1][0].box[1] <= whole.box[1]
    crosses = {
        crossing(windows[k], mark.at) for k, page in enumerate(pages[1:]) for mark in page.marks if is_cross(mark)
    }
    for x, y in crosses:
        shared = [w for w in windows if w.box[0] < x < w.box[2] and w.box[1] < y < w.box[3]]
        assert len(shared) >= 2
    seams = (way.columns - 1) * way.rows + (way.rows - 1) * way.columns
    assert len(crosses) == 2 * seams
    for one in range(len(windows)):  # and each page of a seam shows both of its marks
        neighbours = (one % way.columns > 0) + ((one + 1) % way.columns > 0) + (one >= way.columns)
        neighbours += one + way.columns < len(windows)
        assert sum(map(is_cross, pages[one + 1].marks)) >= 2 * neighbours


def is_cross(mark: Mark) -> bool:
    return isinstance(mark, Circle) and mark.layer is REGISTER


def crossing(window: Window, at: tuple[float, float]) -> tuple[float, float]:
    """A point of the page in the drawing that its window shows."""
    return tuple(round(at[k] - window.at[k] + window.box[k], 3) for k in (0, 1))  # type: ignore[return-value]


def words_of(pages: tuple[Drawing, ...]) -> list[Text]:
    """Every label of a drawing, where it stands in that drawing, from the pages that show it."""
    found: dict[tuple[str, float, float], Text] = {}
    for page in pages:
        for window in (mark for mark in page.marks if isinstance(mark, Window)):
            for text in page.texts():
                if text.at[1] > FOOT + MARGIN:
                    at = crossing(window, text.at)
                    found[text.says, *at] = replace(text, at=at)
    return list(found.values())


def test_fewer_sheets_whichever_way_the_paper_lies() -> None:
    """redpoll's plan and side view are 718 x 238 mm. A3 lying has windows of 404 x 268 mm, so 2 sheets; standing, 281 x
    391 mm, 3. Without labels windows share just 10 mm."""
    whole = next(m for m in sheet_of("redpoll", "marking-out", "A4").pages[1].marks if isinstance(m, Window)).drawing
    for paper in SIZES.values():
        way = grid(whole, paper)
        for laid in (paper, paper.landscape):
            wide, high = laid.width - 16.0, laid.height - 29.0
            columns = 1
            while columns * wide - (columns - 1) * 10 < whole.size[0]:
                columns += 1
            rows = 1
            while rows * high - (rows - 1) * 10 < whole.size[1]:
                rows += 1
            assert way.sheets <= columns * rows


def _drawn(tables: Tables) -> None:
    try:
        layout = lay_out(design_of(tables))
    except DesignError:
        reject()
    for sheet in draw_all(layout, None, ("long", "A4")):
        for page in sheet.pages:
            check_readable(page)


# Six, for each of them has some thirty pages, beside those of every preset on five papers and in both hands. A fault of
# one kind of sheet or of one kind of neck in five shows; a rare one is left to the long run.
@settings(max_examples=6)
@given(designs())
def test_random_designs_are_drawn_and_can_be_read(tables: Tables) -> None:
    """Whatever can be laid out can be drawn, with nothing over anything else and nothing cut off."""
    _drawn(tables)


@pytest.mark.sweep
@settings(max_examples=60)
@given(designs())
def test_many_random_designs_are_drawn_and_can_be_read(tables: Tables) -> None:
    _drawn(tables)


@pytest.mark.parametrize("name", ROUTED)
def test_a_cuts_table_stands_on_one_page_with_the_drawing_of_its_corners(name: str) -> None:
    """Every cut's title, its last row and the words under its corners are on the same page."""
    pages = sheet_of(name, "routing", "A4").pages
    seen = 0
    for page in pages:
        said = [text.says for text in page.texts()]
        titles = sum(says.startswith("Cut: ") for says in said)
        last = sum(says == "before you go on" for says in said)
        corners = sum("scale 2:1" in says for says in said)
        squared = sum(says == "corners to square" for says in said)
        assert titles == last
        assert (corners > 0) is (squared > 0)
        seen += titles
    assert seen == sum(not step.bored for step in layout_of(name).steps)
