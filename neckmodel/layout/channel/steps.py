"""The steps of the channel: rod run, pockets for block, anchor, washer and adjuster, bar channels. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from neckmodel.design.defaults.defaults import RANGES
from neckmodel.geometry.curve import Curve

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.rod import Bar, RodPlace, Segment

BAR_FIT = 0.10  # mm in all for the glue round a bar; common practice (0.10 to 0.20), no source
CORNER_PLAY = 0.5  # of a block's play at either side, kept at its corner in a round end; common practice, no source
LEAST_DIFFERENCE = 1e-6  # mm, sizes closer than this are the same
LEAST_ADJUSTER_CLEARANCE = RANGES["channel.adjuster_clearance"].low  # of what is usual
FOR_THE_KEY = ("access-slot", "key-swing")  # steps that the adjusting key needs
WORDS = {"run": "run", "access-slot": "access slot", "key-swing": "pocket in which the key swings"}


def step_words(step: str) -> str:
    """A step of the channel as it is said at the bench: "the" goes before it."""
    return WORDS.get(step) or (f"channel of {step}" if step.startswith("bar-") else f"{step} pocket")


@dataclass(frozen=True)
class Step:
    """One step of the channel, cut from above: a plan rectangle with its floor, mm.

    y: of its centre line. depth_start, depth_end: below z = 0 at x_start and x_end; between them the floor is straight,
    or a parabola with depth_middle half way. corner_start, corner_end: radius left in the corners of that end (0:
    square, open or squared by hand; half the width: a full round).
    end_start, end_end: "square" (to be squared by hand), "round", "open" (runs into another step or out of the wood).
    narrowest: how narrow it may come out and what lies in it still has its room; None: as wide as planned.
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
    depth_middle: float | None = None
    narrowest: float | None = None

    @cached_property
    def floor(self) -> Curve:
        """Depth of the floor along x; every use of it asks here."""
        return Curve(self.x_start, self.x_end, self.depth_start, self.depth_end, self.depth_middle)

    @property
    def depth(self) -> float:
        """The largest depth of the floor, mm."""
        return self.floor.extremes()[1]

    def depth_at(self, x: float) -> float:
        """Depth of the floor below z = 0 at x, mm."""
        return self.floor.at(x)

    @property
    def is_level(self) -> bool:
        return self.depth_start == self.depth_end and self.depth_middle in (None, self.depth_start)

    def flipped(self) -> Step:
        """The same step the other way round: x becomes -x."""
        return replace(
            self,
            x_start=-self.x_end,
            x_end=-self.x_start,
            depth_start=self.depth_end,
            depth_end=self.depth_start,
            corner_start=self.corner_end,
            corner_end=self.corner_start,
            end_start=self.end_end,
            end_end=self.end_start,
        )

    def moved(self, by: float) -> Step:
        return replace(self, x_start=self.x_start + by, x_end=self.x_end + by)

    def up_to(self, x: float) -> Step | None:
        """What of it lies before x, the wood's end, where it runs out; None if nothing does."""
        if self.x_end < x - LEAST_DIFFERENCE:
            return self
        if self.x_start >= x - LEAST_DIFFERENCE:
            return None
        floor = self.floor.between(self.x_start, x)
        return replace(self, x_end=x, depth_end=floor.end, depth_middle=floor.middle, corner_end=0.0, end_end="open")


def run_long(block: float, width: float, radius: float, play: float = 0.0) -> float:
    """How far a channel must run on so that a square block clears its round end, mm; inf where it must be squared.

    block, width: across the block and the channel; radius: of the cutter; play: kept free at the block's corner.
    `q = max(0, b/2 - (W/2 - r)); run = r - sqrt((r-c)**2 - q**2)`.
    """
    q = max(0.0, block / 2 - (width / 2 - radius))
    if q > radius - play + 1e-12:
        return math.inf
    return radius - math.sqrt(max((radius - play) ** 2 - q * q, 0.0))


def rod_steps(
    design: Design, rod: RodPlace, end_cutter: float, smallest: float = 0.0, x_wood_end: float = math.inf
) -> tuple[Step, ...]:
    """Run, pockets of block, anchor and odd segments where they are wider, the washer's and the adjuster's pocket.

    end_cutter: diameter of the cutter that leaves the run's end; smallest: of the rack's smallest, which a washer's
    pocket must let in; x_wood_end: where at the heel the steps run out of the wood.
    """
    # laid out as distances inward from the adjuster's face, then turned to where the adjuster lies
    steps = _round_rod_steps(design, rod, end_cutter) if rod.curve is not None else _box_steps(design, rod, end_cutter)
    steps += [s for s in (_washer_step(design, rod, smallest), _adjuster_step(design, rod)) if s is not None]
    if not rod.at_heel:
        return tuple(step.moved(rod.x_adjuster) for step in steps)
    turned = [step.flipped().moved(rod.x_adjuster).up_to(x_wood_end) for step in steps]
    return tuple(step for step in turned if step is not None)


def _inward(rod: RodPlace, x: float) -> float:
    """Distance inward from the adjuster's face."""
    return -rod.outward * (x - rod.x_adjuster)


def _stretch(rod: RodPlace, s: Segment) -> tuple[float, float]:
    a, b = _inward(rod, s.x_start), _inward(rod, s.x_end)
    return min(a, b), max(a, b)


def _far_end(design: Design, anchor: float, width: float, end_cutter: float) -> tuple[float, float, str]:
    """(how far the channel goes beyond the anchor, radius left in its corners, kind of end).

    anchor, width: across the anchor and the channel around it.
    """
    clear, radius = design.channel.end_clearance, min(end_cutter, width) / 2
    if design.channel.ends == "squared":
        return clear, 0.0, "square"
    if design.channel.ends == "run-long":
        play = CORNER_PLAY * max(width - anchor, 0.0) / 2
        return max(clear, run_long(anchor, width, radius, play)), radius, "round"
    return clear, radius, "round"


def _run_from(rod: RodPlace) -> float:
    """Where the run begins, inward from the adjuster's face; the collar of a wheel lies in the run."""
    return rod.wheel or rod.adjuster_length


def _box_steps(design: Design, rod: RodPlace, end_cutter: float) -> list[Step]:
    assert design.rod is not None  # there is a rod in its place
    channel, clear, deeper = design.channel, design.channel.end_clearance, design.channel.deeper_by
    boxes = [s for s in (rod.segments[::-1] if rod.at_heel else rod.segments) if s.x_end - s.x_start > 0]
    own = [s for s in boxes if s.name != "span" and s.width > design.rod.width + LEAST_DIFFERENCE]
    lying_in = [s for s in boxes if s not in own]
    widest = max(design.rod.width, *(s.width for s in lying_in))
    width = widest + channel.wider_by
    depth = max(s.top + s.height for s in lying_in) + deeper
    if rod.wheel and rod.wheel < rod.adjuster_length:
        depth = max(depth, rod.axis + rod.collar / 2)
    last = boxes[-1]
    at_end = last.width + channel.wider_by if last in own else width
    reach, corner, end = _far_end(design, last.width, at_end, end_cutter)
    x_end = rod.length + reach
    steps = [
        Step(
            "run",
            _run_from(rod),
            x_end,
            width,
            depth,
            depth,
            corner_end=0.0 if last in own else corner,
            end_end="open" if last in own else end,
            narrowest=widest,
        )
    ]
    for box in own:
        start, stop = _stretch(rod, box)
        at_adjuster, far = box is boxes[0], box is last
        steps.append(
            Step(
                box.name,
                start if at_adjuster else start - clear,
                x_end if far else stop + clear,
                box.width + channel.wider_by,
                *(box.top + box.height + deeper,) * 2,
                corner_end=corner if far else 0.0,
                end_start="open" if at_adjuster else "square",
                end_end=end if far else "square",
                narrowest=box.width,
            )
        )
    return steps


def _round_rod_steps(design: Design, rod: RodPlace, end_cutter: float) -> list[Step]:
    """The run of a compression rod: its floor runs parallel to the axis, a radius and the clearance deeper."""
    assert rod.curve is not None  # called only for a bent rod
    channel = design.channel
    anchor = next(iter(rod.segments), None)
    width = rod.diameter + channel.wider_by
    below = rod.diameter / 2 + channel.deeper_by
    own = anchor is not None and max(anchor.width, anchor.height) > rod.diameter + LEAST_DIFFERENCE
    across = anchor.width if anchor is not None else rod.diameter
    at_end = max(across + channel.wider_by, width)
    reach, corner, end = _far_end(design, across, at_end, end_cutter)
    start, x_end = _run_from(rod), rod.length + reach
    if own and anchor is not None:
        start_of_anchor = _stretch(rod, anchor)[0]
        floor = rod.axis_at((anchor.x_start + anchor.x_end) / 2) + anchor.height / 2 + channel.deeper_by
        pocket = Step(
            "anchor",
            start_of_anchor - channel.end_clearance,
            x_end,
            at_end,
            floor,
            floor,
            corner_end=corner,
            end_start="square",
            end_end=end,
            narrowest=max(across, rod.diameter),
        )
    depths = [rod.axis_at(rod.x_adjuster - rod.outward * s) + below for s in (start, (start + x_end) / 2, x_end)]
    run = Step(
        "run",
        start,
        x_end,
        width,
        depths[0],
        depths[2],
        corner_end=0.0 if own else corner,
        end_end="open" if own else end,
        depth_middle=depths[1],
        narrowest=rod.diameter,
    )
    return [run, pocket] if own else [run]


def _washer_step(design: Design, rod: RodPlace, smallest: float) -> Step | None:
    """The washer's pocket: its inner end bears the washer; toward the adjuster it lets the smallest cutter in."""
    washer, channel = rod.washer, design.channel
    if washer is None:
        return None
    start, end = sorted((_inward(rod, washer.x_start), _inward(rod, washer.x_end)))
    depth = washer.axis + washer.diameter / 2 + channel.deeper_by
    start = min(start - channel.end_clearance, end - smallest)
    width = washer.diameter + channel.wider_by  # it lies still: as close as the rod
    return Step("washer", start, end, width, depth, depth, end_end="square", narrowest=washer.diameter)


def _adjuster_step(design: Design, rod: RodPlace) -> Step:
    """The adjuster's pocket, over its travel both ways; of a wheel only round the wheel."""
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
    return Step("adjuster", start, inner, width, depth, depth, end_start="square", narrowest=narrowest)


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
