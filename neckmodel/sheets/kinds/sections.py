"""The cross-section sheet: sections of the neck at the nut, at chosen frets, at its least walls, at screws and at
tuners."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.lengths import with_unit
from neckmodel.sheets.marks.display import Drawing, Layer, Window
from neckmodel.sheets.marks.layers import BEYOND, TEXT
from neckmodel.sheets.marks.lettering import LETTERS, wrap
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.pages.legend import draw_legend, legend_height
from neckmodel.sheets.pages.pages import MARGIN, Pages
from neckmodel.sheets.pages.sizes import Paper
from neckmodel.sheets.pages.titles import Titles
from neckmodel.sheets.views.body import BodySection, body_sections, body_words, draw_body_section
from neckmodel.sheets.views.head import draw_head_section, head_places, head_words
from neckmodel.sheets.views.section import Row, draw_section, draw_walls, section_words

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout

FRETS = (1, 3, 5, 7, 9, 12, 15)
SCALES = {2.0: "2:1", 1.0: "1:1", 0.5: "1:2"}  # the first that fits
TALLEST = 110.0  # mm that a section may take down the page
WORDS = 66.0  # mm beside it
GAP = 6.0  # mm between a section and its words
VALUES = 7.5  # mm below a section for its walls' values
NEAR = 0.5  # mm; sections nearer to each other are drawn once
NAME, PITCH = 2.5, 3.1  # mm


@dataclass(frozen=True)
class Cut:
    """One section to be drawn. draw: (sketch, place of its middle, scale). walls: whether the walls' values stand below
    it."""

    name: str
    x: float
    facts: tuple[str, ...]
    draw: Callable[[Sketch, Point, float], None]
    walls: bool

    @cached_property
    def alone(self) -> Sketch:
        """The section at its own size, its middle at the origin."""
        sketch = Sketch()
        self.draw(sketch, (0.0, 0.0), 1.0)
        return sketch

    @cached_property
    def reach(self) -> tuple[float, float, float]:
        """How far it reaches to either side, above and below the origin, mm of the neck."""
        x0, y0, x1, y1 = self.alone.bounds()
        return max(-x0, x1), y1, -y0


def draw_cross_sections(
    layout: Layout, findings: Findings | None, titles: Titles, paper: Paper, frets: tuple[int, ...] = FRETS
) -> tuple[Drawing, ...]:
    """The sheet. paper: as it lies. frets: those at which the neck is cut through, as far as they lie on it."""
    cuts = [*(_of_head(layout, name, x, titles.unit) for name, x in head_places(layout, findings))]
    cuts += [_of_neck(layout, name, x, titles.unit) for name, x in section_places(layout, findings, frets)]
    cuts += [_of_body(layout, section, titles.unit) for section in body_sections(layout)]
    used = tuple(dict.fromkeys(mark.layer for cut in cuts for mark in cut.alone.marks if not isinstance(mark, Window)))
    pages = Pages(paper, "cross-sections", titles)
    way = "right" if layout.left_handed else "left"
    pages.paragraph(
        f"Seen from the {layout.head.named}: the treble side lies to the {way}.{_arrows(layout)}{_also(layout, used)}"
    )
    for line in titles.verdict.walls:
        pages.paragraph(line)
    tall = legend_height(used, pages.room)

    def legend(sketch: Sketch, left: float, top: float) -> None:
        draw_legend(sketch, used, left, top, pages.room)

    pages.figure(tall + 2.0, legend)
    for cut in cuts:
        _one(pages, layout, cut, titles.unit)
    return pages.finish()


def _arrows(layout: Layout) -> str:
    """What the arrows show; none are drawn where nothing is cut."""
    if not layout.steps:
        return ""
    return (
        " The arrows show the least wood between each cut and the finished back within the section; between two "
        "sections the wood may be a little less."
    )


def _also(layout: Layout, used: tuple[Layer, ...]) -> str:
    """How the parts in the neck are drawn, in words, if there are any."""
    rod = " The rod is drawn backed right off." if layout.rod is not None else ""
    return f"{rod} What lies just beyond a section is drawn with short dashes." if BEYOND in used else rod


def section_places(
    layout: Layout, findings: Findings | None, frets: tuple[int, ...] = FRETS
) -> tuple[tuple[str, float], ...]:
    """(name, x) of every section from the nut on: the nut, the frets, the least wall of every step, the joint, the
    heel's screws."""
    heel = layout.heel
    places = [("nut", 0.0)]
    places += [(f"fret {n}", layout.frets.x(n)) for n in frets if layout.frets.x(n) <= heel.x_swell]
    measured = _measured(layout, findings)
    walls = [(f"least wood round {_with_article(wall.step)}", wall.x) for wall in layout.walls]
    places += measured or walls
    places.append(("joint", heel.x_joint))
    if heel.tenon is not None and heel.tenon.name == "dovetail":
        places.append(("dovetail's end", heel.x_end))
    places += [(plain(screw.name), screw.x) for screw in layout.screws]
    if layout.peg is not None:
        places.append((layout.peg.name, layout.peg.mouth[0]))
    kept: list[tuple[str, float]] = []
    for name, x in sorted(places, key=lambda place: place[1]):
        if kept and x - kept[-1][1] < NEAR:
            kept[-1] = (f"{kept[-1][0]}; {name}", kept[-1][1])
        else:
            kept.append((name, x))
    return tuple(kept)


def _measured(layout: Layout, findings: Findings | None) -> list[tuple[str, float]]:
    """Where the checks found the least wall of every step under the fretboard. That place may lie a hair beside the
    step's end; the section is taken through the step."""
    steps, places = {step.name: step for step in layout.steps}, []
    for found in findings.findings if findings is not None else ():
        step = steps.get(found.check.removeprefix("wall/"))
        if step is not None and found.at is not None and found.measured is not None:
            x = min(max(found.at.x, step.x_start, 0.0), step.x_end)
            value = with_unit(found.measured, layout.design.design.units)
            places.append((f"least wood round {_with_article(step.name)}, {value} as measured", x))
    return places


def _with_article(step: str) -> str:
    """`the run`; bars have numbers: `bar 1`."""
    return plain(step) if step[-1].isdigit() else f"the {plain(step)}"


def _of_neck(layout: Layout, name: str, x: float, unit: str) -> Cut:
    def draw(sketch: Sketch, at: Point, scale: float) -> None:
        draw_section(sketch, layout, x, at, scale)

    return Cut(name, x, tuple(section_words(layout, x, unit)), draw, walls=True)


def _of_head(layout: Layout, name: str, x: float, unit: str) -> Cut:
    def draw(sketch: Sketch, at: Point, scale: float) -> None:
        draw_head_section(sketch, layout, x, at, scale)

    return Cut(name, x, tuple(head_words(layout, x, unit)), draw, walls=False)


def _of_body(layout: Layout, section: BodySection, unit: str) -> Cut:
    def draw(sketch: Sketch, at: Point, scale: float) -> None:
        draw_body_section(sketch, layout, section, at, scale)

    return Cut(section.name, section.x, tuple(body_words(layout, section, unit)), draw, walls=False)


def _one(pages: Pages, layout: Layout, cut: Cut, unit: str) -> None:
    """One section and, beside it, its name and its numbers."""
    room = pages.room - GAP - WORDS
    half, over, deep = cut.reach
    fits = [s for s in SCALES if 2 * half * s <= room and (over + deep) * s <= TALLEST]
    scale = next(iter(fits), min(SCALES))
    start = MARGIN + room + GAP
    title = wrap(cut.name, NAME, WORDS)
    lines = [line for fact in (*cut.facts, f"drawn {SCALES[scale]}") for line in wrap(fact, LETTERS, WORDS)]
    words = len(title) * 4.2 + len(lines) * PITCH + 2.0
    high = max((over + deep) * scale + (VALUES if cut.walls else 0.0), words) + 2.0

    def draw(sketch: Sketch, left: float, top: float) -> None:
        at = (left + room / 2, top - 1.0 - over * scale)
        cut.draw(sketch, at, scale)
        if cut.walls:
            row = Row(left, left + room, at[1] - deep * scale - VALUES + 1.5)
            draw_walls(sketch, layout, cut.x, at, scale, unit, row)
        y = sketch.lines(TEXT, (start, top - 1.0 - NAME), title, NAME, 4.2)
        sketch.lines(TEXT, (start, y + 0.4), lines, LETTERS, PITCH)

    pages.figure(high, draw)
