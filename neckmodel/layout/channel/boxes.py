"""The steps for a rod of boxes: run and pockets with level floors. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.channel.run import far_end, run_from, stretch_of
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName
from neckmodel.layout.rod.rod import Box

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.rod import RodPlace


def box_steps(design: Design, rod: RodPlace, end_cutter: float) -> list[Step]:
    """Run and pockets of a rod made of boxes, as distances inward from the adjuster's face, mm. end_cutter: diameter of
    the cutter that leaves the run's end."""
    channel, clear, deeper = design.channel, design.channel.end_clearance, design.channel.deeper_by
    boxes = [s for s in (rod.segments[::-1] if rod.at_heel else rod.segments) if s.x_end - s.x_start > 0]
    own = [s for s in boxes if s.name != Box.SPAN and s.width > rod.table.width + LEAST_DIFFERENCE]
    in_run = [s for s in boxes if s not in own]
    widest = max(rod.table.width, *(s.width for s in in_run))
    width = widest + channel.wider_by
    depth = max(s.top + s.height for s in in_run) + deeper
    if rod.wheel and rod.wheel < rod.adjuster_length:
        depth = max(depth, rod.axis + rod.collar / 2)
    last = boxes[-1]
    at_end = last.width + channel.wider_by if last in own else width
    reach, corner, end = far_end(design, last.width, at_end, end_cutter)
    x_end = rod.length + reach
    steps = [
        Step(
            StepName.RUN,
            run_from(rod),
            x_end,
            width,
            depth,
            depth,
            corner_end=0.0 if last in own else corner,
            end_end=EndKind.OPEN if last in own else end,
            narrowest=widest,
        )
    ]
    for box in own:
        start, stop = stretch_of(rod, box)
        at_adjuster, far = box is boxes[0], box is last
        steps.append(
            Step(
                box.name,
                start if at_adjuster else start - clear,
                x_end if far else stop + clear,
                box.width + channel.wider_by,
                *(box.top + box.height + deeper,) * 2,
                corner_end=corner if far else 0.0,
                end_start=EndKind.OPEN if at_adjuster else EndKind.SQUARE,
                end_end=end if far else EndKind.SQUARE,
                narrowest=box.width,
            )
        )
    return steps
