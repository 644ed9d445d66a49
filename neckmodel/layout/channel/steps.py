"""The steps of the channel for rod and bars. Lengths mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from neckmodel.design.defaults.defaults import RANGES
from neckmodel.layout.channel.boxes import box_steps
from neckmodel.layout.channel.compression import bent_steps, washer_step
from neckmodel.layout.channel.step import EndKind, Step, StepName, of_rod
from neckmodel.layout.rod.bars import BAR_FIT, is_bar

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.rod import RodPlace

LEAST_ADJUSTER_CLEARANCE = RANGES["channel.adjuster_clearance"].low  # the low end of the usual range
WORDS: dict[str, str] = {
    StepName.RUN: StepName.RUN,
    StepName.ACCESS_SLOT: "access slot",
    StepName.KEY_SWING: "pocket in which the key swings",
    StepName.KEY_BORE: "key's bore",
}


def step_words(step: str) -> str:
    """A step's name in plain words, as it follows "the"."""
    kind, rod = of_rod(step)
    words = WORDS.get(kind) or (f"channel of {kind}" if is_bar(kind) else f"{kind} pocket")
    return f"{words} of rod {rod}" if rod else words


def rod_steps(
    design: Design, rod: RodPlace, end_cutter: float, smallest: float = 0.0, x_wood_end: float = math.inf
) -> tuple[Step, ...]:
    """The run; a pocket for block, anchor and each odd segment that is wider; the washer's pocket; the adjuster's
    pocket.

    end_cutter: diameter of the cutter that leaves the run's end; smallest: of the rack's smallest cutter, which must
    fit into a washer's pocket; x_wood_end: where the steps run out of the wood at the heel. All mm.
    """
    # laid out as distances inward from the adjuster's face, then turned to where the adjuster lies
    steps = bent_steps(design, rod, end_cutter) if rod.curve is not None else box_steps(design, rod, end_cutter)
    steps += [s for s in (washer_step(design, rod, smallest), adjuster_step(design, rod)) if s is not None]
    if not rod.at_heel:
        return tuple(step.moved(rod.x_adjuster) for step in steps)
    turned = [step.flipped().moved(rod.x_adjuster).up_to(x_wood_end) for step in steps]
    return tuple(step for step in turned if step is not None)


def adjuster_step(design: Design, rod: RodPlace) -> Step:
    """The adjuster's pocket, with its travel both ways; for an adjuster with a wheel, the wheel's pocket only."""
    channel = design.channel
    inner = rod.adjuster_length
    if 0 < rod.wheel < inner:  # a tilted wheel leans over its inner face
        lean = rod.adjuster_diameter / 2 * abs(math.tan(math.radians(rod.tilt)))
        inner = rod.wheel + channel.end_clearance + lean
    deepest = max(rod.axis, rod.axis_at(rod.x_block))
    depth = deepest + (rod.adjuster_diameter + channel.adjuster_clearance) / 2
    width = rod.adjuster_diameter + channel.adjuster_clearance
    narrowest = rod.adjuster_diameter + min(channel.adjuster_clearance, LEAST_ADJUSTER_CLEARANCE)
    start = -channel.end_clearance
    return Step(StepName.ADJUSTER, start, inner, width, depth, depth, end_start=EndKind.SQUARE, narrowest=narrowest)


def bar_steps(bars: tuple[Bar, ...], clearance: float) -> tuple[Step, ...]:
    """One straight channel for each bar, with room for glue all round. clearance: at its ends, mm."""
    return tuple(
        Step(
            bar.name,
            bar.x_start,
            bar.x_end + clearance,
            bar.width + BAR_FIT,
            bar.height + BAR_FIT,
            bar.height + BAR_FIT,
            y=bar.y,
            end_start=EndKind.SQUARE,
            end_end=EndKind.SQUARE,
        )
        for bar in bars
    )
