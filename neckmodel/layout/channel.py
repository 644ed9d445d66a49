"""The steps of the channel: rod run, block and anchor pockets, adjuster pocket, bar channels."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod import Bar, RodPlace

BAR_FIT = 0.15  # mm in all for the glue round a bar; common practice (0.10 to 0.20), no source
CORNER_PLAY = 0.5  # of a block's play at either side, kept at its corner in a round end; common practice, no source
LEAST_DIFFERENCE = 1e-6  # mm, sizes closer than this are the same


@dataclass(frozen=True)
class Step:
    """One step of the channel, cut from above: a plan rectangle with its floor, mm.

    y: of its centre line. depth_start, depth_end: below z = 0 at x_start and x_end (straight between). corner_start,
    corner_end: radius left in the corners of that end (0: square, open or squared by hand; half the width: a full
    round).
    end_start, end_end: "square" (to be squared by hand), "round", "open" (runs into another step or out of the wood).
    """

    name: str
    x_start: float
    x_end: float
    width: float
    depth_start: float
    depth_end: float
    y: float = 0.0
    corner_start: float = 0.0
    corner_end: float = 0.0
    end_start: str = "open"
    end_end: str = "open"

    @property
    def depth(self) -> float:
        return max(self.depth_start, self.depth_end)

    def depth_at(self, x: float) -> float:
        """Depth of the floor below z = 0 at x, mm."""
        return self.depth_start + (self.depth_end - self.depth_start) * (x - self.x_start) / (self.x_end - self.x_start)


def run_long(block: float, width: float, radius: float, play: float = 0.0) -> float:
    """How far a channel must run on so that a square block clears its round end, mm; inf where it must be squared.

    block, width: across the block and the channel; radius: of the cutter; play: kept free at the block's corner.
    `q = max(0, b/2 - (W/2 - r)); run = r - sqrt((r-c)**2 - q**2)`.
    """
    q = max(0.0, block / 2 - (width / 2 - radius))
    if q > radius - play + 1e-12:
        return math.inf
    return radius - math.sqrt(max((radius - play) ** 2 - q * q, 0.0))


def rod_steps(design: Design, rod: RodPlace, end_cutter: float) -> tuple[Step, ...]:
    """Run, pockets of block and anchor where they are wider, and the adjuster's pocket.

    end_cutter: diameter of the cutter that leaves the run's end, mm.
    """
    channel = design.channel
    clear, deeper = channel.end_clearance, channel.deeper_by
    block, span, anchor = (rod.segment(name) for name in ("block", "span", "anchor"))
    own = [s for s in (block, anchor) if s.width > span.width + LEAST_DIFFERENCE]
    lying_in = [s for s in (block, span, anchor) if s not in own]
    run_width = span.width + channel.wider_by
    run_depth = max(s.top + s.height for s in lying_in) + deeper
    last = anchor if anchor in own else span
    last_width = last.width + channel.wider_by
    radius = min(end_cutter, last_width) / 2
    reach = clear
    if channel.ends == "run-long":
        play = CORNER_PLAY * max(last_width - anchor.width, 0.0) / 2
        long = run_long(anchor.width, last_width, radius, play)
        reach = max(clear, long)
    end = "square" if channel.ends == "squared" else "round"
    corner = 0.0 if end == "square" else radius
    x_end = rod.x_anchor_end + reach
    steps = [
        Step(
            "run",
            rod.x_block,
            x_end,
            run_width,
            run_depth,
            run_depth,
            corner_end=0.0 if anchor in own else corner,
            end_end="open" if anchor in own else end,
        )
    ]
    if block in own:
        steps.append(
            Step(
                "block",
                rod.x_block,
                block.x_end + clear,
                block.width + channel.wider_by,
                *(block.top + block.height + deeper,) * 2,
                end_end="square",
            )
        )
    if anchor in own:
        steps.append(
            Step(
                "anchor",
                anchor.x_start - clear,
                x_end,
                last_width,
                *(anchor.top + anchor.height + deeper,) * 2,
                corner_end=corner,
                end_start="square",
                end_end=end,
            )
        )
    depth = rod.axis + (rod.adjuster_diameter + channel.adjuster_clearance) / 2
    steps.append(
        Step(
            "adjuster",
            rod.x_adjuster - clear,
            rod.x_block,
            rod.adjuster_diameter + channel.adjuster_clearance,
            depth,
            depth,
            end_start="square",
        )
    )
    return tuple(steps)


def bar_steps(bars: tuple[Bar, ...], clearance: float) -> tuple[Step, ...]:
    """One straight channel a bar, with the glue's fit all round."""
    return tuple(
        Step(
            bar.name,
            bar.x_start,
            bar.x_end + clearance,
            bar.width + BAR_FIT,
            bar.height + BAR_FIT,
            bar.height + BAR_FIT,
            y=bar.y,
            end_start="square",
            end_end="square",
        )
        for bar in bars
    )
