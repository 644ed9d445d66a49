"""Is a millimetre on paper a millimetre? PDF pages rasterised at 600 dpi by poppler, SVG and DXF by their numbers.

The limits: 0.05 mm for every mark over the whole length, 0.02 mm for the bar. A pixel is 0.042 mm; a line's middle by
its ink comes out to about half of that.
"""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from sheet_cases import INCHES, NAMES, ink, layout_of, left_edge, middle, save, sheet_of

from neckmodel.sheets.kinds.marking import fret_dimensions, station_dimensions
from neckmodel.sheets.marks.dimensions import TICK
from neckmodel.sheets.marks.display import Drawing, Window
from neckmodel.sheets.pages.tiles import FOOT, MARGIN
from neckmodel.writers.drawings.svg import svg_text

MARK = 0.05
BAR = 0.02
SVG = "{http://www.w3.org/2000/svg}"


def edge(name: str) -> float:
    """y of the edge that the ticks stand on."""
    layout = layout_of(name)
    return max(layout.blank_half_width, layout.board[1] / 2 if layout.board else 0.0)


def lanes(name: str) -> list[tuple[list[float], float, float]]:
    """(places of the ticks, y low, y high of a strip that only the ticks cross) above and below the plan."""
    layout, y = layout_of(name), edge(name)
    frets = sorted({d.x for d in fret_dimensions(layout)})
    others = sorted({d.x for d in station_dimensions(layout)})
    return [(frets, y + 0.5, y + TICK - 0.5), (others, -y - TICK + 0.5, -y - 0.5)]


def apart(places: list[float]) -> list[float]:
    """Places whose mark no other comes so near to that their ink runs together; near-equal ones count once."""
    once = [x for k, x in enumerate(places) if k == 0 or x - places[k - 1] > 0.01]
    return [
        x
        for k, x in enumerate(once)
        if all(abs(x - other) > 0.65 for other in once[max(k - 1, 0) : k + 2] if other != x)
    ]


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("name", NAMES)
def test_every_station_on_the_long_page_is_at_its_place(name: str, tmp_path: Path) -> None:
    page = sheet_of(name, "marking-out", "long").pages[0]
    pdf = save((page,), tmp_path / "long.pdf")
    x0, y0, _, _ = page.box
    seen: list[float] = []
    for places, low, high in lanes(name):
        assert len(apart(places)) > 0.8 * len(places)
        box = (places[0] - 3.0 - x0, low - y0, places[-1] + 3.0 - x0, high - y0)
        band = ink(pdf, 1, box, page.size[1]).sum(axis=0)
        for x in apart(places):
            found = middle(band, x - x0, left_edge(box[0]), 0.3)
            assert abs(found - (x - x0)) < MARK, f"mark at {x}"
            seen.append(x)
    assert max(seen) - min(seen) > (500 if name != "pipit" else 300)


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid"])
@pytest.mark.parametrize("name", ["redpoll", INCHES])
def test_marks_bar_and_register_on_every_tile(name: str, paper: str, tmp_path: Path) -> None:
    pages = sheet_of(name, "marking-out", paper).pages
    pdf = save(pages, tmp_path / "tiles.pdf")
    seen: set[float] = set()
    for number, page in enumerate(pages, 1):
        window = next((mark for mark in page.marks if isinstance(mark, Window)), None)
        if window is None:  # the sheet of words
            continue
        x0, y0, x1, y1 = window.box
        right, top = MARGIN - x0, MARGIN + FOOT - y0  # what to add to the drawing's mm
        for places, low, high in lanes(name):
            here = [x for x in apart(places) if x0 + 1.5 < x < x1 - 1.5]
            if not here or low < y0 + 1 or high > y1 - 1:
                continue
            box = (MARGIN + 0.5, low + top, page.size[0] - MARGIN - 0.5, high + top)
            band = ink(pdf, number, box, page.size[1]).sum(axis=0)
            for x in here:
                assert abs(middle(band, x + right, left_edge(box[0]), 0.3) - (x + right)) < MARK
                seen.add(x)
        check_bar(pdf, number, page, MARGIN + 1.0, MARGIN + 1.0)
    assert seen == {x for places, _, _ in lanes(name) for x in apart(places)}


def check_bar(pdf: Path, number: int, page: Drawing, x: float, y: float) -> None:
    """The bar's ends are 100 mm apart within 0.02 mm, its ticks 10 mm apart."""
    box = (x - 2.0, y + 0.6, x + 102.0, y + 1.6)
    band = ink(pdf, number, box, page.size[1]).sum(axis=0)
    ticks = [middle(band, x + 10 * k, left_edge(box[0])) for k in range(11)]
    assert abs(ticks[-1] - ticks[0] - 100) < BAR
    assert np.abs(np.diff(ticks) - 10).max() < MARK


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("kind", ["routing", "inspection", "cross-sections"])
def test_bar_on_pages_of_words(kind: str, tmp_path: Path) -> None:
    pages = sheet_of("redpoll", kind, "Letter").pages
    pdf = save(pages, tmp_path / "words.pdf")
    for number, page in enumerate(pages, 1):
        check_bar(pdf, number, page, 12.0, 8.0)


@pytest.mark.usefixtures("poppler")
def test_the_square_measures_50_mm_both_ways(tmp_path: Path) -> None:
    page = sheet_of("redpoll", "marking-out", "long").pages[0]
    pdf = save((page,), tmp_path / "long.pdf")
    text = next(text for text in page.texts() if text.says == "50 mm square")
    x, y = text.at[0] - page.box[0] - 25.0, text.at[1] - page.box[1] - 26.2
    across = (x - 2.0, y + 8.0, x + 52.0, y + 10.0)
    band = ink(pdf, 1, across, page.size[1]).sum(axis=0)
    ends = [middle(band, place, left_edge(across[0])) for place in (x, x + 50.0)]
    assert abs(ends[1] - ends[0] - 50) < BAR
    up = (x + 8.0, y - 2.0, x + 10.0, y + 52.0)
    band = ink(pdf, 1, up, page.size[1]).sum(axis=1)
    ends = [middle(band, place, 0.0) for place in (2.0, 52.0)]
    assert abs(ends[1] - ends[0] - 50) < BAR


@pytest.mark.parametrize("name", NAMES)
def test_svg_has_every_station_at_its_place(name: str) -> None:
    page = sheet_of(name, "marking-out", "long").pages[0]
    root = ElementTree.fromstring(svg_text(page))
    wide, high = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    assert [float(side) for side in root.get("viewBox", "").split()] == [0.0, 0.0, wide, high]  # one unit is one mm
    assert (wide, high) == pytest.approx(page.size, abs=1e-4)
    starts: set[float] = set()
    for path in root.iter(f"{SVG}path"):
        found = re.match(r"M(\S+) (\S+?)L(\S+) (\S+?)L", path.get("d", ""))
        if found and found[1] == found[3]:  # a leader: straight over its station, then aside
            starts.add(float(found[1]))
    for places, _, _ in lanes(name):
        for x in places:
            assert min(abs(start - (x - page.box[0])) for start in starts) < 1e-4


@pytest.mark.parametrize("kind", ["marking-out", "cross-sections"])
def test_bar_and_square_are_told_for_a_rule_in_inches(kind: str) -> None:
    """25.4 mm to the inch: 3 15/16 in are 100.01 mm, 1 31/32 in are 50.01 mm. Nothing else on these pages is in mm."""
    said = [text.says for page in sheet_of(INCHES, kind, "Letter").pages for text in page.texts()]
    assert any(says.startswith("3 15/16 in (100 mm) between the end ticks") for says in said)
    assert kind != "marking-out" or "1 31/32 in (50 mm) square" in said
    assert [says for says in said if " mm" in says.replace("(100 mm)", "").replace("(50 mm)", "")] == []
