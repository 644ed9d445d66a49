"""The router's settings for each step: fence, lines, stops, guide bush. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.channel.step import EndKind
from neckmodel.layout.sides import Toward
from neckmodel.layout.workshop.sled import SAME, Sled, sled_of

if TYPE_CHECKING:
    from neckmodel.layout.channel.cutters import Cutting
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.layout import Layout


def line_centres(edge: float, width: float, cutter: float, lines: int) -> tuple[float, ...]:
    """Distance of the cutter's middle from the reference edge for each line, evenly over a width, the nearest to the
    edge first: `edge -/+ (W - D)/2`, mm. edge: from the reference edge to the step's centre line."""
    if lines == 1:
        return (edge,)
    first = edge - (width - cutter) / 2
    return tuple(first + (width - cutter) * k / (lines - 1) for k in range(lines))


def template_offset(bush: float, cutter: float) -> float:
    """How far a template's edge stands back from the cut under a guide bush: `(bush outside - cutter)/2`."""
    return (bush - cutter) / 2


@dataclass(frozen=True)
class RouterSetting:
    """The router's setting for one step, mm. centres: distance of the cutter's middle from the reference edge for each
    line, the nearest first. base: radius of the router's base, None where it is not stated. first, last: x between
    which the cutter's middle goes, None where the cut leaves the wood. larger: by how much a template's opening is
    larger than the step on every side, None without a guide bush. sled: None for a level floor."""

    step: Step
    cutting: Cutting
    cutter: float
    centres: tuple[float, ...]
    base: float | None
    first: float | None
    last: float | None
    larger: float | None
    sled: Sled | None = None

    @property
    def fences(self) -> tuple[float, ...]:
        """Distance of the fence from the reference edge for each line, mm; negative: off the blank. () where the base
        is not stated."""
        return () if self.base is None else tuple(centre - self.base for centre in self.centres)

    @property
    def stop_start(self) -> float | None:
        """x of the stop block's face on the head side, mm; None where the cut leaves the wood, or no base is stated."""
        return None if self.first is None or self.base is None else self.first - self.base

    @property
    def stop_end(self) -> float | None:
        """x of the stop block's face on the body side, mm; None where the cut leaves the wood, or no base is stated."""
        return None if self.last is None or self.base is None else self.last + self.base

    @property
    def open_ends(self) -> tuple[Toward, ...]:
        """The ends at which the cut leaves the wood."""
        return tuple(side for side, end in ((Toward.HEAD, self.first), (Toward.BODY, self.last)) if end is None)


@dataclass(frozen=True)
class LevelStep:
    """One pass of a ramp that is cut in level steps, mm: its depth, and the x between which the cutter's middle goes to
    stay above the ramp; None where the cut leaves the wood."""

    depth: float
    first: float | None
    last: float | None


def level_steps(setting: RouterSetting) -> tuple[LevelStep, ...]:
    """The passes of a ramp in level steps, as many as the cutter has room for. The chisel takes the rest."""
    step, cutting, radius = setting.step, setting.cutting, setting.cutter / 2
    found = []
    for k in range(1, cutting.passes + 1):
        depth, first, last = cutting.pass_depth * k, setting.first, setting.last
        share = (depth - step.depth_start) / (step.depth_end - step.depth_start)
        x = step.x_start + share * (step.x_end - step.x_start)  # where the ramp is as deep as this pass
        if depth > step.depth_start + SAME:
            first = x + radius
        if depth > step.depth_end + SAME:
            last = x - radius
        if (first if first is not None else step.x_start) <= (last if last is not None else step.x_end) + SAME:
            found.append(LevelStep(depth, first, last))
    return tuple(found)


def leaves_wood(layout: Layout, step: Step) -> bool:
    """Whether the step runs out of the wood at its head-side end."""
    return step.end_start == EndKind.OPEN and step.x_start <= layout.head.x_top + SAME


def leaves_at_heel(layout: Layout, step: Step) -> bool:
    """Whether the step runs out of the wood at its body-side end, as an adjuster's pocket at the heel may."""
    return step.end_end == EndKind.OPEN and step.x_end >= layout.heel.x_end - SAME


def router_settings(layout: Layout) -> tuple[RouterSetting, ...]:
    """The setting of every step that a cutter of the rack can cut, its depths from the face that it is cut from. The
    reference edge is the blank's bass-side edge."""
    return tuple(
        _setting(layout, layout.step(cutting.step).from_face, cutting, cutting.diameter)
        for cutting in layout.cuttings
        if cutting.diameter is not None
    )


def _setting(layout: Layout, step: Step, cutting: Cutting, cutter: float) -> RouterSetting:
    shop = layout.design.workshop
    return RouterSetting(
        step=step,
        cutting=cutting,
        cutter=cutter,
        centres=line_centres(layout.blank_half_width + step.y, cutting.width, cutter, cutting.lines),
        base=shop.router_base,
        first=None if leaves_wood(layout, step) else step.x_start + cutter / 2,
        last=None if leaves_at_heel(layout, step) else step.x_end - cutter / 2,
        larger=None if shop.guide_bush is None else template_offset(shop.guide_bush, cutter),
        sled=sled_of(step),
    )
