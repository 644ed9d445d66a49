"""A channel that is routed from the back: its floor is the rod's own top, and a strip closes it. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.curve import Curve
from neckmodel.layout.channel.seat import boxes_in
from neckmodel.layout.channel.step import LEAST_DIFFERENCE, EndKind, Step, StepName
from neckmodel.layout.channel.walls import opening
from neckmodel.layout.neck.section import Section, section_walls
from neckmodel.lengths import no_less, no_more

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.design import Design
    from neckmodel.geometry.types import Point
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.neck.outside import Outside
    from neckmodel.layout.rod.rod import RodPlace

GROOVE = "back-strip"
"""Name of the part, and of the groove of a strip that is wider than the channel."""
STATIONS = 361  # sections looked at along the strip


def from_behind(rod: RodPlace, steps: tuple[Step, ...], clearance: float, face: float) -> tuple[Step, ...]:
    """The rod's steps, laid out as if from the front, turned over: each from the top of what lies in it down to its
    underside. clearance: of the adjuster, on its diameter; face: depth of the level back below z = 0."""
    return tuple(_turned(rod, step, steps, clearance, face) for step in steps)


def _turned(rod: RodPlace, step: Step, steps: tuple[Step, ...], clearance: float, face: float) -> Step:
    x0, x1 = step.x_start, step.x_end
    if step.name == StepName.RUN and rod.curve is not None:
        axis = rod.curve.between(x0, x1)
        return _between(step, axis.raised(rod.diameter / 2), axis.raised(-rod.diameter / 2), face)
    if step.name == StepName.WASHER and rod.washer is not None:
        return _level(step, rod.washer.axis - rod.washer.diameter / 2, rod.washer.axis + rod.washer.diameter / 2, face)
    if step.name == StepName.ADJUSTER:
        half = (rod.adjuster_diameter + clearance) / 2
        axes = rod.axis, rod.axis_at(rod.x_block)
        return _level(step, min(axes) - half, max(axes) + half, face)
    boxes = boxes_in(rod, step, steps)
    tops = [rod.below + box.top for box in boxes]
    lows = [rod.below + box.top + box.height for box in boxes]
    return _level(step, min(tops), max(lows), face)


def _level(step: Step, top: float, bottom: float, face: float) -> Step:
    x0, x1 = step.x_start, step.x_end
    return _between(step, Curve(x0, x1, top, top), Curve(x0, x1, bottom, bottom), face)


def _between(step: Step, top: Curve, bottom: Curve, face: float) -> Step:
    return replace(
        step,
        depth_start=bottom.start,
        depth_end=bottom.end,
        depth_middle=bottom.middle,
        ceiling=top,
        face=face,
    )


def proud_of_back(profile: Sequence[Point], face: float, x_from: float, x_to: float) -> float:
    """How far the sawn head or heel stands above the level back between two x, as the blank lies face down, mm; 0 where
    neither does. profile: (x, z) of the blank's side."""
    found = [0.0]
    for (x0, z0), (x1, z1) in zip(profile, [*profile[1:], profile[0]], strict=True):
        low, high = max(min(x0, x1), x_from), min(max(x0, x1), x_to)
        if high > low and x1 != x0:
            found += [-(z0 + (z1 - z0) * (x - x0) / (x1 - x0)) - face for x in (low, high)]
    return max(found)


def refuse_behind(design: Design, steps: Sequence[Step]) -> None:
    """Raises DesignError where a floor would lie above plane z = 0, or so deep that no wood is left behind it."""
    for step in steps:
        if not step.behind:
            continue
        if step.top < -LEAST_DIFFERENCE:
            key = HIGH.get(step.kind, "channel.deeper_by")
            if key == "channel.deeper_by" and design.rod is not None and design.rod.kind == "compression":
                key = "rod.axis_depth"
            says = f"takes the floor of the {step.name} {-step.top:.2f} mm above plane z = 0, into the fretboard"
            raise design.problem(key, says, "", f"a rod that lies {no_less(-step.top)} deeper, or a slimmer adjuster")
        if step.depth > step.face - LEAST_BEHIND:
            says = f"lies so deep that hardly any wood is left behind the {step.name}"
            most = f"at most {no_more(step.face - LEAST_BEHIND)} from plane z = 0 to its underside"
            bent = design.rod is not None and design.rod.kind == "compression"
            raise design.problem("rod.axis_depth" if bent else "channel.deeper_by", says, most)


HIGH: dict[str, str] = {StepName.ADJUSTER: "rod.adjuster.diameter", StepName.WASHER: "rod.washer.diameter"}
"""The key of what stands too high in a step; of other steps, that of the rod's own depth."""
LEAST_BEHIND = 0.5  # mm between what lies in the channel and the blank's level back


@dataclass(frozen=True)
class BackStrip:
    """The strip glued in behind the rod, from x_start to x_end, as the carved neck has it.

    width: of its groove, where that is wider than the channel; else the widest step's, and the strip follows the
    channel in plan. groove: of a strip wider than the channel, level with the rod's deepest underside. over: least wood
    from the rod's underside to the carved skin, at x_over. cheek: least depth to which the channel's side is glued to
    the strip, at x_cheek. stock: the strip before carving, its length, width and height.
    """

    wood: str
    x_start: float
    x_end: float
    width: float
    groove: Step | None
    over: float
    x_over: float
    cheek: float
    x_cheek: float
    stock: tuple[float, float, float]


def place_back_strip(design: Design, steps: Sequence[Step], outside: Outside) -> BackStrip | None:
    """The strip of a channel cut from the back; None for any other. Raises DesignError for a strip narrower than the
    channel."""
    own, stated = [step for step in steps if step.behind], design.channel.back_strip
    if not own or stated is None:
        return None
    widest = max(step.width for step in own)
    if stated.width is not None and stated.width < widest - LEAST_DIFFERENCE:
        says = f"is less than the channel's {widest:.2f} mm where that is widest"
        attempt = "or leave it out: the strip then follows the channel"
        raise design.problem("channel.back_strip.width", says, f"at least {no_less(widest)}", attempt)
    start, end = min(step.x_start for step in own), max(step.x_end for step in own)
    wide = stated.width is not None and stated.width > min(step.width for step in own) + LEAST_DIFFERENCE
    groove = _groove(own, stated.width, start, end) if wide and stated.width is not None else None
    over, x_over = _over(own, outside)
    cheek, x_cheek = _cheek(own if groove is None else [groove], outside)
    face = own[0].face
    deepest = face - min(step.floor.extremes()[0] for step in own)
    width = widest if stated.width is None else stated.width
    return BackStrip(
        wood=stated.wood,
        x_start=start,
        x_end=end,
        width=width,
        groove=groove,
        over=over,
        x_over=x_over,
        cheek=cheek,
        x_cheek=x_cheek,
        stock=(end - start, width, deepest),
    )


def _groove(own: Sequence[Step], width: float, start: float, end: float) -> Step:
    """The groove of a strip wider than the channel, its bottom level with the rod's deepest underside."""
    level = max(step.depth for step in own)
    flat = Curve(start, end, level, level)
    first, last = min(own, key=lambda s: s.x_start), max(own, key=lambda s: s.x_end)
    corner_start, corner_end = (width / 2 if kind == EndKind.ROUND else 0.0 for kind in (first.end_start, last.end_end))
    return Step(
        GROOVE,
        start,
        end,
        width,
        level,
        level,
        corner_start=corner_start,
        corner_end=corner_end,
        end_start=first.end_start,
        end_end=last.end_end,
        ceiling=flat,
        face=own[0].face,
    )


def _sections(outside: Outside, step: Step) -> list[tuple[float, Section]]:
    """Sections of the shaft along a step, as far as the joint."""
    first, last = max(step.x_start, 0.0), min(step.x_end, outside.heel.x_joint)
    if last <= first:
        return []
    later = outside.back.later  # the bass side is nearest where the step beside a string that starts later begins
    named = [] if later is None else [x for x in (later.x_from, later.x_to) if first < x < last]
    return [(float(x), outside.back.section(float(x))) for x in (*np.linspace(first, last, STATIONS), *named)]


def _over(own: Sequence[Step], outside: Outside) -> tuple[float, float]:
    """(least wood from the underside of what lies in the steps to the back, its x), by sections of the shaft."""
    found = (math.inf, 0.0)
    for step in own:
        at = _sections(outside, step)
        if at:
            walls = section_walls([section for _, section in at], [opening(step, x) for x, _ in at])
            found = min([found, *((float(wall), x) for wall, (x, _) in zip(walls, at, strict=True))])
    return found


def _cheek(own: Sequence[Step], outside: Outside) -> tuple[float, float]:
    """(least depth of the strip's glued side, its x), by sections of the shaft."""
    found = (math.inf, 0.0)
    for step in own:
        for x, section in _sections(outside, step):
            sides = (section.depth_at(step.y + side * step.width / 2) for side in (-1, 1))
            found = min(found, (min(sides) - step.depth_at(x), x))
    return found


@dataclass(frozen=True)
class OverChannel:
    """Least wood over a channel cut from the back, at the centre line, mm: up to the deepest fret slot, and its x; up
    to the crown."""

    wall: float
    x: float
    to_crown: float


def over_channel(steps: Sequence[Step], board: Fretboard) -> OverChannel:
    """The wood over the steps that are cut from the back; inf where there are none. Past the fretboard's ends it is
    that below plane z = 0."""
    found, crowns = [(math.inf, 0.0)], [math.inf]
    for step in (step for step in steps if step.behind):
        along = [float(x) for x in np.linspace(step.x_start, step.x_end, STATIONS)]
        for x in along:
            there = board.thickness if board.x_start <= x <= board.x_end else 0.0
            crowns.append(there + step.top_at(x))
            found.append((there + step.top_at(x), x))
            if board.slots and there:  # a fret slot may lie anywhere over it
                found.append((there - board.slot_depth + step.top_at(x), x))
    wall, x = min(found)
    return OverChannel(wall, x, min(crowns))
