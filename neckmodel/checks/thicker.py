"""Remedies for a wall that is too thin: by how much neck, heel, head or rod must change. Lengths mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies import first_good
from neckmodel.checks.verdict import SLACK, down, up
from neckmodel.findings import Remedy
from neckmodel.layout.back import Section, section_walls
from neckmodel.layout.walls import opening

if TYPE_CHECKING:
    from neckmodel.checks.measure.wall import Wall
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

MOST = 12.0  # mm, no remedy asks for more
STEEP = 0.5  # a wall whose direction is more level than this is not mended by a thicker neck
SPARE = 1.02  # where the law of a transition is only followed to first order
FELT = 0.2  # a change at fret 1 is worth offering alone where at least this share of it arrives
TARGET = 5e-5  # mm above the limit: what the taper may grow by with the thickness


@dataclass(frozen=True)
class Short:
    """A wall of one step against its limit."""

    step: Step
    wall: Wall
    measured: float
    limit: float

    @cached_property
    def normal(self) -> tuple[float, float, float]:
        """Unit vector from the channel to the skin (also where the channel has come out)."""
        across = np.subtract(self.wall.at_skin, self.wall.at_tool) * (-1 if self.wall.through else 1)
        x, y, z = (across / (np.linalg.norm(across) or 1.0)).tolist()
        return x, y, z

    @property
    def by(self) -> float:
        return self.limit - self.measured

    @property
    def x(self) -> float:
        return self.wall.at_tool[0]


def more_wood(layout: Layout, short: Short) -> Remedy | None:
    """What makes this wall meet its limit: shorter toward an end, thicker toward the back; None where neither would."""
    nx, _, nz = short.normal
    if abs(nx) > STEEP and short.x > layout.heel.x_joint:
        return shorter(layout, short.step, short.by / abs(nx) + TARGET, "heel.wood_ends_at")
    if abs(nz) < STEEP:
        return None
    return first_good(layout.design, _thicker(layout, short))


def _least(enough: Callable[[float], bool]) -> float | None:
    """The least amount up to MOST that is enough, if more always is."""
    if not enough(MOST):
        return None
    low, high = 0.0, MOST
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def _amounts(layout: Layout, short: Short) -> tuple[float | None, float | None]:
    """(how much thicker the neck must be, how much shallower the step): by the section's own law along the shaft.

    What the solid reads less than the section by itself (the taper) is added to what is asked for.
    """
    step, x, (_, _, nz) = short.step, short.x, short.normal
    if not 0.0 <= x <= layout.heel.x_swell:
        depth = layout.outside.keel(x)
        felt = abs(nz) * min(1.0, abs(short.wall.at_skin[2]) / depth)
        return SPARE * short.by / felt, SPARE * short.by / abs(nz)
    section, cut = layout.back.section(x), opening(step, x)
    target = short.limit + max(layout.wall_at(step, x) - short.measured, 0.0) + TARGET

    def wall(extra: float, less: float) -> float:
        grown = Section(section.half_width, section.depth + extra, section.exponent, section.apex)
        return float(section_walls([grown], [type(cut)(cut.y_low, cut.y_high, max(cut.depth - less, 0.0))])[0])

    return _least(lambda t: wall(t, 0.0) >= target), _least(lambda t: wall(0.0, t) >= target)


def _thicker(layout: Layout, short: Short) -> Iterator[Remedy]:
    """The neck thicker by as little as will do; head and heel with it where they hold the wall, or must stay deeper."""
    more, less = _amounts(layout, short)
    if more is None or more > MOST:
        return
    x, design, by = short.x, layout.design, up(more)
    one, twelve = (round(t + by, 4) for t in (design.neck.thickness.fret_1, design.neck.thickness.fret_12))
    neck: dict[str, float | str] = {"neck.thickness.fret_1": one, "neck.thickness.fret_12": twelve}
    heel: dict[str, float | str] = {"heel.depth": round(design.heel.depth + by, 4)}
    head: dict[str, float | str] = {"head.thickness": round(design.head.thickness + by, 4)}
    text = f"a neck thicker by {by:.2f} mm: neck.thickness.fret_1 = {one:.2f} mm with fret_12 = {twelve:.2f} mm"
    share = (layout.back.x_12 - x) / (layout.back.x_12 - layout.back.x_1)  # of a change at fret 1 that arrives at x
    alone = ""
    if 0.0 <= x <= layout.heel.x_swell and share > FELT:
        alone = f", or fret_1 = {up(design.neck.thickness.fret_1 + more / share):.2f} mm alone"
    lower = "" if less is None else _lower(short.step, up(less))
    deeper, thick = f"heel.depth = {heel['heel.depth']:.2f} mm", f"head.thickness = {head['head.thickness']:.2f} mm"
    if x >= layout.heel.x_joint:
        yield Remedy(f"a heel deeper by {by:.2f} mm: {deeper}{lower}", heel)
        return
    if 0.0 <= x <= layout.heel.x_swell:
        yield Remedy(text + alone + lower, neck)
    if x > 0.0:
        yield Remedy(f"{text} and {deeper}{lower}", neck | heel)
    else:
        yield Remedy(f"{text} and {thick}{lower}", neck | head)
    yield Remedy(f"{text}, {deeper} and {thick}{lower}", neck | heel | head)


def _lower(step: Step, by: float) -> str:
    """The same wood won by a shallower step."""
    what = {"run": "a rod", "block": "a rod's block", "anchor": "a rod's anchor"}.get(step.name)
    if step.name.startswith("bar-"):
        what = "bars"
    if what is None:
        return f", or an adjuster whose axis lies {by:.2f} mm nearer to the rod's top"
    return f", or {what} {by:.2f} mm lower"


def shorter(layout: Layout, step: Step, by: float, key: str) -> Remedy | None:
    """A rod or bar shorter by so much, or the wood (`key`) longer."""
    design = layout.design
    bar = step.name.startswith("bar-")
    length = design.bars.length if bar and design.bars is not None else design.rod.length if design.rod else 0.0
    name = "bars.length" if bar else "rod.length"
    settings: dict[str, float | str] = {name: down(length - by)}
    if layout.rod is not None and not bar and not layout.rod.stated:
        settings["rod_place.from_nut"] = down(layout.rod.x_adjuster)
    says = f"{'bars' if bar else 'a rod'} of at most {down(length - by):.2f} mm"
    remedies = [Remedy(says, settings)]
    if key == "heel.wood_ends_at":
        end = up(layout.heel.x_end + by)
        remedies = [Remedy(f"{says}, or {key} = {end:.2f} mm", settings), Remedy(f"{key} = {end:.2f} mm", {key: end})]

    def wood(new: Layout) -> float:
        ends = [new.heel.x_end] if key == "heel.wood_ends_at" else [c.from_ for c in new.design.body.cutouts]
        return min(ends) - new.step(step.name).x_end

    return first_good(design, remedies, lambda new: wood(new) >= wood(layout) + by - SLACK)
