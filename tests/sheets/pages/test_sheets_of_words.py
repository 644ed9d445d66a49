"""Sheets of words and tables: cautions once a page and where they belong, no last sheet nearly empty, the board with
its sizes, sections that show what their titles name."""

from __future__ import annotations

import math

import pytest
import shapely
from clear_cases import seen
from sheet_cases import INCHES, NAMES, layout_of, sheet_of, sheets_of, work_of

from neckmodel.layout.workshop.board import plan_board
from neckmodel.lengths import with_unit
from neckmodel.sheets import Drawing, draw
from neckmodel.sheets.marks.display import Circle, Path, Text
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.joining import taken
from neckmodel.work import cautions
from neckmodel.work.order import order_of_work

LEFT = 'design.hand="left"'
WORDS = ("routing", "board", "cross-sections", "inspection")
LEAST = 0.3  # of a page
PAPERS = ("A4", "A3", "Letter", "Tabloid")


def said(page: Drawing) -> str:
    return " ".join(text.says for text in page.texts())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_each_caution_stands_once_on_a_page_and_beside_its_work(name: str, paper: str) -> None:
    pages = work_of(name, paper).pages
    works = order_of_work(layout_of(name))
    every = {caution for work in works for caution in work.cautions}
    assert len(every) >= 5
    for page in pages:
        assert said(page).count(cautions.FIRST) == 1
        for caution in every:
            assert said(page).count(caution) <= 1, caution
    for number, work in enumerate(works, 1):
        (at,) = (k for k, page in enumerate(pages) if f"{number}. {work.title}" in [t.says for t in page.texts()])
        near = " ".join(map(said, pages[at : at + 2]))  # what goes on overleaf has its cautions there
        assert [caution for caution in work.cautions if caution not in near] == [], work.title


@pytest.mark.parametrize("name", NAMES)
def test_no_last_sheet_is_nearly_empty(name: str) -> None:
    """Three tenths of a page and more, on every paper; a sheet that is alone holds all that there is."""
    several = 0
    for sheet in sheets_of(name):
        if sheet.kind in WORDS and len(sheet.pages) > 1:
            several += 1
            assert taken(sheet.pages[-1]) >= LEAST, (sheet.kind, sheet.paper)
    assert several >= 4


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_of_a_drawing_in_pages_shows_something_of_it(name: str) -> None:
    """Lines over a sixth of its width."""
    for paper in PAPERS:
        cover, *pages = sheet_of(name, "marking-out", paper).pages
        assert taken(cover) > 0.44
        for page in pages:
            (window,) = (mark for mark in page.marks if not isinstance(mark, Path | Circle | Text))
            x0, y0, x1, y1 = window.box
            glass = shapely.box(x0, y0, x1, y1)
            lines = [line.intersection(glass) for _, line in seen(window.drawing).lines]
            left, _, right, _ = shapely.total_bounds([line for line in lines if not line.is_empty])
            assert right - left > (x1 - x0) / 6, page.title


def test_taken_is_measured_from_titles_to_foot() -> None:
    """A4: 297 high, 12 of margin, 26 of margin and foot. A word at y 152.5 leaves half of the rest free."""
    sketch = Sketch()
    sketch.text(sheet_of("redpoll", "routing", "A4").pages[0].texts()[0].layer, (20.0, 155.5 + 0.6), "one", 1.8)
    page = sketch.drawing("", (0.0, 0.0, 210.0, 297.0))
    assert taken(page) == pytest.approx((285.0 - 155.5) / 259.0, abs=0.01)


@pytest.mark.parametrize("name", [*NAMES, "wheatear"])
def test_the_board_is_dimensioned(name: str) -> None:
    """Where every piece and offcut begins and ends, along and across, at true places of one scale."""
    layout = layout_of(name)
    unit, plan = layout.design.design.units, plan_board(layout)
    assert plan is not None
    assert layout.board is not None
    page = sheet_of(name, "board", "Letter" if unit == "in" else "A4").pages[0]
    texts = [text.says for text in page.texts()]
    turned = {text.says for text in page.texts() if text.turn == 90.0}
    level = set(texts) - turned
    for piece in (*plan.pieces, *plan.offcuts):
        for room, low, size in ((turned, piece.from_end, piece.length), (level, piece.from_edge, piece.width)):
            for at in (low, low + size):
                assert any(says.endswith(f": {with_unit(at, unit)}") for says in room), (piece.name, at)
    ticks = sorted(
        (path.points[0][0], says)
        for path, says in zip(*dimensioned(page), strict=True)
        if says.endswith((with_unit(0.0, unit), with_unit(layout.board[0], unit)))
    )
    drawn = ticks[-1][0] - ticks[0][0]
    edges = [path for path in page.marks if isinstance(path, Path) and path.closed]
    widest = max(max(x for x, _ in path.points) - min(x for x, _ in path.points) for path in edges)
    assert drawn == pytest.approx(widest)


def dimensioned(page: Drawing) -> tuple[list[Path], list[str]]:
    """The leaders of the sizes along the board, and their words, in order."""
    words = [mark for mark in page.marks if isinstance(mark, Text) and mark.turn == 90.0]
    lines = [mark for mark in page.marks if isinstance(mark, Path) and mark.layer.name == "dimensions"]
    leaders = [line for line in lines if line.points[0][0] == line.points[1][0] and len(line.points) == 3]
    return leaders, [text.says for text in words]


def near_title(page: Drawing, title: str, layer: str) -> list[Path | Circle]:
    """What of a layer is drawn beside a section's title: level with it, or below down to the next title."""
    titles = sorted(text.at[1] for text in page.texts() if text.height == 2.5)
    top = next(text.at[1] for text in page.texts() if text.height == 2.5 and text.says == title) + 4.0
    low = max((y + 4.0 for y in titles if y + 4.0 < top - 1e-6), default=0.0)
    found = []
    for mark in page.marks:
        if isinstance(mark, Path | Circle) and mark.layer.name == layer:
            y = mark.at[1] if isinstance(mark, Circle) else sum(y for _, y in mark.points) / len(mark.points)
            if low < y < top:
                found.append(mark)
    return found


def section(name: str, title: str, *over: str) -> Drawing:
    pages = draw("cross-sections", layout_of(name, *over), None, ("A3",))[0].pages
    return next(page for page in pages if title in [text.says for text in page.texts()])


@pytest.mark.parametrize(
    ("name", "title", "layer", "count"),
    [
        ("redpoll", "nut; least wood round the access slot", "nut", 1),
        ("redpoll", "nut; least wood round the access slot", "adjusting key", 1),
        ("redpoll", "nut; least wood round the access slot", "access slot", 1),
        ("redpoll", "least wood round the adjuster", "beyond the section", 1),
        ("redpoll", "least wood round the run", "rod", 2),
        ("redpoll", "screw 3; screw 4", "screws", 2),
        ("redpoll", "tuner 1; tuner 4", "cut out", 2),
        ("garganey", "fret 7", "rod", 1),
        ("garganey", "fret 7", "bars", 2),
        ("garganey", "fret 7", "bar 1", 1),
        ("whimbrel", "nut", "nut", 1),
        ("whimbrel", "least wood round the run", "beyond the section", 1),
        ("wheatear", "least wood round the washer", "rod", 1),
        ("wheatear", "fret 5", "cover strip", 1),
    ],
)
def test_a_section_shows_what_its_title_names(name: str, title: str, layer: str, count: int) -> None:
    for over in ((), (LEFT,)):
        page = section(name, title, *over)
        assert len(near_title(page, title, layer)) == count, (title, layer)


def test_a_section_of_the_head_is_true() -> None:
    """redpoll's tuners 1 and 4 have holes of 10 at y -15 and +15 in a head 14 thick, drawn twice their size; its sides
    run from 46 wide at the head line to 58 at 170, so 48.82 at 40."""
    page = section("redpoll", "tuner 1; tuner 4")
    holes = near_title(page, "tuner 1; tuner 4", "cut out")
    spans = sorted((min(x for x, _ in hole.points), max(x for x, _ in hole.points)) for hole in holes)  # type: ignore[union-attr]
    assert [high - low for low, high in spans] == pytest.approx([20.0, 20.0])
    assert spans[1][0] - spans[0][0] == pytest.approx(60.0)
    (wood,) = near_title(page, "tuner 1; tuner 4", "wood")
    assert isinstance(wood, Path)
    xs, ys = zip(*wood.points, strict=True)
    assert (max(xs) - min(xs)) / 2 == pytest.approx(46.0 + 12.0 * 40.0 / 170.0)
    assert (max(ys) - min(ys)) / 2 == pytest.approx(14.0)
    side = (48.82 - 30.0) / 2 - 5.0
    assert f"wood from its hole to the head's side: {with_unit(side, 'mm')}" in [text.says for text in page.texts()]


def test_each_section_has_the_largest_scale_that_fits() -> None:
    """wheatear's heel is 80 deep: twice its size would be 160 mm of page; its frets are drawn at twice theirs."""
    said_there = [[text.says for text in page.texts()] for page in sheet_of("wheatear", "cross-sections", "A4").pages]
    flat = [says for page in said_there for says in page]
    scales = [says for says in flat if says.startswith("drawn ")]
    assert scales.count("drawn 1:1") == 1
    assert len(scales) == len([says for says in flat if says.startswith("x ")]) > 10


def test_inches_stand_on_the_board_and_in_the_sections() -> None:
    texts = [
        t.says
        for kind in ("board", "cross-sections")
        for page in sheet_of(INCHES, kind, "Letter").pages
        for t in page.texts()
    ]
    assert not [says for says in texts if " mm" in says and "100 mm" not in says]
    assert math.isclose(layout_of(INCHES).board[0], 29.0 * 25.4)  # type: ignore[index]
