"""Every line of every kind of sheet, read back from its SVG and, by poppler, from its PDF: coordinates, not counts.

The limit is 0.05 mm, what a sharp pencil can follow; the files state lengths to 0.0001 mm and finer.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from pathlib import Path as FilePath
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from sheet_cases import layout_of, save, sheet_of, sheets_of
from svgelements import Matrix, Move
from svgelements import Path as Drawn

from neckmodel.sheets import Drawing
from neckmodel.sheets.marks.display import Circle, Path, Window
from neckmodel.writers.drawings.svg import svg_text

NEAR = 0.05
POINT = 25.4 / 72  # ISO 32000-1, 8.3.2.3
SVG = "{http://www.w3.org/2000/svg}"
NO_LINES = {f"{SVG}{name}" for name in ("defs", "symbol", "clipPath", "text", "use")}
KINDS = ("marking-out", "routing", "board", "cross-sections", "inspection", "pockets", "templates", "fretboard", "head")
Spots = NDArray[np.float64]


def lines_of(root: ElementTree.Element, unit: float) -> Iterator[tuple[str, Spots]]:
    """(layer or "", (n, 2) mm from the page's upper left corner) of every path and circle in a file's text."""

    def inside(element: ElementTree.Element, frame: Matrix, layer: str) -> Iterator[tuple[str, Spots]]:
        if element.tag in NO_LINES:
            return
        frame = Matrix(element.get("transform", "")) * frame
        layer = element.get("data-layer", layer)
        if element.tag == f"{SVG}path":
            ends = [piece.end for piece in Drawn(element.get("d", "")) if isinstance(piece, Move) or piece.end]
            spots = [frame.point_in_matrix_space(end) for end in ends]
            yield layer, np.array([(spot.x, spot.y) for spot in spots]).reshape(-1, 2) * unit
        elif element.tag == f"{SVG}circle":
            x, y, r = (float(element.get(key, "nan")) for key in ("cx", "cy", "r"))
            spots = [frame.point_in_matrix_space(at) for at in ((x + r, y), (x, y + r), (x - r, y), (x, y - r))]
            yield layer, np.array([(spot.x, spot.y) for spot in spots]) * unit
        for child in element:
            yield from inside(child, frame, layer)

    yield from inside(root, Matrix(), "")


def of_svg(page: Drawing) -> list[tuple[str, Spots]]:
    return list(lines_of(ElementTree.fromstring(svg_text(page)), 1.0))


def of_pdf(pages: tuple[Drawing, ...], number: int, folder: FilePath) -> list[tuple[str, Spots]]:
    pdf, out = save(pages, folder / "read.pdf"), folder / "read.svg"
    only = ["-f", str(number), "-l", str(number), "-noshrink", "-nocenter"]  # or it makes room for a printer's margin
    subprocess.run(["pdftocairo", "-svg", *only, str(pdf), str(out)], check=True)
    root = ElementTree.parse(out).getroot()
    size = [float(side) * POINT for side in root.get("viewBox", "").split()[2:]]
    assert size == pytest.approx(pages[number - 1].size, abs=NEAR)
    return list(lines_of(root, POINT))


def meant(page: Drawing) -> Spots:
    """(n, 2) mm from the upper left corner: ends of every stretch, four places round every circle; of what is seen
    through a window only what lies in it."""
    x0, _, _, y1 = page.box

    def of(drawing: Drawing) -> Iterator[tuple[float, float]]:
        for mark in drawing.marks:
            if isinstance(mark, Path):
                yield from mark.points
            elif isinstance(mark, Circle):
                (x, y), r = mark.at, mark.radius
                yield from ((x + r, y), (x, y + r), (x - r, y), (x, y - r))
            elif isinstance(mark, Window):
                left, low, right, high = mark.box
                for x, y in of(mark.drawing):
                    if left < x < right and low < y < high:
                        yield x - left + mark.at[0], y - low + mark.at[1]

    return np.array([(x - x0, y1 - y) for x, y in of(page)])


def farthest(wanted: Spots, there: list[tuple[str, Spots]]) -> float:
    """How far the worst of the wanted places lies from the nearest end that was read, mm."""
    return float(cKDTree(np.concatenate([spots for _, spots in there])).query(wanted)[0].max())


def farthest_from_lines(wanted: Spots, there: list[tuple[str, Spots]]) -> float:
    """The same from the nearest line: poppler leaves out an end between two stretches that lie in one line."""
    lines = shapely.MultiLineString([spots for _, spots in there if len(spots) > 1])
    return float(shapely.distance(shapely.points(wanted), lines).max())


@pytest.mark.parametrize("kind", KINDS)
def test_every_line_of_an_svg_is_where_it_was_drawn(kind: str) -> None:
    (page, *_) = next(sheet for sheet in sheets_of("redpoll") if sheet.kind == kind and "svg" in sheet.formats).pages
    wanted = meant(page)
    assert len(wanted) > 20 or kind in ("routing", "inspection")  # rules between words
    assert farthest(wanted, of_svg(page)) < NEAR


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("kind", KINDS)
def test_every_line_of_a_pdf_is_where_it_was_drawn(kind: str, tmp_path: FilePath) -> None:
    """On A4: tiles show part of a drawing through a window."""
    pages = sheet_of("redpoll", kind, "A4").pages
    number = min(len(pages), 2)
    assert farthest_from_lines(meant(pages[number - 1]), of_pdf(pages, number, tmp_path)) < NEAR


# --- against the layout's own numbers, by hand -----------------------------------------------------------------------
def on_page(page: Drawing, places: list[tuple[float, float]]) -> Spots:
    """Places on the neck, seen from above, on a page that is true to size, mm from its upper left corner."""
    return np.array([(x - page.box[0], page.box[3] - y) for x, y in places])


def long_page(kind: str) -> Drawing:
    wanted = (sheet for sheet in sheets_of("redpoll") if (sheet.kind, sheet.paper) == (kind, "long"))
    return next(sheet for sheet in wanted if "svg" in sheet.formats).pages[0]


def rectangle(x0: float, x1: float, half: float) -> list[tuple[float, float]]:
    return [(x0, -half), (x1, -half), (x1, half), (x0, half)]


def by_hand(kind: str) -> list[tuple[float, float]]:
    """Redpoll: scale 640, 22 frets; a rod of 420 from x 7 whose adjuster is 10 long, in a run 6.1 wide that goes on 1
    beyond it."""
    layout = layout_of("redpoll")
    run, design = rectangle(17.0, 428.0, 3.05), layout.design
    if kind in ("marking-out", "pockets"):
        return run
    if kind == "templates":
        bush = design.workshop.guide_bush
        assert bush is not None
        wider = (bush - next(s.diameter for s in layout.cuttings if s.step == "run")) / 2
        return [(17.0 - wider, 0.0), (428.0 + wider, 0.0), (222.5, 3.05 + wider), (222.5, -3.05 - wider)]
    if kind == "fretboard":
        places = [640.0 * (1 - 2 ** (-n / 12)) for n in range(1, 23)]
        return [(x, side * layout.fretboard.half_width(x)) for x in places for side in (-1, 1)]
    return [
        (t.x + dx * t.hole / 2, t.y + dy * t.hole / 2)
        for t in design.head.tuners
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1))
    ]


@pytest.mark.usefixtures("poppler")
@pytest.mark.parametrize("kind", ["marking-out", "pockets", "fretboard", "head"])
def test_what_is_true_to_size_has_the_layout_s_numbers(kind: str, tmp_path: FilePath) -> None:
    page = long_page(kind)
    wanted = on_page(page, by_hand(kind))
    assert farthest(wanted, of_svg(page)) < NEAR
    assert farthest(wanted, of_pdf((page,), 1, tmp_path)) < NEAR


def test_a_template_s_opening_is_larger_by_half_of_bush_less_cutter() -> None:
    page = long_page("templates")
    opening = np.concatenate([spots for layer, spots in of_svg(page) if layer == "template run"])
    wanted = on_page(page, by_hand("templates"))
    assert opening.min(axis=0) == pytest.approx(wanted.min(axis=0), abs=NEAR)
    assert opening.max(axis=0) == pytest.approx(wanted.max(axis=0), abs=NEAR)


def test_sections_are_as_wide_and_deep_as_the_neck_times_their_scale() -> None:
    """Each at one of the scales that are told beside it: 2:1, 1:1 or 1:2."""
    layout = layout_of("redpoll")
    read = [line for page in sheet_of("redpoll", "cross-sections", "A4").pages for line in of_svg(page)]
    found = np.array([np.ptp(spots, axis=0) for layer, spots in read if layer == "wood"])
    for fret in (1, 3, 5, 7, 9, 12):
        section = layout.back.section(layout.frets.x(fret))
        sizes = np.array([2 * section.half_width, section.depth])
        assert any(np.abs(found - scale * sizes).max(axis=1).min() < NEAR for scale in (0.5, 1.0, 2.0)), fret


def test_the_board_s_pieces_are_drawn_to_one_scale() -> None:
    """The blank on its board: what is asked for, beside what it is sawn from."""
    layout, (page, *_) = layout_of("redpoll"), sheet_of("redpoll", "board", "A4").pages
    assert layout.board is not None
    boxes = [np.ptp(spots, axis=0) for _, spots in of_svg(page) if len(spots) >= 4]
    board = max(boxes, key=lambda box: box[0] * box[1])
    scale = board[0] / layout.board[0]
    assert board[1] == pytest.approx(layout.board[1] * scale, abs=NEAR)
    x0, x1 = (end(x for x, _ in layout.blank_profile) for end in (min, max))
    blank = np.array([x1 - x0, 2 * layout.blank_half_width]) * scale
    assert min(np.abs(box - blank).max() for box in boxes) < NEAR


@pytest.mark.parametrize("kind", ["routing", "inspection"])
def test_the_bar_of_a_sheet_of_words_is_100_mm(kind: str) -> None:
    (page, *_) = sheet_of("redpoll", kind, "A4").pages
    bar = np.concatenate([spots for layer, spots in of_svg(page) if layer == "scale check"])
    assert np.ptp(bar[:, 0]) == pytest.approx(100.0, abs=NEAR)
    assert sorted({round(x - bar[:, 0].min(), 3) for x in bar[:, 0]}) == [10.0 * k for k in range(11)]
