"""Whether the words of a page stand clear: of its lines, of each other, of the edges of windows. Asked by shapely."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
import shapely.affinity

from neckmodel.sheets import Drawing
from neckmodel.sheets.marks.arcs import arc_of
from neckmodel.sheets.marks.display import Circle, Text, Window
from neckmodel.sheets.marks.display import Path as Line
from neckmodel.sheets.marks.lettering import text_box

INSIDE = 0.1  # mm that a line may reach into a box of words: letters do not fill theirs


@dataclass(frozen=True)
class Seen:
    """What is on a page. words: with their boxes. lines: with the names of their layers. cut: words that a window shows
    a part of."""

    words: list[tuple[str, shapely.Geometry]]
    lines: list[tuple[str, shapely.Geometry]]
    cut: list[str]


def seen(page: Drawing) -> Seen:
    """A page with its windows opened."""
    found = Seen([], [], [])
    for mark in page.marks:
        if isinstance(mark, Window):
            _through(mark, found)
        elif isinstance(mark, Text):
            found.words.append((mark.says, shapely.box(*text_box(mark))))
        elif isinstance(mark, Circle):
            ring = shapely.Point(mark.at).buffer(mark.radius, quad_segs=32).exterior
            found.lines.append((mark.layer.name, ring))
        else:
            found.lines.append((mark.layer.name, shapely.LineString(points(mark))))
    return found


def _through(window: Window, found: Seen) -> None:
    (x0, y0, x1, y1), (x, y) = window.box, window.at
    inner, glass = seen(window.drawing), shapely.box(x, y, x + x1 - x0, y + y1 - y0)
    for name, line in inner.lines:
        part = shapely.intersection(shapely.affinity.translate(line, x - x0, y - y0), glass)
        if not part.is_empty:
            found.lines.append((name, part))
    for says, box in inner.words:
        there = shapely.affinity.translate(box, x - x0, y - y0)
        if there.within(glass):
            found.words.append((says, there))
        elif there.intersects(glass):
            found.cut.append(says)


def points(line: Line) -> list[tuple[float, float]]:
    """Arcs by chords of some 3 degrees."""
    there = [line.points[0]]
    for start, end, bulge in line.stretches():
        if bulge:
            (x, y), radius, angle, turned = arc_of(start, end, bulge)
            count = max(math.ceil(abs(turned) / 0.05), 2)
            turns = [angle + turned * k / count for k in range(1, count)]
            there += [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]
        there.append(end)
    return there if len(there) > 1 else there * 2


def crossed(page: Drawing) -> list[tuple[str, str]]:
    """(words, layer) of every line that runs into the box of some words."""
    there = seen(page)
    if not there.words or not there.lines:
        return []
    boxes = [box.buffer(-INSIDE, join_style="mitre") for _, box in there.words]
    tree = shapely.STRtree([line for _, line in there.lines])
    pairs = tree.query(boxes, predicate="intersects").T
    return [(there.words[word][0], there.lines[line][0]) for word, line in pairs]
