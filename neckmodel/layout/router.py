"""How a router is set for each step of the channel: fence, stop blocks, and the template under a guide bush."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.fences import fence_offsets, stop_stations, template_offset

if TYPE_CHECKING:
    from neckmodel.layout.channel import Step
    from neckmodel.layout.cutting import Cutting
    from neckmodel.layout.types import Layout

SAME = 1e-6  # mm


@dataclass(frozen=True)
class RouterSetting:
    """One step's setting, mm. fences: distance of the fence from the reference edge for each line, from the nearest to
    the edge; negative: off the blank. stop_start, stop_end: x of the stop blocks' faces, None where the cut leaves the
    wood. larger: how much larger than the step a template's opening is on every side, None without a guide bush."""

    step: Step
    cutting: Cutting
    cutter: float
    fences: tuple[float, ...]
    stop_start: float | None
    stop_end: float | None
    larger: float | None


def leaves_wood(layout: Layout, step: Step) -> bool:
    """Whether the step runs out of the wood at its head-side end."""
    return step.end_start == "open" and step.x_start <= layout.head.x_line + SAME


def router_settings(layout: Layout) -> tuple[RouterSetting, ...]:
    """For every step that a cutter of the rack can cut. The reference edge is the blank's bass-side edge."""
    return tuple(
        _setting(layout, layout.step(cutting.step), cutting, cutting.diameter)
        for cutting in layout.cuttings
        if cutting.diameter is not None
    )


def _setting(layout: Layout, step: Step, cutting: Cutting, cutter: float) -> RouterSetting:
    shop = layout.design.workshop
    ends = fence_offsets(layout.blank_half_width + step.y, shop.router_base, step.width, cutter)
    lines = max(cutting.lines, len(ends))
    fences = tuple(ends[0] + (ends[-1] - ends[0]) * k / max(lines - 1, 1) for k in range(lines))
    start, end = stop_stations(step.x_start, step.x_end, shop.router_base, cutter)
    return RouterSetting(
        step,
        cutting,
        cutter,
        fences,
        None if leaves_wood(layout, step) else start,
        end,
        None if shop.guide_bush is None else template_offset(shop.guide_bush, cutter),
    )
