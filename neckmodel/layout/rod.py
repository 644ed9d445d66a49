"""Where the rod and the bars may lie, and which rods would fit at all."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.keys import HEX_KEYS, across_corners

if TYPE_CHECKING:
    from neckmodel.design import Design, Rod


@dataclass(frozen=True)
class Bound:
    """One limit on the place of a rod's or bar's nut-side end: x in mm, the key that moves it, and what that key says."""

    reason: str
    x: float
    key: str
    value: float = 0.0


@dataclass(frozen=True)
class Segment:
    """A stretch of the rod with one width and height, mm; top: how far its upper face lies below the rod's top."""

    name: str
    x_start: float
    x_end: float
    width: float
    height: float
    top: float = 0.0


@dataclass(frozen=True)
class RodPlace:
    """A rod with its adjuster at the head. x_adjuster: the adjuster's outer face, backed right off, mm.

    lower, upper: every bound on x_adjuster; the interval runs from the largest lower to the smallest upper one. The rod
    fits nowhere when `x_min > x_max`. `x_span`: beyond it the adjuster's block would start past fret 1 (a warning).
    fitting_from, fitting_to: over-all lengths of rods that would fit. axis: depth of the adjuster's axis below z = 0.
    """

    x_adjuster: float
    stated: bool
    length: float
    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]
    x_span: float
    fitting_from: float
    fitting_to: float
    axis: float
    adjuster_diameter: float
    adjuster_length: float
    socket_size: float
    socket_depth: float
    segments: tuple[Segment, ...]

    @property
    def x_min(self) -> float:
        return max(bound.x for bound in self.lower)

    @property
    def x_max(self) -> float:
        return min(bound.x for bound in self.upper)

    @property
    def x_anchor_end(self) -> float:
        return self.x_adjuster + self.length

    @property
    def x_block(self) -> float:
        """Where the adjuster ends and its block begins."""
        return self.x_adjuster + self.adjuster_length

    def segment(self, name: str) -> Segment:
        return next(s for s in self.segments if s.name == name)


def key_reach(design: Design) -> float:
    """Largest x of the adjuster at which an L-key still rises clear on the head side of the nut, mm; inf for others.

    `l_min - e - k_c - c_k - t_nut`: shortest arm by tolerance, engaged depth, width across corners, clearance, nut.
    """
    key = design.adjusting_key
    if key is None or key.kind != "L-key":
        return math.inf
    arm = key.long_arm if key.arm_in_socket == "long" else key.short_arm
    row = next((k for k in HEX_KEYS if abs(k.size - key.size) < 1e-6), None)
    if arm is None:
        if row is None:
            raise design.problem(
                "adjusting_key",
                f"the {key.arm_in_socket} arm of this key is not stated",
                "a length",
                "measure the arm in hand",
            )
        arm = row.long_arm if key.arm_in_socket == "long" else row.short_arm
        arm -= row.long_tolerance if key.arm_in_socket == "long" else row.short_tolerance
    return arm - key.engaged_depth - across_corners(key.size) - design.channel.key_clearance - design.nut.thickness


def key_arm(design: Design) -> float:
    """Length of the arm in the socket, measured to the outside of the bend, longest by tolerance, mm."""
    key = design.adjusting_key
    assert key is not None  # callers ask only where a key is stated
    stated = key.long_arm if key.arm_in_socket == "long" else key.short_arm
    if stated is not None:
        return float(stated)
    row = next(k for k in HEX_KEYS if abs(k.size - key.size) < 1e-6)
    return row.long_arm if key.arm_in_socket == "long" else row.short_arm


def x_wood_behind(design: Design, x_wood_end: float) -> tuple[Bound, ...]:
    """How far back the rod's wood may reach: the wood's end and the body's cut-outs, as bounds on that x."""
    bounds = [Bound("the wood's end", x_wood_end, "heel.wood_ends_at", x_wood_end)]
    bounds += [Bound("a body cut-out", c.from_, f"body.cutouts.{k}.from", c.from_) for k, c in enumerate(design.body.cutouts)]
    return tuple(bounds)


def place_rod(
    design: Design, rod: Rod, x_joint: float, x_wood_end: float, x_fretboard_end: float, x_fret_1: float
) -> RodPlace:
    """The interval of places and the place chosen. Lengths mm; formulas as in each bound's reason."""
    place, clearance, length = design.rod_place, design.channel.end_clearance, rod.length
    gap = design.limits.place_adjuster
    inner = rod.anchor.length if place.past_joint_of == "inner" else 0.0
    stated = place.from_nut
    lower = [
        Bound("the gap from the nut", gap, "rod_place.from_nut"),
        Bound("the anchor past the joint", x_joint + place.past_joint + inner - length, "rod_place.past_joint"),
    ]
    upper = [
        Bound(b.reason, b.x - place.wood_beyond_rod - clearance - length, b.key, b.value)
        for b in x_wood_behind(design, x_wood_end)
    ]
    upper.append(Bound("the fretboard's end", x_fretboard_end - clearance - length, "fretboard.past_last_fret"))
    reach = key_reach(design)
    if math.isfinite(reach):
        upper.append(Bound("the key's arm", reach, "adjusting_key.short_arm"))
    lo, hi = max(b.x for b in lower), min(b.x for b in upper)
    span = x_fret_1 - rod.adjuster.length - rod.block.length
    x = stated
    if x is None:  # the middle of what is left before fret 1, rounded down to half a millimetre
        middle = (lo + max(lo, min(hi, span))) / 2
        x = max(lo, math.floor(2 * middle) / 2) if hi >= lo - 1e-6 else gap
    at_most = min(reach, span)
    a, b = x + rod.adjuster.length, x + length
    deeper = design.channel.deeper_by
    segments = (
        Segment("block", a, a + rod.block.length, rod.block.width, rod.block.height),
        Segment("span", a + rod.block.length, b - rod.anchor.length, rod.width, rod.height),
        Segment("anchor", b - rod.anchor.length, b, rod.anchor.width, rod.anchor.height),
    )
    back = min(bound.x for bound in x_wood_behind(design, x_wood_end))
    return RodPlace(
        x_adjuster=x,
        stated=stated is not None,
        length=length,
        lower=tuple(lower),
        upper=tuple(upper),
        x_span=span,
        fitting_from=x_joint + place.past_joint + inner - at_most,
        fitting_to=min(back - place.wood_beyond_rod - clearance, x_fretboard_end - clearance) - gap,
        axis=rod.adjuster.axis_below_top + deeper,
        adjuster_diameter=rod.adjuster.diameter,
        adjuster_length=rod.adjuster.length,
        socket_size=rod.adjuster.socket.size,
        socket_depth=rod.adjuster.socket.depth,
        segments=segments,
    )


@dataclass(frozen=True)
class Bar:
    """A glued bar: its own size and place, mm; y of its centre line. lower, upper: bounds on its nut-side end."""

    name: str
    x_start: float
    x_end: float
    y: float
    width: float
    height: float
    material: str
    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]


def place_bars(design: Design, x_joint: float, x_wood_end: float, x_fretboard_end: float) -> tuple[Bar, ...]:
    bars = design.bars
    if bars is None:
        return ()
    place, clearance = design.rod_place, design.channel.end_clearance
    lower = (
        Bound("the gap from the nut", design.limits.place_adjuster, "bars.from_nut"),
        Bound("the bar past the joint", x_joint + place.past_joint - bars.length, "rod_place.past_joint"),
    )
    upper = (
        *(
            Bound(b.reason, b.x - place.wood_beyond_rod - clearance - bars.length, b.key, b.value)
            for b in x_wood_behind(design, x_wood_end)
        ),
        Bound("the fretboard's end", x_fretboard_end - clearance - bars.length, "fretboard.past_last_fret"),
    )
    sides = (
        (0.0,)
        if bars.count == 1 and bars.offset == 0
        else (bars.offset,)
        if bars.count == 1
        else (-bars.offset, bars.offset)
    )
    return tuple(
        Bar(
            f"bar-{k + 1}",
            bars.from_nut,
            bars.from_nut + bars.length,
            y,
            bars.width,
            bars.height,
            bars.material,
            lower,
            upper,
        )
        for k, y in enumerate(sides)
    )
