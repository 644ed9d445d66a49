"""The designs that the sheets are tried on, and what several tests do with pages."""

from __future__ import annotations

import subprocess
from functools import cache
from pathlib import Path

import numpy as np
from clear_cases import crossed, seen
from numpy.typing import NDArray

from neckmodel import presets
from neckmodel.design import read
from neckmodel.layout import Layout, lay_out
from neckmodel.sheets import Drawing, Sheet, draw_all
from neckmodel.sheets.marks.display import Text, Window
from neckmodel.sheets.marks.lettering import text_box
from neckmodel.sheets.marks.sketch import bounds
from neckmodel.writers.drawings.pdf import pdf_bytes

HERE = Path(__file__).parent
INCHES = "wren"  # a design stated in inches, and dated
NAMES = (*presets.names(), INCHES)
ROUTED = tuple(name for name in NAMES if name != "curlew")  # it has neither rod nor bar, so nothing is routed
DPI = 600
PER_MM = DPI / 25.4
PAPERS = ("long", "A4", "A3", "Letter", "Tabloid")
TOUCH = 0.05  # mm that two boxes of words may have in common: letters do not fill theirs


def path_of(name: str) -> Path:
    preset = presets.path_of(name)
    return HERE / f"{name}.toml" if preset is None else preset


@cache
def layout_of(name: str, *over: str) -> Layout:
    return lay_out(read(path_of(name), over))


@cache
def sheets_of(name: str) -> tuple[Sheet, ...]:
    return draw_all(layout_of(name), None, PAPERS)


def pages_of(name: str) -> list[Drawing]:
    """Every page of every sheet, and every drawing seen through a window."""
    pages = [page for sheet in sheets_of(name) for page in sheet.pages]
    inner = {id(mark.drawing): mark.drawing for page in pages for mark in page.marks if isinstance(mark, Window)}
    return pages + list(inner.values())


def sheet_of(name: str, kind: str, paper: str) -> Sheet:
    return next(sheet for sheet in sheets_of(name) if (sheet.kind, sheet.paper) == (kind, paper))


def work_of(name: str, paper: str) -> Sheet:
    """The sheet that holds the order of work: the routing sheet, where anything is routed."""
    return sheet_of(name, "routing" if name in ROUTED else "order-of-work", paper)


def ink(pdf: Path, page: int, box: tuple[float, float, float, float], page_height: float) -> NDArray[np.float64]:
    """Ink (0 to 255) of part of a page at 600 dpi, top row first. box: x low, y low, x high, y high, mm of the page."""
    left, top = round(box[0] * PER_MM), round((page_height - box[3]) * PER_MM)
    wide, high = round((box[2] - box[0]) * PER_MM), round((box[3] - box[1]) * PER_MM)
    crop = ["-x", str(left), "-y", str(top), "-W", str(wide), "-H", str(high)]
    only = ["-f", str(page), "-l", str(page), "-singlefile"]
    out = pdf.with_suffix("")
    subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", *crop, *only, str(pdf), str(out)], check=True)
    data = out.with_suffix(".pgm").read_bytes()
    kind, width, height, most = data[:64].split(maxsplit=4)[:4]
    assert (kind, most) == (b"P5", b"255")
    return 255.0 - np.frombuffer(data[-int(width) * int(height) :], np.uint8).reshape(int(height), int(width))


def part_of(
    inked: NDArray[np.float64],
    whole: tuple[float, float, float, float],
    box: tuple[float, float, float, float],
    page_height: float,
) -> NDArray[np.float64]:
    """Of the ink of a part of a page, that of a smaller box, as `ink` would render it. Boxes: as there."""
    left, top = round(whole[0] * PER_MM), round((page_height - whole[3]) * PER_MM)
    x, y = round(box[0] * PER_MM) - left, round((page_height - box[3]) * PER_MM) - top
    return inked[y : y + round((box[3] - box[1]) * PER_MM), x : x + round((box[2] - box[0]) * PER_MM)]


def middle(band: NDArray[np.float64], expected: float, start: float, reach: float = 0.45) -> float:
    """Where the ink near a place lies, mm. band: ink by column; start: place of its first column's edge."""
    low, high = (round((expected - start + side) * PER_MM) for side in (-reach, reach))
    part = band[low:high]
    assert part.max() > 0, f"no mark at {expected}"
    part = np.where(part > 0.25 * part.max(), part, 0.0)
    return start + float((np.arange(low, high) + 0.5) @ part / part.sum()) / PER_MM


def left_edge(x: float) -> float:
    """The place of the first column of a crop that starts at x, mm."""
    return round(x * PER_MM) / PER_MM


def save(pages: tuple[Drawing, ...], path: Path) -> Path:
    path.write_bytes(pdf_bytes(pages, path.stem))
    return path


def overlapping(texts: tuple[Text, ...]) -> list[tuple[str, str]]:
    """The words of every two texts whose boxes have more in common than TOUCH."""
    if not texts:
        return []
    x0, y0, x1, y1 = np.array([text_box(text) for text in texts]).T
    across = np.minimum.outer(x1, x1) - np.maximum.outer(x0, x0)
    upward = np.minimum.outer(y1, y1) - np.maximum.outer(y0, y0)
    both = np.argwhere(np.triu((across > TOUCH) & (upward > TOUCH), 1))
    return [(texts[one].says, texts[other].says) for one, other in both]


def check_readable(page: Drawing) -> None:
    """No words lie on others or on lines, no window cuts any, and everything is at least 3 mm inside the page."""
    assert overlapping(page.texts()) == [], page.title
    assert crossed(page) == [], page.title
    assert seen(page).cut == [], page.title
    x0, y0, x1, y1 = page.box
    low_x, low_y, high_x, high_y = bounds(page.marks)
    assert min(low_x - x0, low_y - y0, x1 - high_x, y1 - high_y) >= 3.0, page.title
