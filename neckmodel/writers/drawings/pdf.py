"""PDF: every page true to size, one font inside the file, the same bytes for the same drawing."""

from __future__ import annotations

import io
import math
import re
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any

from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.display import Circle, Drawing, Layer, Mark, Path, Text, Window
from neckmodel.sheets.marks.lettering import size_of
from neckmodel.units import MM_PER_INCH
from neckmodel.writers.base import Target, refuse
from neckmodel.writers.drawings.pages import SheetJob, pages_of, targets
from neckmodel.writers.versions import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Sequence

POINTS = 72 / MM_PER_INCH
"""A point is 1/72 inch: ISO 32000-1, 8.3.2.3."""
LARGEST = 14400 / POINTS
"""mm; the largest page that every reader takes: ISO 32000-1, annex C."""
FONT, FONT_FILE = "Drawing", "Vera.ttf"
"""The font's name in our files, and the file in reportlab's folder of fonts that it is taken from. Its licence, which
lies beside it there, lets it be put into any document with its notice of copyright, and asks that what is not the whole
font bears another name."""
SIZE_ERROR = 0.001  # points, of a page's size as written


@dataclass(frozen=True)
class PdfWriter:
    """PDF files: all pages of a sheet in one file, true to size."""

    name: str = "pdf"
    suffix: str = ".pdf"
    says: str = "drawings for paper, true to size"

    def targets(self, job: SheetJob) -> tuple[Target, ...]:
        """One file for each sheet."""
        return targets(job, self.name, self.suffix, paged=True)

    def write(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Writes the pages."""
        pages = pages_of(job, self.name, self.suffix, target, paged=True)
        path.write_bytes(pdf_bytes(pages, target.title, job.remark))

    def verify(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Compares the file with the pages: number and sizes, and the fonts inside."""
        pages = pages_of(job, self.name, self.suffix, target, paged=True)
        refuse(path, problems(path.read_bytes(), pages))


def pdf_bytes(pages: Sequence[Drawing], title: str, remark: str = "") -> bytes:
    """One PDF file. Raises ValueError for a page larger than any reader takes."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    if FONT not in pdfmetrics.getRegisteredFontNames():
        font = TTFont(FONT, FONT_FILE)
        font.face.name = FONT.encode()  # only the letters in use are put in
        pdfmetrics.registerFont(font)
    if max(side for page in pages for side in page.size) > LARGEST:
        raise ValueError(f"a page longer than {LARGEST:.0f} mm")
    buffer = io.BytesIO()
    # without an initial font the file would name one that it does not carry
    canvas = Canvas(buffer, invariant=1, pageCompression=1, initialFontName=FONT)
    canvas.setTitle(f"{title} - {remark}" if remark else title)
    canvas.setAuthor(PROGRAM)
    canvas.setCreator(PROGRAM)
    canvas.setProducer(PROGRAM)
    canvas.setViewerPreference(
        "PrintScaling", "None"
    )  # asks for 100 %; otherwise print dialogues would fit the page to the paper
    forms = _Forms(canvas)
    for page in pages:
        canvas.setPageSize((page.size[0] * POINTS, page.size[1] * POINTS))
        for mark in page.marks:
            if isinstance(mark, Window):
                forms.prepare(mark.drawing)
        canvas.saveState()
        canvas.scale(POINTS, POINTS)
        canvas.translate(-page.box[0], -page.box[1])
        for mark in page.marks:
            if isinstance(mark, Window):
                forms.place(mark)
            else:
                _draw(canvas, mark)
        canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


class _Forms:
    """The drawings seen through windows: each is drawn into the file once, and then only placed."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.names: dict[int, str] = {}

    def prepare(self, drawing: Drawing) -> None:
        if id(drawing) in self.names:
            return
        name = self.names[id(drawing)] = f"drawing{len(self.names) + 1}"
        self.canvas.beginForm(name, *drawing.box)
        for mark in drawing.marks:
            _draw(self.canvas, mark)
        self.canvas.endForm()

    def place(self, window: Window) -> None:
        canvas, (x0, y0, x1, y1), (x, y) = self.canvas, window.box, window.at
        canvas.saveState()
        edge = canvas.beginPath()
        edge.rect(x, y, x1 - x0, y1 - y0)
        canvas.clipPath(edge, stroke=0, fill=0)
        canvas.translate(x - x0, y - y0)
        canvas.doForm(self.names[id(window.drawing)])
        canvas.restoreState()


def _draw(canvas: Any, mark: Mark) -> None:
    """One mark, in mm."""
    if isinstance(mark, Window):
        raise ValueError("a window within a window")
    layer = mark.layer
    canvas.setStrokeColorRGB(*layer.colour)
    canvas.setLineWidth(layer.pen)
    canvas.setDash(list(layer.dash))
    if isinstance(mark, Text):
        _text(canvas, mark)
    elif isinstance(mark, Circle):
        canvas.circle(*mark.at, mark.radius, stroke=1, fill=0)
    else:
        _path(canvas, mark, layer)


def _text(canvas: Any, text: Text) -> None:
    canvas.saveState()
    canvas.setFillColorRGB(*text.layer.colour)
    canvas.translate(*text.at)
    canvas.rotate(text.turn)
    canvas.setFont(FONT, size_of(text.height))
    put = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    put[text.anchor](0, 0, text.says)
    canvas.restoreState()


def _path(canvas: Any, mark: Path, layer: Layer) -> None:
    path = canvas.beginPath()
    path.moveTo(*mark.points[0])
    for start, end, bulge in mark.stretches():
        if bulge == 0:
            path.lineTo(*end)
            continue
        (x, y), radius, angle, turned = arc_of(start, end, bulge)
        box = (x - radius, y - radius, x + radius, y + radius)
        path.arcTo(*box, math.degrees(angle), math.degrees(turned))
    if mark.closed:
        path.close()
    if mark.filled:
        canvas.setFillColorRGB(*layer.tint)
    canvas.drawPath(path, stroke=1, fill=int(mark.filled))


def problems(data: bytes, pages: Sequence[Drawing]) -> list[str]:
    """Faults in a PDF file's frame: its ends, its table of objects, the number and sizes of its pages, fonts that are
    not inside the file."""
    found = []
    if not data.startswith(b"%PDF-1.") or not data.rstrip().endswith(b"%%EOF"):
        return ["it is not a whole PDF file"]
    found += _table_problems(data)
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", data)
    if len(boxes) != len(pages):
        found.append(f"{len(boxes)} pages, not {len(pages)}")
    for k, (page, box) in enumerate(zip(pages, boxes, strict=False), 1):
        off = max(abs(float(side) - size * POINTS) for side, size in zip(box, page.size, strict=True))
        if off > SIZE_ERROR:
            found.append(f"page {k}: its size is off by {off / POINTS:.4f} mm")
    fonts, files = len(re.findall(rb"/Subtype /TrueType", data)), len(re.findall(rb"/FontFile2 ", data))
    if fonts != files or b"/Subtype /Type1" in data:
        found.append("a font is not inside the file")
    return found


def _table_problems(data: bytes) -> list[str]:
    start = re.search(rb"startxref\s+(\d+)\s+%%EOF\s*$", data)
    if start is None or not data[int(start[1]) :].startswith(b"xref"):
        return ["its table of objects is not where it says"]
    rows = re.findall(rb"(\d{10}) \d{5} n", data[int(start[1]) :])
    if any(not re.match(rb"\d+ 0 obj", data[int(row) : int(row) + 20]) for row in rows):
        return ["an object is not where its table says"]
    return []
