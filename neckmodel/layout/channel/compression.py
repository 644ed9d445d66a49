"""The steps for a compression rod: a curved run, an anchor, a washer's pocket. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.run import far_end, inward, run_from, stretch_of
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.rod import RodPlace


def bent_steps(design: Design, rod: RodPlace, end_cutter: float) -> list[Step]:
    """The run and anchor pocket of a compression rod, mm. The run's floor is parallel to the rod's axis, deeper by the
    rod's radius and the clearance. end_cutter: diameter of the cutter that leaves the run's end."""
    channel = design.channel
    anchor = next(iter(rod.segments), None)
    width = rod.diameter + channel.wider_by
    below = rod.diameter / 2 + channel.deeper_by
    own = anchor is not None and max(anchor.width, anchor.height) > rod.diameter + LEAST_DIFFERENCE
    across = anchor.width if anchor is not None else rod.diameter
    at_end = max(across + channel.wider_by, width)
    reach, corner, end = far_end(design, across, at_end, end_cutter)
    start, x_end = run_from(rod), rod.length + reach
    pockets: list[Step] = []
    if own and anchor is not None:
        start_of_anchor = stretch_of(rod, anchor)[0]
        floor = rod.axis_at((anchor.x_start + anchor.x_end) / 2) + anchor.height / 2 + channel.deeper_by
        pocket = Step(
            StepName.ANCHOR,
            start_of_anchor - channel.end_clearance,
            x_end,
            at_end,
            floor,
            floor,
            corner_end=corner,
            end_start=EndKind.SQUARE,
            end_end=end,
            narrowest=max(across, rod.diameter),
        )
        pockets.append(pocket)
    depths = [rod.axis_at(rod.x_adjuster - rod.outward * s) + below for s in (start, (start + x_end) / 2, x_end)]
    run = Step(
        StepName.RUN,
        start,
        x_end,
        width,
        depths[0],
        depths[2],
        corner_end=0.0 if own else corner,
        end_end=EndKind.OPEN if own else end,
        depth_middle=depths[1],
        narrowest=rod.diameter,
    )
    return [run, *pockets]


def washer_step(design: Design, rod: RodPlace, smallest: float) -> Step | None:
    """The washer's pocket; None for a rod without one. The washer bears on its inner end. Toward the adjuster the
    pocket is long enough for the smallest cutter (`smallest`, mm)."""
    washer, channel = rod.washer, design.channel
    if washer is None:
        return None
    start, end = sorted((inward(rod, washer.x_start), inward(rod, washer.x_end)))
    depth = washer.axis + washer.diameter / 2 + channel.deeper_by
    start = min(start - channel.end_clearance, end - smallest)
    width = washer.diameter + channel.wider_by  # a washer does not move: it gets the same play as the rod
    return Step(StepName.WASHER, start, end, width, depth, depth, end_end=EndKind.SQUARE, narrowest=washer.diameter)
