"""One cross-section of the neck: its outside, its openings, the parts in it, and the least wood."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.layout.channel.step import plain
from neckmodel.layout.channel.walls import opening
from neckmodel.layout.rod.way import THREAD
from neckmodel.lengths import decimal, tool_size, with_unit
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Path
from neckmodel.sheets.marks.labels import spread_within
from neckmodel.sheets.marks.lettering import LETTERS, width
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.contents import draw_contents, draw_nut, nut_top
from neckmodel.sheets.views.hand import as_built
from neckmodel.sheets.views.rod import two_bars
from neckmodel.sheets.views.strips import draw_strips

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

POINTS = 721  # round the back
CURVED = 40  # stretches of a heel's side that narrows
DRAWN = 6  # every so many of them is drawn
LEAST_PART = 0.1  # mm of a fretboard's width worth drawing
BETWEEN = 3.0  # mm between the walls' values


@dataclass(frozen=True)
class Row:
    """Where the walls' values stand on the page: between left and right, their feet at y, mm."""

    left: float
    right: float
    y: float


@dataclass(frozen=True)
class WallLine:
    """The least wood round one step in one section: from the step's surface to the back, (y, z) mm, and its length."""

    step: str
    start: Point
    end: Point
    wall: float


def back_line(layout: Layout, x: float) -> np.ndarray:
    """(n, 2) float, mm: (y, z) round the finished back from the bass edge to the treble edge. In the heel its sides are
    upright and its bottom is level; in the swell toward it, it is the carve's own shape."""
    heel = layout.heel
    if x >= heel.x_joint:
        deep = heel.depth_at(x)
        curved = heel.half_bottom is not None and x == heel.x_joint
        depths = np.linspace(0.0, deep, CURVED + 1).tolist() if curved else [0.0, deep]
        bass = [(-_half_at(layout, x, down), -down) for down in depths]
        corners = [*bass, *((-y, z) for y, z in bass[::-1])]
        counts = [POINTS // 3 // (len(depths) - 1)] * (len(depths) - 1)
        pairs = zip(pairwise(corners), (*counts, POINTS // 3, *counts), strict=True)
        return np.concatenate([np.linspace(a, b, count) for (a, b), count in pairs])
    return layout.back.section(x).points(POINTS)


def _half_at(layout: Layout, x: float, depth: float) -> float:
    """Half width of the heel at the joint, or of the tenon beyond it, `depth` below the glue plane, mm."""
    heel = layout.heel
    if heel.tenon is not None and x > heel.x_joint:
        return heel.tenon.half_at(x, depth)
    return layout.outside.half_width(x) * heel.narrowing(depth)


def _in_dovetail(layout: Layout, x: float) -> bool:
    tenon = layout.heel.tenon
    return tenon is not None and tenon.name == "dovetail" and x > layout.heel.x_joint


def wall_line(layout: Layout, step: Step, x: float) -> WallLine:
    """Where the least wood round the step lies in the section at x."""
    cut = opening(step, x)
    skin = back_line(layout, x)
    nearest = np.stack([np.clip(skin[:, 0], cut.y_low, cut.y_high), np.maximum(skin[:, 1], -cut.depth)], axis=-1)
    gaps = np.hypot(*(skin - nearest).T)
    k = int(gaps.argmin())
    if step.bored:  # `opening` gives its axis
        nearest[k] += (skin[k] - nearest[k]) * (step.width / 2 / gaps[k])
        gaps[k] -= step.width / 2
    start, end = (float(nearest[k, 0]), float(nearest[k, 1])), (float(skin[k, 0]), float(skin[k, 1]))
    return WallLine(step.name, start, end, float(gaps[k]))


def steps_at(layout: Layout, x: float) -> list[Step]:
    """The steps that the section at x cuts; where two meet at x, both."""
    return [step for step in layout.steps if step.x_start - 1e-6 <= x <= step.x_end + 1e-6]


def draw_section(sketch: Sketch, layout: Layout, x: float, at: Point, scale: float) -> None:
    """Draws the section at x, the middle of its glue plane at `at`, seen from the head: the treble side to the left, on
    a left-handed neck to the right."""
    right_handed = Sketch()
    _draw(right_handed, layout, x, at, scale)
    sketch.add(*as_built(layout, right_handed.marks, at[0]))


def _draw(sketch: Sketch, layout: Layout, x: float, at: Point, scale: float) -> None:
    def to(point: Point) -> Point:
        return at[0] - point[0] * scale, at[1] + point[1] * scale

    skin = back_line(layout, x)
    chosen = [k for k in range(len(skin)) if k % DRAWN == 0 or k == len(skin) - 1]
    outline = Path(layers.WOOD, tuple(to((float(skin[k, 0]), float(skin[k, 1]))) for k in chosen), (), True, True)
    sketch.add(outline)
    if layout.strips:
        draw_strips(sketch, layout, skin, to)
        sketch.add(replace(outline, filled=False))
    steps = steps_at(layout, x)
    for step in steps:
        cut, top = opening(step, x), -step.top_at(x)
        corners = ((cut.y_low, top), (cut.y_low, -cut.depth), (cut.y_high, -cut.depth), (cut.y_high, top))
        layer = replace(layers.of_step(step.name), tint=layers.HOLE_CUT.tint, group=layers.HOLE_CUT.name)
        if step.bored:
            sketch.circle(layer, to((step.y, -cut.depth)), step.width / 2 * scale)
            continue
        sketch.add(rounded_path(layer, [(to(corner), 0.0) for corner in corners], True))
    draw_back_strip(sketch, layout, steps, skin, (x, to))
    draw_contents(sketch, layout, x, to, scale, steps)
    _fretboard(sketch, layout, x, to)
    draw_nut(sketch, layout, x, to)
    sketch.line(layers.CENTRE, to((0.0, over_section(layout, x) - 0.5)), to((0.0, float(skin[:, 1].min()) - 1.0)))


def draw_back_strip(
    sketch: Sketch, layout: Layout, steps: list[Step], skin: np.ndarray, at: tuple[float, Callable[[Point], Point]]
) -> None:
    """Draws the strip behind the rod, from the rod's room to the back. at: x of the section, and where a point of it
    lies on the page."""
    strip, (x, to) = layout.back_strip, at
    behind = [step for step in steps if step.behind]
    if strip is None or not behind:
        return
    chief = max(behind, key=lambda step: step.width)
    half, top = chief.width / 2, -chief.depth_at(x)
    if strip.groove is not None:
        half = strip.groove.width / 2
    low, high = chief.y - half, chief.y + half
    under = [(float(y), float(z)) for y, z in skin if low < y < high and z < top]
    ends = [(y, float(np.interp(y, skin[:, 0], skin[:, 1]))) for y in (low, high)]
    points = [(low, top), ends[0], *under, ends[1], (high, top)]
    sketch.add(Path(layers.BACK_STRIP, tuple(to(point) for point in points), (), True, True))


def over_section(layout: Layout, x: float) -> float:
    """How far the drawing of a section reaches above the glue plane, mm of the neck."""
    at_nut = layout.nut.x_start - 1.0 < x <= layout.nut.x_end + abs(layout.nut.slope) * layout.nut.half_width
    return max(layout.fretboard.thickness, nut_top(layout) if at_nut else 0.0) + 2.0


def draw_walls(sketch: Sketch, layout: Layout, x: float, at: Point, scale: float, unit: str, row: Row) -> None:
    """Draws an arrow across the least wood round each step of that section, and its value in a row below."""
    lines = [wall_line(layout, step, x) for step in steps_at(layout, x)]
    if not lines:
        return

    def to(point: Point) -> Point:
        return at[0] - layout.across(point[0]) * scale, at[1] + point[1] * scale

    ordered = sorted(lines, key=lambda line: to(line.end)[0])
    words = [f"{plain(line.step)} {decimal(line.wall, unit)}" for line in ordered]
    room, low = (row.left, row.right), row.y
    wide = sum(width(says, LETTERS) + BETWEEN for says in words)
    height = LETTERS * min((room[1] - room[0]) / wide, 1.0)
    places, widths = [to(line.end)[0] for line in ordered], [width(says, height) for says in words]
    middles = spread_within(places, widths, *room, gap=BETWEEN * height / LETTERS)
    for line, says, middle in zip(ordered, words, middles, strict=True):
        sketch.arrow(layers.WALLS, to(line.start), to(line.end))
        sketch.line(layers.WALLS, to(line.end), (middle, low + height + 1.0))
        sketch.text(layers.TEXT, (middle, low), says, height, "middle")


def section_words(layout: Layout, x: float, unit: str) -> list[str]:
    """The numbers beside a section."""
    half = layout.outside.half_width(x)
    facts = [f"x {with_unit(x, unit)}", f"{with_unit(2 * half, unit)} wide at the glue plane"]
    if x < layout.heel.x_joint:
        facts.append(f"wood {with_unit(layout.back.depth(x), unit)} deep")
        facts.append(f"{with_unit(layout.back.thickness(x), unit)} thick with the fretboard")
        facts.append(f"fullness {layout.back.exponent(x):.2f}")
        if layout.outside.swelling(x) > 0:
            facts.append(f"the volute adds {with_unit(layout.outside.swelling(x), unit)} below, not drawn")
    else:
        what = "dovetail" if _in_dovetail(layout, x) else "heel"
        facts.append(f"{what} {with_unit(layout.heel.depth_at(x), unit)} deep")
        bottom = _half_at(layout, x, layout.heel.depth_at(x))
        if bottom != half:
            facts.append(f"{with_unit(2 * bottom, unit)} wide at its bottom")
    strip = None if layout.rod is None else layout.rod.strip
    if strip is not None and strip.x_start <= x <= strip.x_end:
        facts.append(f"cover strip down to {with_unit(strip.underside.at(x), unit)}")
    bars = two_bars(layout.rod)
    if bars is not None and layout.rod is not None and layout.rod.bar is not None and bars.x_from <= x <= bars.x_to:
        facts.append(
            f"{'each rod' if layout.paired else 'rod'}: flat bar {layout.rod.bar}, thread {THREAD[layout.rod.bar]} it"
        )
    if x == 0.0:
        nut = layout.nut
        aslant = "" if nut.slope == 0 else ", aslant: cut in part"
        facts.append(f"nut {with_unit(nut.x_end - nut.x_start, unit)} x {with_unit(nut.height, unit)} high{aslant}")
    for screw in layout.screws:
        if abs(screw.x - x) < screw.hole / 2:
            facts.append(
                f"{plain(screw.name)}: y {with_unit(layout.across(screw.y), unit)}, hole "
                f"{tool_size(screw.hole, unit)} across, {with_unit(screw.z_point - screw.z_bottom, unit)} deep"
            )
    if (peg := layout.peg) is not None and abs(peg.mouth[0] - x) < peg.hole / 2:
        facts.append(f"peg: hole {tool_size(peg.hole, unit)} across, {with_unit(peg.depth, unit)} deep")
        place = f"{with_unit(-peg.mouth[2], unit)} below the glue plane"
        facts.append(f"its mouth at y {with_unit(layout.across(peg.mouth[1]), unit)}, {place}")
    for step in steps_at(layout, x):
        sizes = f"{with_unit(step.width, unit)} wide, {with_unit(step.depth_at(x), unit)} deep"
        if step.bored:
            sizes = f"{with_unit(step.width, unit)} across, its axis {with_unit(opening(step, x).depth, unit)} deep"
        elif step.behind:
            room = f"{with_unit(step.top_at(x), unit)} to {with_unit(step.depth_at(x), unit)} below plane z = 0"
            sizes = f"{with_unit(step.width, unit)} wide, the rod's room {room}; the strip closes it"
        facts.append(f"{plain(step.name)}: {sizes}")
        facts.append(f"its least wall, by section: {with_unit(wall_line(layout, step, x).wall, unit)}")
    return [fact.replace("the glue plane", "plane z = 0") for fact in facts] if layout.in_one else facts


def _fretboard(sketch: Sketch, layout: Layout, x: float, to: Callable[[Point], Point]) -> None:
    """Draws the part of the fretboard that the section meets; between slanted ends it is only a part of its width."""
    board = layout.fretboard
    low, high = board.bass(x), board.treble(x)
    for slope, room in ((board.slope_start, x - board.x_start), (-board.slope_end, board.x_end - x)):
        if slope == 0 and room < 0:
            return
        if slope > 0:
            high = min(high, room / slope)
        elif slope < 0:
            low = max(low, room / slope)
    if high - low < LEAST_PART:
        return
    radius = board.radius(x)
    corners = ((high, 0.0), (low, 0.0), (low, board.top(x, low)), (high, board.top(x, high)))
    # with the treble side to the left, the crown turns clockwise from left to right: it is the third stretch
    turned = 0.0 if math.isinf(radius) else math.asin(high / radius) - math.asin(low / radius)
    bulges = (0.0, 0.0, math.tan(turned / 4), 0.0)
    sketch.add(Path(layers.FRETBOARD, tuple(to(corner) for corner in corners), bulges, True))
