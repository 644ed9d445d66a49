"""How each step is cut: which cutter, which way, how many lines and passes, how far it must reach."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel.corners import NEAR, Corner, corners_of, run_on
from neckmodel.layout.channel.step import End, Step
from neckmodel.limits import BASE_THICKNESS

if TYPE_CHECKING:
    from neckmodel.design import Cutter, Workshop

OVERLAP = 0.1  # of the cutter's diameter between neighbouring lines; common practice, no source
LEAST_TEMPLATE = 6.0  # mm; a thinner one bends; common practice, no source
LEAST_RAIL = 6.0  # mm of a sled's rails over the glue plane, where they are lowest; common practice, no source
ROUNDING = 1e-9  # keeps 9.9/3.3 at three passes

FENCE, SLED, IN_STEPS = "fence", "sled", "fence, in steps"
WAYS = {FENCE: "along the fence", SLED: "on a sled's rails", IN_STEPS: "along the fence, in level steps"}
"""The ways of cutting a step, each with its words."""


@dataclass(frozen=True)
class Cutting:
    """How one step is cut, lengths in mm. diameter None: no cutter of the rack fits, and `says` tells why.

    way: one of WAYS. reach: stick-out that this way takes. width: how wide the cut comes out along the fence, runout
    not counted; narrower than the step where it is one line. corners_at: what a round cutter leaves in squared corners
    for the chisel.
    """

    step: str
    diameter: float | None
    lines: int
    passes: int
    pass_depth: float
    way: str
    reach: float
    stick_out: float
    flute_length: float
    width: float
    corners_at: tuple[Corner, ...]
    says: str

    @property
    def corners(self) -> float:
        """Area in plan of the wood left in all corners, mm2."""
        return math.fsum(corner.area for corner in self.corners_at)

    @property
    def template_room(self) -> float | None:
        """The thickest template for a guide bush with which the cutter still reaches the floor, mm; None where no
        template leads the cut along that floor."""
        return self.stick_out - self.reach if self.way == FENCE else None


def narrower(cutting: Cutting | None, width: float) -> bool:
    """Whether a step planned this wide comes out narrower, because it is cut in one line of a narrower cutter that
    still leaves its parts their room."""
    return cutting is not None and cutting.diameter is not None and cutting.width < width - NEAR


def line_count(width: float, diameter: float, overlap: float = OVERLAP, narrowest: float | None = None) -> int:
    """Parallel lines that a cutter of this diameter needs for a width: 1 if it is as wide, or as wide as `narrowest`,
    else `1 + ceil((W-D)/(D(1-ov)))`."""
    if diameter >= (width if narrowest is None else min(narrowest, width)) - NEAR:
        return 1
    return 1 + math.ceil((width - diameter) / (diameter * (1 - overlap)) - ROUNDING)


def pass_count(depth: float, step: float) -> int:
    """Equal passes for a depth: `ceil(depth/step)`, at least one."""
    return max(1, math.ceil(depth / step - ROUNDING))


def room_along(step: Step, steps: Sequence[Step] = ()) -> float:
    """Diameter of the largest cutter that has room along a step, mm: the step's length and how far it may run on past
    its ends."""
    return step.x_end - step.x_start + run_on(step, End.START, steps) + run_on(step, End.END, steps)


def sled_reach(step: Step, base: float) -> float:
    """Stick-out, mm, for a floor that is not level, cut on a sled. The rails beside the blank run parallel to the
    floor, under a base of radius `base` at either end, and stand LEAST_RAIL over the glue plane at their lowest."""
    low, high = step.x_start - base, step.x_end + base
    return step.floor.between(low, high).extremes()[1] + LEAST_RAIL + BASE_THICKNESS


def _way(step: Step, workshop: Workshop, rack: Sequence[Cutter], lift: float) -> tuple[str, float]:
    """(how a step is cut, the stick-out that takes, mm). A ramp too steep for a sled is cut in level steps along the
    fence and pared to its slope; a curved floor can only be cut on a sled."""
    along_fence = step.depth + BASE_THICKNESS + lift
    if step.is_level:
        return FENCE, along_fence
    ramp = abs(step.floor.sag) < NEAR
    if ramp and workshop.router_base is None:
        return IN_STEPS, along_fence
    by_sled = max(sled_reach(step, workshop.router_base or 0.0), along_fence)
    if ramp and all(cutter.stick_out < by_sled - NEAR for cutter in rack):
        return IN_STEPS, along_fence
    return SLED, by_sled


def cut_step(step: Step, workshop: Workshop, steps: Sequence[Step] = (), lift: float = 0.0) -> Cutting:
    """How to cut a step with the rack: of the cutters that reach deep enough and fit width and length, the one with the
    fewest lines, then the stoutest.

    steps: the whole channel; it bounds how far a cutter may run on, and how much of this step's corners other steps cut
    away. lift: by how much the router's base must stand above the face that it cuts from, mm, to clear what stands up
    beside it.
    """
    long = room_along(step, steps)
    fitting = [c for c in workshop.cutters if c.diameter <= min(step.width, long) + NEAR]
    way, need = _way(step, workshop, fitting, lift)
    if not fitting:
        smallest = min(c.diameter for c in workshop.cutters)
        says = f"the smallest cutter of the rack, {smallest:.2f} mm, is wider than this step"
        if smallest <= step.width + NEAR:
            says += f" is long, {long:.2f} mm"
        return Cutting(
            step=step.name,
            diameter=None,
            lines=0,
            passes=0,
            pass_depth=0.0,
            way=way,
            reach=need,
            stick_out=0.0,
            flute_length=0.0,
            width=step.width,
            corners_at=(),
            says=says,
        )

    def cost(cutter: Cutter) -> tuple[bool, int, float]:
        lines = line_count(step.width, cutter.diameter, narrowest=step.narrowest)
        return need > cutter.stick_out + NEAR, lines, -cutter.diameter

    cutter = min(fitting, key=cost)
    deep = workshop.deepest_pass if workshop.deepest_pass is not None else cutter.diameter / 2
    passes = pass_count(step.depth, deep)
    lines = line_count(step.width, cutter.diameter, narrowest=step.narrowest)
    width = cutter.diameter if lines == 1 else step.width
    each = f"{passes} pass{'es' if passes > 1 else ''} of {step.depth / passes:.2f} mm"
    says = f"{WAYS[way]} in {lines} line{'s' if lines > 1 else ''} and {each}"
    if width < step.width - NEAR:
        says += f", {width:.2f} mm wide of {step.width:.2f} mm planned"
    return Cutting(
        step=step.name,
        diameter=cutter.diameter,
        lines=lines,
        passes=passes,
        pass_depth=step.depth / passes,
        way=way,
        reach=need,
        stick_out=cutter.stick_out,
        flute_length=cutter.flute_length,
        width=width,
        corners_at=corners_of(step, cutter.diameter / 2, steps),
        says=says,
    )
