"""Pockets in the body for an adjuster at the heel and for its key. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.key.hexagon import swing_half_width
from neckmodel.layout.key.reach import from_soundhole

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.key.key import KeyPlace
    from neckmodel.layout.rod.rod import RodPlace


@dataclass(frozen=True)
class Recess:
    """A pocket in the body beyond the neck's wood, open at the body's top. name: "adjuster" or "key".

    depth, depth_end: of its floor below the glue plane at x_start and x_end. below_top: its depth below the body's top
    at the joint; negative where the body needs no pocket there. swing: degrees through which a key turns in it, 0 where
    none does. y: of its middle.
    """

    name: str
    x_start: float
    x_end: float
    width: float
    depth: float
    depth_end: float
    below_top: float
    swing: float = 0.0
    y: float = 0.0


def body_recesses(
    design: Design, rods: tuple[RodPlace, ...], keys: tuple[KeyPlace, ...], x_wood_end: float
) -> tuple[Recess, ...]:
    """The pockets for each adjuster and its key where they lie beyond the wood's end; () for an adjuster at the head,
    and for a key that comes through a bore from the soundhole."""
    if from_soundhole(design) is not None:
        return ()
    each = zip(rods, keys or (None,) * len(rods), strict=True)
    found = [(rod, recess) for rod, key in each if rod.at_heel for recess in _recesses(design, rod, key, x_wood_end)]
    return tuple(replace(recess, name=f"{recess.name}{rod.suffix}", y=rod.y) for rod, recess in found)


def _recesses(design: Design, rod: RodPlace, key: KeyPlace | None, x_wood_end: float) -> list[Recess]:
    channel, top = design.channel, design.body.top
    found = []
    x_end = rod.x_adjuster + channel.end_clearance
    if x_end > x_wood_end:
        depth = max(rod.axis, rod.axis_at(rod.x_block)) + (rod.adjuster_diameter + channel.adjuster_clearance) / 2
        width = rod.adjuster_diameter + channel.adjuster_clearance
        found.append(Recess("adjuster", x_wood_end, x_end, width, depth, depth, depth + top))
    if key is not None:
        recess = _bar(key, top) if key.kind == "bar" else _key(key, max(x_wood_end, x_end), top)
        if recess is not None and recess.x_end > x_wood_end:
            found.append(recess)
    return found


def _bar(key: KeyPlace, top: float) -> Recess:
    """A bar turns in the plane of the wheel; the recess is as wide at the body's top as it swings there."""
    half = swing_half_width(key.axis + top, key.turn, key.corners) + key.clearance
    thick = key.corners / 2 + key.clearance
    x0, x1 = key.x_tip - thick, key.x_tip + thick
    return Recess(
        name="key",
        x_start=x0,
        x_end=x1,
        width=2 * half,
        depth=key.axis,
        depth_end=key.axis,
        below_top=key.axis + top,
        swing=key.turn,
    )


def _key(key: KeyPlace, x_from: float, top: float) -> Recess | None:
    """A groove for the key drawn out of its socket; for an L-key as wide as its arm swings at the body's top."""
    rise, half = math.tan(math.radians(key.tilt)), key.corners / 2 + key.clearance
    x_to = key.x_tip + key.engaged + key.length + key.clearance
    if x_to <= x_from:
        return None

    def depth(x: float) -> float:
        return key.floor - rise * (x - key.x_tip)

    width, swing = 2 * half, 0.0
    if key.kind == "L-key":
        width = 2 * (swing_half_width(key.axis + top, key.swing, key.corners) + key.clearance)
        swing = key.swing
    return Recess(
        name="key",
        x_start=x_from,
        x_end=x_to,
        width=width,
        depth=depth(x_from),
        depth_end=depth(x_to),
        below_top=depth(x_from) + top,
        swing=swing,
    )
