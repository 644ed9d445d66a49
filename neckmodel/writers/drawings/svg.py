"""SVG: a page in mm, one group for each layer and stretch of the drawing, in the order in which it is drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path as FilePath
from xml.etree import ElementTree
from xml.sax.saxutils import escape, quoteattr

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.display import Circle, Drawing, Layer, Mark, Path, Text, Window
from neckmodel.sheets.marks.lettering import size_of, width
from neckmodel.writers.base import Target, refuse
from neckmodel.writers.drawings.pages import SheetJob, pages_of, targets

DECIMALS = 4
FAMILY = "sans-serif"
SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class SvgWriter:
    """SVG files: one page in one file."""

    name: str = "svg"
    suffix: str = ".svg"
    says: str = "drawings for the screen, true to size"

    def targets(self, job: SheetJob) -> tuple[Target, ...]:
        """One file for each page of a sheet."""
        return targets(job, self.name, self.suffix, paged=False)

    def write(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Writes the page."""
        path.write_bytes(svg_text(self._page(job, target), job.remark).encode())

    def verify(self, job: SheetJob, target: Target, path: FilePath) -> None:
        """Compares the file with the page: its size and its marks."""
        refuse(path, problems(path.read_bytes(), self._page(job, target)))

    def _page(self, job: SheetJob, target: Target) -> Drawing:
        return pages_of(job, self.name, self.suffix, target, paged=False)[0]


def svg_text(page: Drawing, remark: str = "") -> str:
    """The text of an SVG file; y is turned downward, as SVG counts it."""
    (wide, high), title = page.size, f"{page.title} - {remark}" if remark else page.title
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(wide)}mm" height="{_n(high)}mm" '
        f'viewBox="0 0 {_n(wide)} {_n(high)}"><title>{escape(title)}</title>'
    )
    frame = _Frame(page.box[0], page.box[3])
    body, _ = _body(page.marks, frame, 0)
    return "\n".join([head, *body, "</svg>\n"])


@dataclass(frozen=True)
class _Frame:
    """The page's place on the paper: turns the drawing's mm into the file's."""

    left: float
    top: float

    def at(self, point: Point) -> str:
        return f"{_n(point[0] - self.left)} {_n(self.top - point[1])}"


def _body(marks: Sequence[Mark], frame: _Frame, windows: int) -> tuple[list[str], int]:
    """Lines of SVG, and how many windows there have been so far."""
    lines: list[str] = []
    for layer, group in groupby(marks, key=lambda mark: None if isinstance(mark, Window) else mark.layer):
        if layer is None:
            for window in (mark for mark in group if isinstance(mark, Window)):
                windows += 1
                found, windows = _window(window, frame, windows)
                lines += found
            continue
        lines.append(_group(layer))
        lines += [_mark(mark, frame) for mark in group if not isinstance(mark, Window)]
        lines.append("</g>")
    return lines, windows


def _window(window: Window, frame: _Frame, number: int) -> tuple[list[str], int]:
    (x0, y0, x1, y1), (x, y) = window.box, window.at
    left, top = x - frame.left, frame.top - y - (y1 - y0)
    size = f'width="{_n(x1 - x0)}" height="{_n(y1 - y0)}"'
    clip = f'<clipPath id="window{number}"><rect x="{_n(left)}" y="{_n(top)}" {size}/></clipPath>'
    inner = _Frame(x0 - left, y1 + top)
    body, after = _body(window.drawing.marks, inner, number)
    return [clip, f'<g clip-path="url(#window{number})">', *body, "</g>"], after


def _group(layer: Layer) -> str:
    dash = f' stroke-dasharray="{" ".join(map(_n, layer.dash))}"' if layer.dash else ""
    return (
        f'<g data-layer={quoteattr(layer.name)} fill="none" stroke="{_colour(layer.colour)}" '
        f'stroke-width="{_n(layer.pen)}"{dash}>'
    )


def _mark(mark: Path | Circle | Text, frame: _Frame) -> str:
    if isinstance(mark, Circle):
        x, y = frame.at(mark.at).split()
        return f'<circle cx="{x}" cy="{y}" r="{_n(mark.radius)}"/>'
    if isinstance(mark, Text):
        return _text(mark, frame)
    pieces = [f"M{frame.at(mark.points[0])}"]
    for start, end, bulge in mark.stretches():
        if bulge == 0:
            pieces.append(f"L{frame.at(end)}")
            continue
        _, radius, _, turned = arc_of(start, end, bulge)
        # the picture is mirrored: what turns anticlockwise in mm turns against SVG's angle
        pieces.append(f"A{_n(radius)} {_n(radius)} 0 {int(abs(turned) > math.pi)} {int(turned < 0)} {frame.at(end)}")
    fill = f' fill="{_colour(mark.layer.tint)}"' if mark.filled else ""
    return f'<path d="{"".join(pieces)}{"Z" if mark.closed else ""}"{fill}/>'


def _text(text: Text, frame: _Frame) -> str:
    x, y = frame.at(text.at).split()
    turn = f' transform="rotate({_n(-text.turn)} {x} {y})"' if text.turn else ""
    # with its length stated the text keeps its room in whatever font the viewer has
    return (
        f'<text x="{x}" y="{y}" font-size="{_n(size_of(text.height))}" font-family="{FAMILY}" '
        f'text-anchor="{text.anchor}" textLength="{_n(width(text.says, text.height))}" '
        f'lengthAdjust="spacingAndGlyphs" fill="{_colour(text.layer.colour)}" stroke="none"{turn}>'
        f"{escape(text.says)}</text>"
    )


def _n(value: float) -> str:
    """A number with as few signs as it takes, never "-0"."""
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _colour(rgb: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(255 * part):02x}" for part in rgb)


def problems(data: bytes, page: Drawing) -> list[str]:
    """Differences between an SVG file and its page: the size, and the number of marks of each kind."""
    try:
        root = ElementTree.fromstring(data)  # what this program has just written
    except ElementTree.ParseError as error:
        return [f"it is not XML: {error}"]
    found = []
    sizes = (f"{_n(page.size[0])}mm", f"{_n(page.size[1])}mm")
    if (root.get("width"), root.get("height")) != sizes:
        found.append("its size is not the drawing's")
    for kind, tag in ((Path, "path"), (Circle, "circle"), (Text, "text")):
        meant, there = _count(page.marks, kind), len(root.findall(f".//{SVG}{tag}"))
        if meant != there:
            found.append(f"{there} of {tag}, not {meant}")
    says = [mark.says for mark in _texts(page.marks)]
    if [element.text for element in root.iter(f"{SVG}text")] != says:
        found.append("its words are not the drawing's")
    return found


def _count(marks: Sequence[Mark], kind: type) -> int:
    inner = sum(_count(mark.drawing.marks, kind) for mark in marks if isinstance(mark, Window))
    return inner + sum(isinstance(mark, kind) for mark in marks)


def _texts(marks: Sequence[Mark]) -> list[Text]:
    found: list[Text] = []
    for mark in marks:
        if isinstance(mark, Window):
            found += _texts(mark.drawing.marks)
        elif isinstance(mark, Text):
            found.append(mark)
    return found
