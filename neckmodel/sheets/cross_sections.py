"""The cross-section sheet: the neck cut through at the nut, at chosen frets and where its wall is least."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.lengths import with_unit
from neckmodel.sheets.display import Drawing
from neckmodel.sheets.layers import TEXT, plain
from neckmodel.sheets.lettering import wrap
from neckmodel.sheets.pages import MARGIN, Pages
from neckmodel.sheets.paper import Paper
from neckmodel.sheets.section import Row, draw_section, draw_walls, section_facts
from neckmodel.sheets.sketch import Sketch
from neckmodel.sheets.titles import Titles

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

FRETS = (1, 3, 5, 7, 9, 12, 15)
SCALES = {2.0: "2:1", 1.0: "1:1", 0.5: "1:2"}  # the first that leaves room for words beside the widest section
WORDS = 62.0  # mm for them
GAP = 6.0
VALUES = 10.0  # mm below a section for its walls' values
NEAR = 0.5  # mm; sections nearer to each other are drawn once


def draw_cross_sections(
    layout: Layout, findings: Findings | None, titles: Titles, paper: Paper, frets: tuple[int, ...] = FRETS
) -> tuple[Drawing, ...]:
    """paper: as it lies. frets: which are cut through, as far as they lie on the neck."""
    places = section_places(layout, findings, frets)
    widest = 2 * max(layout.outside.half_width(x) for _, x in places)
    room = paper.width - 2 * MARGIN - GAP - WORDS
    scale = next((scale for scale in SCALES if widest * scale <= room), min(SCALES))
    pages = Pages(paper, f"cross-sections, {SCALES[scale]}", titles)
    way = "right" if layout.left_handed else "left"
    pages.paragraph(
        f"Seen from the head: the treble side lies to the {way}. The arrows show the least wood between each cut and "
        "the finished back within the section; between two sections the wood may be a little less. The channel is "
        "drawn with the rod in it, backed right off.",
    )
    for line in titles.verdict.walls:
        pages.paragraph(line)
    for name, x in places:
        _one(pages, layout, name, x, titles.unit, scale, MARGIN + widest * scale + GAP)
    return pages.finish()


def section_places(
    layout: Layout, findings: Findings | None, frets: tuple[int, ...] = FRETS
) -> tuple[tuple[str, float], ...]:
    """(name, x) of every section, from the nut on: the nut, the frets, the least wall of every step, the joint."""
    heel = layout.heel
    places = [("nut", 0.0)]
    places += [(f"fret {n}", layout.frets.x(n)) for n in frets if layout.frets.x(n) <= heel.x_swell]
    measured = _measured(layout, findings)
    walls = [(f"least wall round the {plain(wall.step)}", wall.x) for wall in layout.walls]
    places += measured or walls
    places.append(("joint", heel.x_joint))
    kept: list[tuple[str, float]] = []
    for name, x in sorted(places, key=lambda place: place[1]):
        if kept and x - kept[-1][1] < NEAR:
            kept[-1] = (f"{kept[-1][0]}; {name}", kept[-1][1])
        else:
            kept.append((name, x))
    return tuple(kept)


def _measured(layout: Layout, findings: Findings | None) -> list[tuple[str, float]]:
    """Where the checks found the least wall of every step under the fretboard. The wood that they found may lie a hair
    beside the step's end; the section is taken through the step."""
    steps, places = {step.name: step for step in layout.steps}, []
    for found in findings.findings if findings is not None else ():
        step = steps.get(found.check.removeprefix("wall/"))
        if step is not None and found.at is not None and found.measured is not None:
            x = min(max(found.at.x, step.x_start, 0.0), step.x_end)
            value = with_unit(found.measured, layout.design.design.units)
            places.append((f"least wall round the {plain(step.name)}, {value} as measured", x))
    return places


def _one(pages: Pages, layout: Layout, name: str, x: float, unit: str, scale: float, start: float) -> None:
    """One section and, from x = start of the page on, its numbers."""
    half = layout.outside.half_width(x)
    over = layout.fretboard.thickness + 4.0
    deep = layout.heel.depth_at(x) if x >= layout.heel.x_joint else layout.back.depth(x)
    lines = [line for fact in section_facts(layout, x, unit) for line in wrap(fact, 1.9, MARGIN + pages.room - start)]
    title = wrap(name, 2.6, pages.room)
    high = max((over + deep) * scale, len(lines) * 3.4 + 3.0) + VALUES
    high += 4.6 * len(title) + 4.0
    pages.need(high)

    def draw(sketch: Sketch, left: float, top: float) -> None:
        y = sketch.lines(TEXT, (left, top - 5.0), title, 2.6, 4.6)
        at = (left + half * scale, y - over * scale + 4.0)
        draw_section(sketch, layout, x, at, scale)
        draw_walls(sketch, layout, x, at, scale, unit, Row(left, left + pages.room, top - high + 3.0))
        sketch.lines(TEXT, (start, y - 3.0), lines, 1.9, 3.4)

    pages.figure(high, draw)
