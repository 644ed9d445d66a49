"""Drawings of the sheets as SVG inside the page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import plain
from neckmodel.report.html import Html, el, fold, joined, list_of, section
from neckmodel.sheets.kinds.marking import fret_dimensions, station_dimensions
from neckmodel.sheets.kinds.sections import section_places
from neckmodel.sheets.marks.dimensions import note_lanes, running_lane
from neckmodel.sheets.marks.display import Drawing, Text
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.body import BodySection, body_sections, body_words, draw_body_section
from neckmodel.sheets.views.corners import corners_height, draw_corners
from neckmodel.sheets.views.plan import blank_reach, draw_plan, plan_half
from neckmodel.sheets.views.section import Row, draw_section, draw_walls, section_words
from neckmodel.sheets.views.side import draw_elevation, side_notes
from neckmodel.writers.drawings.svg import svg_text

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.layout import Layout
    from neckmodel.layout.workshop.router import RouterSetting

LETTERS = (
    1 / 150
)  # height of capitals as a share of the drawing's length: legible where the drawing is as wide as a page
EDGE = 4.0  # mm round a drawing
SECTION_SCALE = 2.0  # cross-sections are drawn at twice their size
SECTION_ROOM = 6.0  # mm beside a section, for its walls' values


def drawings(layout: Layout, findings: Findings) -> Html:
    """The section with all drawings."""
    unit = layout.design.design.units
    return section(
        "drawings",
        "Plan, side view and sections",
        el("h3", "From above"),
        figure(plan_drawing(layout), "drawing"),
        el("h3", "From the side"),
        figure(side_drawing(layout), "drawing"),
        el("p", "Not to scale on the screen. Drawings true to size: the command ", el("code", "neckmodel sheets"), "."),
        el("h3", "Cross-sections"),
        el(
            "p",
            f"Seen from the {layout.head.named}."
            + (
                " Arrows show the least wood between each cut and the finished back within the section."
                if layout.steps
                else ""
            ),
            class_="small",
        ),
        *_cross_sections(layout, findings, unit),
    )


def _cross_sections(layout: Layout, findings: Findings, unit: str) -> tuple[Html, ...]:
    """The cross-sections at the nut, the joint and a least wall; those at other frets are folded away."""
    places = section_places(layout, findings)
    at_frets = [place for place in places if place[0].startswith("fret ")]
    chief = [place for place in places if place not in at_frets]
    body = [_body_section(layout, section, unit) for section in body_sections(layout)]
    found = [el("div", *(_cross_section(layout, name, x, unit) for name, x in chief), *body, class_="cuts")]
    if at_frets:
        more = el("div", *(_cross_section(layout, name, x, unit) for name, x in at_frets), class_="cuts")
        found.append(fold(f"{len(at_frets)} more, at frets", more))
    return tuple(found)


def picture(layout: Layout) -> Drawing:
    """The neck from above and from the side, at one scale, without words."""
    sketch, half = Sketch(), plan_half(layout)
    draw_plan(sketch, layout)
    top = max(layout.fretboard.thickness, layout.nut.z_seat + layout.nut.height)
    draw_elevation(sketch, layout, -half - top - EDGE)
    sketch.marks = [mark for mark in sketch.marks if not isinstance(mark, Text)]
    return _framed(sketch, f"{layout.name} from above, {layout.side_up} side up, and from the side")


def plan_drawing(layout: Layout) -> Drawing:
    """Everything on the blank's upper face, with frets and stations by their x."""
    sketch, room, edge = Sketch(), _room(layout), plan_half(layout)
    height = LETTERS * (room[1] - room[0])
    draw_plan(sketch, layout)
    running_lane(sketch, fret_dimensions(layout), edge, True, height, room, 2.0)
    running_lane(sketch, station_dimensions(layout), -edge, False, height, room, 2.0)
    return _framed(sketch, f"{layout.name} from above, {layout.side_up} side up; x from the nut")


def side_drawing(layout: Layout) -> Drawing:
    """Blank, finished back, rod and the channel's floors from the side."""
    sketch, room = Sketch(), _room(layout)
    draw_elevation(sketch, layout, 0.0)
    low = min(z for _, z in layout.blank_profile)
    note_lanes(sketch, side_notes(layout, 0.0), low - 2.0, LETTERS * (room[1] - room[0]), room)
    return _framed(sketch, f"{layout.name} from the side, the strings' side up")


def cross_section(layout: Layout, name: str, x: float) -> Drawing:
    """The section at x, twice its size, its walls' values below it."""
    sketch, at = Sketch(), (0.0, 0.0)
    draw_section(sketch, layout, x, at, SECTION_SCALE)
    low, reach = sketch.bounds()[1], layout.outside.reach(x) * SECTION_SCALE + SECTION_ROOM
    row = Row(-reach, reach, low - SECTION_ROOM)
    draw_walls(sketch, layout, x, at, SECTION_SCALE, layout.design.design.units, row)
    return _framed(sketch, f"{layout.name}, cross-section: {name}")


def corners_figure(setting: RouterSetting, unit: str) -> Html:
    """The wood that the chisel takes out of a step's corners."""
    sketch = Sketch()
    draw_corners(sketch, setting, unit, (0.0, corners_height(setting)))
    return figure(_framed(sketch, f"corners of the {plain(setting.step.name)} to square"), "corners")


def figure(drawing: Drawing, class_: str | None = None, caption: str = "") -> Html:
    """A drawing as a figure of the page, with its caption."""
    svg = inline(drawing)
    if class_ == "drawing":  # a wide drawing scrolls inside its own box
        return el("div", svg, class_=class_, tabindex="0", role="region", aria_label=drawing.title)
    return el("figure", svg, el("figcaption", caption) if caption else Html(""), class_=class_)


def inline(drawing: Drawing) -> Html:
    """A drawing as an element as wide as its place. Its title says what it shows."""
    text = svg_text(drawing)
    return Html(re.sub(r' width="[^"]*mm" height="[^"]*mm"', ' role="img"', text, count=1))


def _cross_section(layout: Layout, name: str, x: float, unit: str) -> Html:
    caption = el("figcaption", el("strong", name), list_of(section_words(layout, x, unit)))
    return el("figure", inline(cross_section(layout, name, x)), joined([caption]))


def _body_section(layout: Layout, section: BodySection, unit: str) -> Html:
    sketch = Sketch()
    draw_body_section(sketch, layout, section, (0.0, 0.0), SECTION_SCALE)
    drawing = _framed(sketch, f"{layout.name}, cross-section: {section.name}")
    caption = el("figcaption", el("strong", section.name), list_of(body_words(layout, section, unit)))
    return el("figure", inline(drawing), joined([caption]))


def _room(layout: Layout) -> tuple[float, float]:
    """x between which labels may stand: over board, blank and fretboard, whichever reaches farther."""
    x0, x1 = blank_reach(layout)
    length = layout.board[0] if layout.board is not None else x1 - x0
    over = max((length - (x1 - x0)) / 2, EDGE)
    return x0 - over, max(x1 + over, layout.fretboard.x_last + EDGE)


def _framed(sketch: Sketch, title: str) -> Drawing:
    x0, y0, x1, y1 = sketch.bounds()
    return sketch.drawing(title, (x0 - EDGE, y0 - EDGE, x1 + EDGE, y1 + EDGE))
