"""Where the rod and the bars may lie, and which rods would fit at all."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.access import key_reach
from neckmodel.layout.channel import BAR_FIT

if TYPE_CHECKING:
    from neckmodel.design import Design, Rod
    from neckmodel.layout.fretboard import Fretboard
    from neckmodel.layout.frets import Frets


@dataclass(frozen=True)
class Bound:
    """One limit on the place of a rod's or bar's nut-side end: x in mm, the key that moves it, what that key says."""

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
    fits nowhere when `x_min > x_max`. `x_span`: beyond it the adjuster's block would end past fret 1 (a warning);
    `x_cover`: beyond it the channel comes out from under the fretboard.
    fitting_from, fitting_to: over-all lengths of rods that would fit: at least from the farthest place the key can
    reach (where only its own length bounds a key, from `x_span`); from > to where none would.
    axis: depth of the adjuster's axis below z = 0.
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
    x_cover: float = math.inf
    x_joint: float = 0.0

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


def x_wood_behind(design: Design, x_wood_end: float) -> tuple[Bound, ...]:
    """How far back the rod's wood may reach: the wood's end and the body's cut-outs, as bounds on that x."""
    bounds = [Bound("the wood's end", x_wood_end, "heel.wood_ends_at", x_wood_end)]
    bounds += [
        Bound("a body cut-out", c.from_, f"body.cutouts.{k}.from", c.from_) for k, c in enumerate(design.body.cutouts)
    ]
    return tuple(bounds)


def aslant(slope: float, half: float, y: float = 0.0) -> float:
    """How far the line of a nut or fret through the origin reaches toward the body over y - half to y + half, mm."""
    return slope * y + abs(slope) * half


def place_rod(design: Design, rod: Rod, frets: Frets, x_wood_end: float, board: Fretboard) -> RodPlace:
    """The interval of places and the place chosen. Lengths mm; formulas as in each bound's reason.

    Gaps to a slanted nut or joint line hold over the whole width of the pocket that lies there: `|sigma| v` more.
    """
    place, channel, length = design.rod_place, design.channel, rod.length
    clearance = channel.end_clearance
    half_adjuster = (rod.adjuster.diameter + channel.adjuster_clearance) / 2
    half_anchor = (rod.anchor.width + channel.wider_by) / 2
    gap = design.limits.place_adjuster + aslant(frets.slope(0), half_adjuster)
    joint = design.neck.joint_fret
    x_joint = frets.x(joint) + aslant(frets.slope(joint), half_anchor)
    inner = rod.anchor.length if place.past_joint_of == "inner" else 0.0
    stated = place.from_nut
    lower = [
        Bound("the gap from the nut", gap, "rod_place.from_nut"),
        Bound("the anchor past the joint", x_joint + place.past_joint + inner - length, "rod_place.past_joint"),
    ]
    behind = x_wood_behind(design, x_wood_end)
    upper = [Bound(b.reason, b.x - place.wood_beyond_rod - clearance - length, b.key, b.value) for b in behind]
    reach, key = key_reach(design), design.adjusting_key
    if key is not None and math.isfinite(reach):
        upper.append(Bound("the key's arm", reach, f"adjusting_key.{key.arm_in_socket}_arm"))
    lo, hi = max(b.x for b in lower), min(b.x for b in upper)
    span = frets.x(1) - rod.adjuster.length - rod.block.length
    cover = board.x_end - aslant(board.slope_end, half_anchor) - clearance - length
    x = stated
    if x is None:  # the middle of what is left before fret 1 and under the fretboard, down to half a millimetre
        middle = (lo + max(lo, min(hi, span, cover))) / 2
        x = max(lo, math.floor(2 * middle) / 2) if hi >= lo - 1e-6 else gap
    a, b = x + rod.adjuster.length, x + length
    deeper = design.channel.deeper_by
    segments = (
        Segment("block", a, a + rod.block.length, rod.block.width, rod.block.height),
        Segment("span", a + rod.block.length, b - rod.anchor.length, rod.width, rod.height),
        Segment("anchor", b - rod.anchor.length, b, rod.anchor.width, rod.anchor.height),
    )
    first, last = x_joint + place.past_joint + inner, min(b.x for b in behind) - place.wood_beyond_rod - clearance
    fitting_from = first - (reach if math.isfinite(reach) else span)
    none_fits = max(first - last, gap - reach, 0.0)  # the joint too near the wood's end, or the key too short
    return RodPlace(
        x_adjuster=x,
        stated=stated is not None,
        length=length,
        lower=tuple(lower),
        upper=tuple(upper),
        x_span=span,
        fitting_from=fitting_from,
        fitting_to=min(last - gap, fitting_from - none_fits) if none_fits > 0 else last - gap,
        axis=rod.adjuster.axis_below_top + deeper,
        adjuster_diameter=rod.adjuster.diameter,
        adjuster_length=rod.adjuster.length,
        socket_size=rod.adjuster.socket.size,
        socket_depth=rod.adjuster.socket.depth,
        segments=segments,
        x_cover=cover,
        x_joint=x_joint,
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


def place_bars(design: Design, frets: Frets, x_wood_end: float) -> tuple[Bar, ...]:
    bars = design.bars
    if bars is None:
        return ()
    place, clearance, joint = design.rod_place, design.channel.end_clearance, design.neck.joint_fret
    half = (bars.width + BAR_FIT) / 2
    upper = tuple(
        Bound(b.reason, b.x - place.wood_beyond_rod - clearance - bars.length, b.key, b.value)
        for b in x_wood_behind(design, x_wood_end)
    )
    if bars.count == 2 and bars.offset < half:
        least = f"at least {half:.2f} mm"
        raise design.problem("bars.offset", "the channels of the two bars run into each other", least)
    sides = (bars.offset,) if bars.count == 1 else (-bars.offset, bars.offset)
    placed = []
    for k, y in enumerate(sides):
        x_joint = frets.x(joint) + aslant(frets.slope(joint), half, y)
        gap = design.limits.place_adjuster + aslant(frets.slope(0), half, y)
        lower = (
            Bound("the gap from the nut", gap, "bars.from_nut"),
            Bound("the bar past the joint", x_joint + place.past_joint - bars.length, "rod_place.past_joint"),
        )
        start, end, name = bars.from_nut, bars.from_nut + bars.length, f"bar-{k + 1}"
        placed.append(Bar(name, start, end, y, bars.width, bars.height, bars.material, lower, upper))
    return tuple(placed)
