"""How each step is cut: which cutter, how many lines and passes, how far it must reach, what stays in the corners."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel import Step

if TYPE_CHECKING:
    from neckmodel.design import Cutter, Workshop

OVERLAP = 0.1  # of the cutter's diameter between neighbouring lines; common practice, no source
BASE_THICKNESS = 8.0  # mm of a router's base plate; common practice, no source
TEMPLATE_THICKNESS = 12.0  # mm of a template under a guide bush; common practice, no source
ROUNDING = 1e-9  # keeps 9.9/3.3 at three passes
NEAR = 1e-6  # mm, steps this near to each other meet


@dataclass(frozen=True)
class Cutting:
    """How one step is cut, lengths in mm. diameter None: no cutter of the rack fits, `says` tells why.

    reach: stick-out needed. corners: area in plan that a round cutter leaves in squared corners, mm2: the
    chisel's work.
    """

    step: str
    diameter: float | None
    lines: int
    passes: int
    pass_depth: float
    reach: float
    stick_out: float
    flute_length: float
    corners: float
    says: str


def line_count(width: float, diameter: float, overlap: float = OVERLAP) -> int:
    """Parallel lines for a width: 1 if equal, else `1 + ceil((W-D)/(D(1-ov)))`."""
    if abs(width - diameter) <= 1e-6:
        return 1
    return 1 + math.ceil((width - diameter) / (diameter * (1 - overlap)) - ROUNDING)


def pass_count(depth: float, step: float) -> int:
    """Equal passes for a depth: `ceil(depth/step)`, at least one."""
    return max(1, math.ceil(depth / step - ROUNDING))


def shoulder_area(radius: float, width: float, pocket: float | None = None) -> float:
    """What a pocket's cutter leaves beside a run of `width` entering it, mm2; 0 if the run clears the corners.

    `2 (F(r) - F(w/2))`, F the area under a quarter circle's shoulder; with no run, the two corners of a square end:
    `2 r**2 (1 - pi/4)`. pocket: its width, the cutter's own by default.
    """

    def primitive(y: float) -> float:
        return radius * y - (y * math.sqrt(radius * radius - y * y) + radius * radius * math.asin(y / radius)) / 2

    straight = 0.0 if pocket is None else pocket / 2 - radius  # of the pocket's end between its two corners, one half
    return 2 * (primitive(radius) - primitive(min(max(width / 2 - straight, 0.0), radius)))


def corners_left(step: Step, radius: float, steps: Sequence[Step] = ()) -> float:
    """Area in plan left in the corners of both ends, mm2, less what the other steps that enter there take away."""
    left = 0.0
    for x, kind in ((step.x_start, step.end_start), (step.x_end, step.end_end)):
        entering = [s.width for s in steps if s is not step and s.y == step.y and s.x_start - NEAR < x < s.x_end + NEAR]
        if kind == "square" or (kind == "open" and entering):
            left += shoulder_area(min(radius, step.width / 2), max(entering, default=0.0), step.width)
    return left


def run_on(step: Step, end: str, steps: Sequence[Step] = ()) -> float:
    """How far a cutter at the step's own depth may go past its end, "start" or "end", and cut no wood that stays, mm.

    0 at a closed end, its own or that of a step that it ends in; inf where the step leaves the wood (open, and no other
    step goes on there), else as far as a step at least as deep and as wide goes on.
    """
    kind, x = (step.end_start, step.x_start) if end == "start" else (step.end_end, step.x_end)
    if kind != "open":
        return 0.0
    others = [s for s in steps if s != step and s.y == step.y and s.x_start - NEAR <= x <= s.x_end + NEAR]
    if not any(s.x_start < x - NEAR if end == "start" else s.x_end > x + NEAR for s in others):
        walled = any((s.end_start if end == "start" else s.end_end) != "open" for s in others)
        return 0.0 if walled else math.inf
    depth, free = step.depth_at(x), 0.0
    for other in others:
        stretch = (other.x_start, min(x, other.x_end)) if end == "start" else (max(x, other.x_start), other.x_end)
        length = stretch[1] - stretch[0]
        if length > NEAR and other.width >= step.width - NEAR:
            least = other.floor.between(*stretch).extremes()[0]
            free = max(free, length if least >= depth - NEAR else 0.0)
    return free


def room_along(step: Step, steps: Sequence[Step] = ()) -> float:
    """The longest cutter's diameter that finds room along a step, mm: its length, and what it may run on over."""
    return step.x_end - step.x_start + run_on(step, "start", steps) + run_on(step, "end", steps)


def cut_step(step: Step, workshop: Workshop, steps: Sequence[Step] = ()) -> Cutting:
    """Choose from the rack: reaches deep enough, fits width and length, fewest lines, then the stoutest.

    steps: of the whole channel, for what they leave of this one's corners, and how far a cutter may run on.
    """
    need = step.depth + BASE_THICKNESS + (TEMPLATE_THICKNESS if workshop.guide_bush is not None else 0.0)

    def cost(cutter: Cutter) -> tuple[bool, int, float]:
        return need > cutter.stick_out + 1e-6, line_count(step.width, cutter.diameter), -cutter.diameter

    long = room_along(step, steps)
    fitting = [c for c in workshop.cutters if c.diameter <= min(step.width, long) + NEAR]
    if not fitting:
        smallest = min(c.diameter for c in workshop.cutters)
        says = f"the smallest cutter of the rack, {smallest:.2f} mm, is wider than this step"
        if smallest <= step.width + NEAR:
            says += f" is long, {long:.2f} mm"
        return Cutting(step.name, None, 0, 0, 0.0, need, 0.0, 0.0, 0.0, says)
    cutter = min(fitting, key=cost)
    deep = workshop.deepest_pass if workshop.deepest_pass is not None else cutter.diameter / 2
    passes = pass_count(step.depth, deep)
    lines = line_count(step.width, cutter.diameter)
    return Cutting(
        step.name,
        cutter.diameter,
        lines,
        passes,
        step.depth / passes,
        need,
        cutter.stick_out,
        cutter.flute_length,
        corners_left(step, cutter.diameter / 2, steps),
        f"{lines} line{'s' if lines > 1 else ''}, {passes} passes of {step.depth / passes:.2f} mm",
    )
