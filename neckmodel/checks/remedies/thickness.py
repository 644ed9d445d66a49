"""Remedies for a wall that is too thin: how much neck, heel, head or rod must change. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.fixed import changes_measured
from neckmodel.checks.remedies.remedy import any_of, change, either, first_good, layout_with, possible
from neckmodel.checks.verdict import SLACK
from neckmodel.findings import ways_of
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.layout.channel.step import EndKind, StepName
from neckmodel.layout.channel.walls import opening
from neckmodel.layout.neck.section import Opening, Section, section_walls
from neckmodel.layout.rod.bars import is_bar
from neckmodel.layout.rod.bounds import cut_outs

if TYPE_CHECKING:
    from neckmodel.checks.measure.wall import Wall
    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.design import Design
    from neckmodel.findings import Remedy
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step

    Settings = dict[str, float | str]

MOST = 12.0  # mm, no remedy asks for more
STEEP = 0.5  # share of its direction along the neck above which a thicker neck does not mend a wall
SPARE = 1.02  # factor where a transition is followed to first order only
FELT = 0.2  # a change of thickness at fret 1 alone is offered only if the wall gains at least this share of it
TARGET = 5e-5  # mm above the limit, for the taper may grow with the thickness
ROUNDS = 6
CLOSE = 65  # sections looked at along a step
NEAR_ADJUSTER = 0.25  # share of a bent rod's length near its adjuster, in which the axis depth at the adjuster matters
FRET_1, FRET_12 = "neck.thickness.fret_1", "neck.thickness.fret_12"
HEEL = "heel.depth"


@dataclass(frozen=True)
class Short:
    """A wall of one step, and the limit that it misses."""

    step: Step
    wall: Wall
    measured: float
    limit: float

    @cached_property
    def normal(self) -> tuple[float, float, float]:
        """Unit vector from the channel to the skin, also where the channel has come out."""
        across = np.subtract(self.wall.at_skin, self.wall.at_tool) * (-1 if self.wall.through else 1)
        x, y, z = (across / (np.linalg.norm(across) or 1.0)).tolist()
        return x, y, z

    @property
    def by(self) -> float:
        """How much the wall misses its limit, mm."""
        return self.limit - self.measured

    @property
    def x(self) -> float:
        """x of the wall, mm."""
        return self.wall.at_tool[0]

    @property
    def toward_end(self) -> bool:
        """Whether the wall lies between the channel and the wood's end, not under the channel."""
        return abs(self.normal[0]) > STEEP

    def taper(self, layout: Layout) -> float:
        """How much less the solid reads than the section alone, mm, for the skin is not square to the section."""
        if not self.on_shaft(layout):
            return 0.0
        return max(layout.wall_at(self.step, self.x) - self.measured, 0.0)

    def on_shaft(self, layout: Layout) -> bool:
        """Whether the wall lies on the shaft, between the nut and the heel's swell."""
        return 0.0 <= self.x <= layout.heel.x_swell

    def kept(self, new: Layout, taper: float) -> float:
        """How much more than its limit the step has by the sections of another layout, mm; negative where it has
        less."""
        step = next((s for s in new.steps if s.name == self.step.name), None)
        if step is None:
            return math.inf
        along = np.linspace(step.x_start, step.x_end, CLOSE).tolist()
        inside = [x for x in along if new.head.x_swell < x <= new.heel.x_joint]
        walls = section_walls([_flowing(new, x) for x in inside], [opening(step, x) for x in inside]) if inside else ()
        least = min([w.wall for w in new.walls if w.step == step.name] + [float(w) for w in walls], default=math.inf)
        return least - taper - TARGET - self.limit


def _flowing(layout: Layout, x: float) -> Section:
    """The section where the shaft flows into head or heel, taken as no fuller than on the shaft; the true one is
    fuller."""
    back, outside = layout.back, layout.outside
    return Section(outside.half_width(x), outside.keel(x), back.exponent(x), back.apex(x), outside.middle(x))


def more_wood(layout: Layout, short: Short, aim: Aim) -> Remedy | None:
    """A remedy with which this wall meets its limit: a shorter channel toward an end, a thicker neck toward the back.
    None where neither helps.

    short: with the limit to aim at.
    """
    nx, _, nz = short.normal
    taper = short.taper(layout)
    if short.toward_end and short.x > layout.heel.x_joint:
        remedy = shorter(layout, short.step, short.by / abs(nx) + TARGET, "heel.wood_ends_at", aim)
        return any_of(*(_holding(layout, short, taper, way, aim) for way in ways_of(remedy)))
    if abs(nz) < STEEP:
        return None
    for remedy in _thicker(layout, short, taper, aim):
        held = [_holding(layout, short, taper, way, aim) for way in ways_of(remedy)]
        if held[0] is not None:
            return any_of(*held)
    return None


def _holding(layout: Layout, short: Short, taper: float, remedy: Remedy, aim: Aim) -> Remedy | None:
    """The remedy if, by the layout's sections, the step then keeps its limit everywhere; else the remedy with a thicker
    neck. None where no neck up to MOST thicker does, or where it cannot be laid out."""
    design = layout.design
    for _ in range(ROUNDS):
        new = layout_with(design, remedy.set)
        if new is None:
            return None
        spare = short.kept(new, taper)
        if spare >= 0:
            return remedy
        more, neck = -SPARE * spare, new.design.neck.thickness
        thicker = _neck(design, neck.fret_1 + more, neck.fret_12 + more, aim)
        if not thicker or neck.fret_1 + more - design.neck.thickness.fret_1 > MOST:
            return None
        settings = dict(remedy.set) | thicker
        by = max(
            float(thicker[key]) - now for key, now in ((FRET_1, neck.fret_1), (FRET_12, neck.fret_12)) if key in thicker
        )
        for key, value in ((HEEL, new.design.heel.depth), new.design.head.wood):
            if key in remedy.set:
                settings[key] = aim.up(key, value + by)
        if HEEL not in settings and layout_with(design, settings) is None:  # the heel must stay as deep as the neck
            settings[HEEL] = aim.up(HEEL, design.heel.depth + neck.fret_1 + by - design.neck.thickness.fret_1)
        remedy = change(design, settings)
    return None


def _neck(design: Design, fret_1: float, fret_12: float, aim: Aim) -> Settings:
    """Settings of the thickness at both frets, except where the neck is carved already."""
    return {k: aim.up(k, t) for k, t in ((FRET_1, fret_1), (FRET_12, fret_12)) if not changes_measured(design, [k])}


def _amounts(layout: Layout, short: Short, taper: float) -> tuple[float | None, float | None]:
    """(how much thicker the neck must be, how much shallower the step, mm) by the section alone, along the shaft."""
    step, x, (_, _, nz) = short.step, short.x, short.normal
    if not short.on_shaft(layout):
        felt = abs(nz) * min(1.0, abs(short.wall.at_skin[2]) / layout.outside.keel(x))
        return SPARE * short.by / felt, SPARE * short.by / abs(nz)
    section, cut = layout.back.section(x), opening(step, x)
    target = short.limit + taper + TARGET

    def wall(extra: float, less: float) -> float:
        grown = replace(section, depth=section.depth + extra)
        return float(section_walls([grown], [Opening(cut.y_low, cut.y_high, max(cut.depth - less, 0.0))])[0])

    more = nearest_enough(lambda t: wall(t, 0.0) >= target, 0.0, MOST)
    return more, nearest_enough(lambda t: wall(0.0, t) >= target, 0.0, MOST)


def _thicker(layout: Layout, short: Short, taper: float, aim: Aim) -> Iterator[Remedy]:
    """A neck thicker by the least that is enough; head and heel with it where they bound the wall, or must stay
    deeper."""
    more, less = _amounts(layout, short, taper)
    if more is None or more > MOST:
        return
    x, design = short.x, layout.design
    thickness = design.neck.thickness
    neck = _neck(design, thickness.fret_1 + more, thickness.fret_12 + more, aim)
    heel: Settings = {HEEL: aim.up(HEEL, design.heel.depth + more)}
    behind, thick = design.head.wood
    head: Settings = {behind: aim.up(behind, thick + more)}
    others = list(_alone(layout, short, more, aim)) + ([] if less is None else list(_lower(layout, short, less, aim)))

    def keeps(new: Layout) -> bool:
        return short.kept(new, taper) >= 0

    also = [other for other in others if first_good(design, [other], keeps)]
    if x >= layout.heel.x_joint:
        sets = [heel]
    elif x < 0:
        sets = [neck | head, neck | head | heel]
    else:
        sets = [neck, neck | heel, neck | head, neck | heel | head] if short.on_shaft(layout) else [neck | heel]
    end = _end_too(layout, short, aim)
    if len(neck) < 2:  # carved already, at one fret or both
        yield from others
    for settings in sets:
        if settings:
            yield either(change(design, settings | end), *([] if end else also))


def _end_too(layout: Layout, short: Short, aim: Aim) -> Settings:
    """Settings for what the same step lacks at the wood's end, which would fail next."""
    lack = short.limit + TARGET - (layout.heel.x_end - short.step.x_end)
    if short.step.end_end == EndKind.OPEN or lack <= TARGET:
        return {}
    remedy = shorter(layout, short.step, lack, "heel.wood_ends_at", aim)
    return {} if remedy is None else remedy.set


def _alone(layout: Layout, short: Short, more: float, aim: Aim) -> Iterator[Remedy]:
    """A thicker neck at fret 1 alone, where the wall gains enough of it."""
    share = (layout.back.x_12 - short.x) / (layout.back.x_12 - layout.back.x_1)
    if short.on_shaft(layout) and share > FELT:
        one = aim.up(FRET_1, layout.design.neck.thickness.fret_1 + more / share)
        yield change(layout.design, {FRET_1: one})


def _lower(layout: Layout, short: Short, by: float, aim: Aim) -> Iterator[Remedy]:
    """A shallower step that leaves the same wood."""
    design, step = layout.design, short.step
    rod, bars = design.rod, design.bars
    if is_bar(step.name):
        if bars is not None:
            yield change(design, {"bars.height": aim.down("bars.height", bars.height - by)})
    elif rod is None:
        return
    elif rod.kind == "compression":
        yield from _shallower_axis(layout, short, by, aim)
    elif step.kind == StepName.RUN:
        lower = aim.down("rod.height", max(rod.height, rod.block.height, rod.anchor.height) - by)
        names = {"rod.height": rod.height, "rod.block.height": rod.block.height, "rod.anchor.height": rod.anchor.height}
        yield change(design, {key: min(height, lower) for key, height in names.items()})
    elif step.kind in (StepName.BLOCK, StepName.ANCHOR):
        key = f"rod.{step.kind}.height"
        yield change(design, {key: aim.down(key, getattr(rod, step.kind).height - by)})
    else:
        key = "rod.adjuster.axis_below_top"
        yield change(design, {key: aim.down(key, rod.adjuster.axis_below_top - by)})


def _shallower_axis(layout: Layout, short: Short, by: float, aim: Aim) -> Iterator[Remedy]:
    """A bent rod's axis, less deep at its adjuster, for the steps cut there."""
    rod, place = layout.design.rod, layout.rod
    if rod is None or rod.axis_depth is None or place is None:
        return
    u, key = abs(short.x - place.x_adjuster) / rod.length, "rod.axis_depth.adjuster"
    if u < NEAR_ADJUSTER:  # its share in the parabola at that place
        yield change(layout.design, {key: aim.down(key, rod.axis_depth.adjuster - by / ((1 - u) * (1 - 2 * u)))})


def shorter(layout: Layout, step: Step, by: float, key: str, aim: Aim) -> Remedy | None:
    """A rod or bar shorter by this much, mm, or the wood (`key`) longer."""
    design = layout.design
    bar = is_bar(step.name)
    length = design.bars.length if bar and design.bars is not None else design.rod.length if design.rod else 0.0
    size = "bars.length" if bar else "rod.length"
    settings: Settings = {size: aim.down(size, length - by)}
    if layout.rod is not None and not bar and not layout.rod.stated:  # the rod stays in its present place
        settings["rod_place.from_nut"] = layout.rod.x_start
    ways = [settings]
    if key == "heel.wood_ends_at":
        longer: Settings = {key: aim.up(key, layout.heel.x_end + by)}
        if "rod_place.from_nut" in settings:
            longer["rod_place.from_nut"] = settings["rod_place.from_nut"]
        ways.append(longer)

    def wood(new: Layout) -> float:
        ends = [new.heel.x_end] if key == "heel.wood_ends_at" else [hole.x for hole in cut_outs(new.design)]
        return min(ends) - new.step(step.name).x_end

    return any_of(*(possible(design, way, lambda new: wood(new) >= wood(layout) + by - SLACK) for way in ways))
