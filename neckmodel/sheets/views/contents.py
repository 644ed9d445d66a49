"""The parts that a cross-section meets in the wood: rod, washer, bars, nut, key, screws; and those just beyond it.
mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point
from neckmodel.sheets.marks import layers
from neckmodel.sheets.marks.arcs import rounded_path
from neckmodel.sheets.marks.display import Box, Layer
from neckmodel.sheets.marks.sketch import Sketch
from neckmodel.sheets.views.rod import adjuster_rounds, bar_span, two_bars

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.hardware.peg import PegPlace
    from neckmodel.layout.key.key import KeyPlace

LAP = 0.2  # mm that a part must lie in a step to belong to it
LEAST = 0.1  # mm of a nut's width worth drawing
To = Callable[[Point], Point]


@dataclass(frozen=True)
class Part:
    """A part along the neck, from x to x: a box (y low, z low, y high, z high), or round with its middle and radius,
    mm."""

    x_from: float
    x_to: float
    box: Box | None = None
    round: tuple[Point, float] | None = None
    layer: Layer = layers.ROD

    def meets(self, x: float) -> bool:
        """Whether the part is there at x."""
        return self.x_from <= x <= self.x_to

    def lies_in(self, step: Step) -> bool:
        """Whether the part lies in this step of the channel."""
        return (
            min(self.x_to, step.x_end) - max(self.x_from, step.x_start) > LAP and abs(self.y - step.y) < step.width / 2
        )

    @property
    def y(self) -> float:
        """y of its middle, mm."""
        return (self.box[0] + self.box[2]) / 2 if self.box is not None else self.round[0][0] if self.round else 0.0


def draw_contents(sketch: Sketch, layout: Layout, x: float, to: To, scale: float, steps: list[Step]) -> None:
    """Draws the parts in the section at x. steps: those that the section cuts. In a step without a part at x, the next
    part along it is drawn dashed."""
    parts = list(_parts(layout, x))
    for rod in layout.rods:
        strip = rod.strip
        if strip is not None and strip.x_start <= x <= strip.x_end:
            half, low = strip.width / 2, -strip.underside.at(x)
            _box(sketch, layers.COVER, (rod.y - half, low, rod.y + half, 0.0), to, filled=True)
    for part in parts:
        if part.meets(x):
            _part(sketch, part.layer, part, to, scale)
    for rod in layout.rods:
        bars, y = two_bars(rod), rod.y
        if bars is not None and bars.x_from <= x <= bars.x_to:
            _box(sketch, layers.FLAT_BAR, (y - bars.half, bars.low, y + bars.half, bars.high), to, filled=True)
            sketch.circle(layers.THREAD, to((y, bars.axis)), bars.radius * scale)
    for step in steps:
        there = [part for part in parts if part.lies_in(step)]
        if there and not any(part.meets(x) for part in there):
            _part(sketch, layers.BEYOND, min(there, key=lambda part: _off(part, x)), to, scale)
    for key in layout.keys:
        if math.isfinite(at := _key_axis(key, x)):
            sketch.circle(layers.KEY, to((key.y, at)), key.corners / 2 * scale)
    for screw in layout.screws:
        if abs(screw.x - x) < screw.hole / 2:
            half = math.sqrt((screw.hole / 2) ** 2 - (screw.x - x) ** 2)
            _box(sketch, layers.SCREWS, (screw.y - half, screw.z_bottom, screw.y + half, screw.z_point), to)
    if layout.peg is not None:
        _peg(sketch, layout.peg, x, to)


def _peg(sketch: Sketch, peg: PegPlace, x: float, to: To) -> None:
    """Draws what the section at x meets of a peg's hole."""
    off, radius = abs(peg.mouth[0] - x), peg.hole / 2
    if off < radius:
        half, (_, y0, z0), (_, y1, z1) = math.sqrt(radius**2 - off**2), peg.mouth, peg.end
        box = (y0, z0 - half, y1, z0 + half) if peg.side else (y0 - half, z0, y0 + half, z1)
        _box(sketch, layers.SCREWS, box, to)


def draw_nut(sketch: Sketch, layout: Layout, x: float, to: To) -> None:
    """Draws the nut where the section just on its side of x meets it; of a slanted nut only a part."""
    nut = layout.nut
    low, high = nut.corners[0][1], nut.corners[-1][1]
    if nut.slope:
        ends = sorted(((x - nut.x_end) / nut.slope, (x - nut.x_start) / nut.slope))
        low, high = max(low, ends[0]), min(high, ends[1])
    elif not nut.x_start - LAP < x <= nut.x_end:
        return
    if high - low > LEAST:
        _box(sketch, layers.NUT_CUT, (low, nut.z_seat, high, nut.z_seat + nut.height), to, filled=True)


def nut_top(layout: Layout) -> float:
    """z of the nut's top, mm."""
    return layout.nut.z_seat + layout.nut.height


def _parts(layout: Layout, x: float) -> Iterator[Part]:
    for rod in layout.rods:
        y = rod.y
        for part in rod.segments:
            top, half = -rod.below - part.top, part.width / 2
            yield Part(part.x_start, part.x_end, (y - half, top - part.height, y + half, top))
        if rod.washer is not None:
            yield Part(rod.washer.x_start, rod.washer.x_end, None, ((y, -rod.washer.axis), rod.washer.diameter / 2))
        rounds = adjuster_rounds(rod)
        if rod.curve is not None:
            rounds.append((*bar_span(rod), rod.diameter / 2))
        for x0, x1, radius in rounds:
            yield Part(x0, x1, None, ((y, -rod.axis_at(min(max(x, x0), x1))), radius))
    for bar in layout.bars:
        half = bar.width / 2
        box = (bar.y - half, bar.proud - bar.height, bar.y + half, bar.proud)
        yield Part(bar.x_start, bar.x_end, box, layer=layers.BARS)


def _key_axis(key: KeyPlace, x: float) -> float:
    """z of the key's axis at x, inf where the key is not: a bar that stands in a wheel has none along the neck."""
    if key.kind == "bar":
        return math.inf
    out = (x - key.x_tip) * key.outward
    reach = min(key.arm, key.length) * math.cos(math.radians(key.tilt))
    return -key.axis + out * math.tan(math.radians(key.tilt)) if 0 <= out <= reach else math.inf


def _off(part: Part, x: float) -> float:
    return max(part.x_from - x, x - part.x_to)


def _part(sketch: Sketch, layer: Layer, part: Part, to: To, scale: float) -> None:
    if part.round is not None:
        sketch.circle(layer, to(part.round[0]), part.round[1] * scale)
    elif part.box is not None:
        _box(sketch, layer, part.box, to, filled=layer is part.layer)


def _box(sketch: Sketch, layer: Layer, box: Box, to: To, filled: bool = False) -> None:
    y0, z0, y1, z1 = box
    corners = ((y0, z0), (y1, z0), (y1, z1), (y0, z1))
    sketch.add(rounded_path(layer, [(to(corner), 0.0) for corner in corners], filled))
