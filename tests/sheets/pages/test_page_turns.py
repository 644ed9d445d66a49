"""The order of work goes on overleaf; no sheet speaks of what the neck has not got; true size can be checked."""

from __future__ import annotations

import pytest
from sheet_cases import NAMES, layout_of, sheet_of, work_of

from neckmodel.sheets import Drawing, draw
from neckmodel.sheets.kinds.machine import templates
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.layers import SCALE
from neckmodel.sheets.marks.lettering import plain
from neckmodel.sheets.pages.titles import titles_of
from neckmodel.work.order import order_of_work

PAPERS = ("A4", "Letter", "Tabloid")
CASES = [(name, paper) for name in NAMES for paper in PAPERS]
OVERLAP = "Openings may overlap: one template for each."


def said(page: Drawing) -> str:
    return " ".join(text.says for text in page.texts())


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_sentence_of_the_work_is_broken_between_two_pages(name: str, paper: str) -> None:
    """A place of a hole read off half of its line would be drilled wrong."""
    pages = [said(page) for page in work_of(name, paper).pages]
    lines = [line for work in order_of_work(layout_of(name)) for line in work.says]
    assert [line for line in lines if not any(plain(line) in page for page in pages)] == []


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_work_that_goes_on_overleaf_has_its_cautions_on_both_pages(name: str, paper: str) -> None:
    pages = [said(page) for page in work_of(name, paper).pages]
    works = order_of_work(layout_of(name))
    everything = [line for work in works for line in work.says]
    for work in works:
        own = [plain(line) for line in work.says if sum(line in one for one in everything) == 1]
        for page in pages:
            if any(line in page for line in own):
                assert [caution for caution in work.cautions if caution not in page] == [], work.title


def test_a_word_about_overlaps_only_where_there_are_openings_to_overlap() -> None:
    """pipit's workshop states no guide bush, whimbrel's channel is one run."""
    for name, count in (("pipit", 0), ("whimbrel", 1), ("redpoll", 3)):
        layout = layout_of(name)
        found = templates(layout, titles_of(layout, None))
        assert len(found.cuts) == count
        assert (OVERLAP in found.says) == (count > 1)


@pytest.mark.parametrize("name", NAMES)
def test_sections_speak_of_a_rod_only_where_there_is_one(name: str) -> None:
    """And of what lies beyond a section only where the legend has its line. pipit has a bar and no rod."""
    page = said(sheet_of(name, "cross-sections", "A4").pages[0])
    assert ("The rod is drawn" in page) == (layout_of(name).rod is not None)
    assert ("with short dashes" in page) == ("beyond the section" in page.replace("just beyond a section", ""))


@pytest.mark.parametrize("kind", ["pockets", "templates", "fretboard", "head"])
def test_every_true_size_page_of_contours_has_its_scale_bar(kind: str) -> None:
    """100 mm between the end ticks, once on a page; none in the file that programs read."""
    for sheet in draw(kind, layout_of("redpoll"), None, ("long", "A4")):
        for page in sheet.pages:
            bars = [mark for mark in page.marks if isinstance(mark, Path) and mark.layer is SCALE]
            long = [bar for bar in bars if abs(bar.points[0][0] - bar.points[-1][0]) == pytest.approx(100.0)]
            assert len(long) == (0 if sheet.formats == ("dxf",) else 1), (sheet.formats, sheet.paper)
