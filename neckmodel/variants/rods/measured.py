"""Whether a rod goes into a channel that is partly cut already, and where along it. Lengths mm.

Only measured steps count: the rest of the channel is cut to suit the rod.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.channel.measured import SECTION
from neckmodel.layout.channel.run import run_long
from neckmodel.layout.channel.seat import boxes_in, deepest
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName
from neckmodel.layout.rod.bars import is_bar
from neckmodel.variants.limits import SLACK, Margin

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.bars import Bar
    from neckmodel.layout.rod.rod import RodPlace

AS_CUT = " as cut"  # follows the words for an end of a step
TURNS = 0.01  # mm round an adjuster, with less of which it cannot turn
WAYS = {"x_start": "toward the nut", "x_end": "toward the body"}


@dataclass(frozen=True)
class _PartInStep:
    """A part that must lie in one step: from x_start to x_end, this wide, this far below the glue plane, with this much
    play in width and half as much under it.

    below: how much higher it may lie before it is proud. beyond: channel needed past x_start and past x_end, for square
    corners in a round end.
    """

    x_start: float
    x_end: float
    width: float
    deep: float
    play: float = 0.0
    below: float = 0.0
    beyond: tuple[float, float] = (0.0, 0.0)


def cut_margins(layout: Layout) -> Iterator[Margin]:
    """How much room the cut channel leaves for each part in it. "place" along the neck, "fit" in width and depth."""
    measured = {key for key, _ in layout.design.measured or () if key.startswith(SECTION)}
    if not measured:
        return
    for step in layout.steps:
        parts = list(_parts_in(layout, step))
        if parts:
            yield from _across(step, parts, measured)
        for end in _fixed(layout, step, measured):
            lack = [_along(layout, step, part, end) for part in parts]
            if lack:
                kind = "fit" if is_bar(step.name) else "place"
                yield Margin(f"the {step.name.replace('-', ' ')}{AS_CUT} {WAYS[end]}", min(lack), kind)


def _across(step: Step, parts: list[_PartInStep], measured: set[str]) -> Iterator[Margin]:
    wide = min(step.width - part.width - part.play for part in parts)
    deep = min(_floor(step, part) - part.deep - part.play / 2 + part.below for part in parts)
    for what, margin in (("width", wide), ("depth", deep)):
        if what == "depth" and step.behind:  # the rod lies as high as its floor, and the strip is fitted to it
            continue
        if f"{SECTION}{step.name}.{what}" in measured:
            yield Margin(f"the {what} of {step.name} as cut", margin, "fit")


def _floor(step: Step, part: _PartInStep) -> float:
    """Depth of the floor under a part; a bent bar and its floor are parallel."""
    return step.depth_at((part.x_start + part.x_end) / 2)


def _parts_in(layout: Layout, step: Step) -> Iterator[_PartInStep]:
    for bar in layout.bars:
        if bar.name == step.name:
            yield _bar(bar)
    rod = layout.rod_of(step)
    if rod is not None and not is_bar(step.name):
        yield from _of_rod(layout, rod, step)


def _bar(bar: Bar) -> _PartInStep:
    return _PartInStep(bar.x_start, bar.x_end, bar.width, bar.below + bar.height, below=bar.below)


def _of_rod(layout: Layout, rod: RodPlace, step: Step) -> Iterator[_PartInStep]:
    if step.kind == StepName.ADJUSTER:
        x0, x1 = sorted((rod.x_adjuster, rod.x_adjuster - rod.outward * (rod.wheel or rod.adjuster_length)))
        radius, axis = rod.adjuster_diameter / 2, max(rod.axis, rod.axis_at(rod.x_block))
        yield _PartInStep(x0, x1, 2 * radius, axis + radius, TURNS)
    elif step.kind == StepName.WASHER and rod.washer is not None:
        washer = rod.washer
        yield _PartInStep(washer.x_start, washer.x_end, washer.diameter, washer.axis + washer.diameter / 2)
    else:
        yield from _inner(layout, rod, step)


def _inner(layout: Layout, rod: RodPlace, step: Step) -> Iterator[_PartInStep]:
    """The parts between the adjuster and the channel's far end; the last needs room for its corners."""
    boxes = boxes_in(rod, step, layout.steps)
    parts = [_PartInStep(s.x_start, s.x_end, s.width, rod.below + deepest([s]), below=rod.below) for s in boxes]
    if rod.curve is not None and step.kind == StepName.RUN:
        x0, x1 = sorted((rod.x_block, rod.x_anchor_end))
        parts.append(_PartInStep(x0, x1, rod.diameter, rod.axis_at((x0 + x1) / 2) + rod.diameter / 2))
    corner = step.corner_start if rod.at_heel else step.corner_end
    for part in parts:
        last = abs((part.x_start if rod.at_heel else part.x_end) - rod.x_anchor_end) < LEAST_DIFFERENCE
        beyond = run_long(part.width, step.width, corner) if last and corner > 0 else 0.0
        yield replace(part, beyond=(beyond, 0.0) if rod.at_heel else (0.0, beyond))


def _fixed(layout: Layout, step: Step, measured: set[str]) -> Iterator[str]:
    """The ends of a step that do not move with the rod: those measured, or open into another step's measured end."""
    planned = next((s for s in layout.planned_steps if s.name == step.name), step)
    for mine, theirs, kind in (("x_start", "x_end", planned.end_start), ("x_end", "x_start", planned.end_end)):
        at = getattr(planned, mine)
        met = [
            other.name
            for other in layout.planned_steps
            if other.name != step.name and other.y == step.y and abs(getattr(other, theirs) - at) < LEAST_DIFFERENCE
        ]
        names = {f"{SECTION}{step.name}.{mine}", *(f"{SECTION}{name}.{theirs}" for name in met if kind == EndKind.OPEN)}
        if names & measured:
            yield mine


def _along(layout: Layout, step: Step, part: _PartInStep, end: str) -> float:
    """How far a part stays inside an end of its step, or inside the steps that it may reach into."""
    sign, before = (-1, True) if end == "x_start" else (1, False)
    reach = sign * float(getattr(step, end))
    while True:
        onto = [other for other in layout.steps if other is not step and _goes_on(other, part, sign * reach)]
        farther = max((sign * float(getattr(other, end)) for other in onto), default=reach)
        if farther <= reach:
            break
        reach = farther
    return reach - sign * (part.x_start if before else part.x_end) - part.beyond[0 if before else 1]


def _goes_on(other: Step, part: _PartInStep, x: float) -> bool:
    """Whether a part may reach across x into another step."""
    inside = other.x_start - LEAST_DIFFERENCE <= x <= other.x_end + LEAST_DIFFERENCE
    holds = other.width >= part.width + part.play - SLACK and _floor(other, part) >= part.deep + part.play / 2 - SLACK
    return inside and holds
