"""Where the rod may lie, where it is put, and which other rods would fit. Lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.key.reach import from_soundhole, full_length, key_reach, out_of_soundhole
from neckmodel.layout.rod.bounds import Bound, aslant, fretboard_end_key, x_wood_behind
from neckmodel.layout.rod.boxes import end_lengths, lay_segments, lowest
from neckmodel.layout.rod.compression import bent_axis, place_strip, place_washer
from neckmodel.layout.rod.lengths import lengths_that_fit
from neckmodel.layout.rod.rod import RodPlace, in_wood

if TYPE_CHECKING:
    from neckmodel.design import Design, Rod
    from neckmodel.geometry.curve import Curve
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.rod.compression import CoverStrip, Washer
    from neckmodel.layout.rod.rod import Segment
    from neckmodel.layout.strings.frets import Frets


SLIMMER = 0.1  # mm by which a wheel's collar is slimmer than a round rod


@dataclass(frozen=True)
class _Line:
    """Where a rod lies across the neck, mm: y of its axis, and how far above its planned place it sits; its number of
    two, 0 of one."""

    y: float
    lift: float
    number: int = 0


def _fret_1(frets: Frets, line: _Line) -> float:
    return frets.x(1) + frets.slope(1) * line.y


@dataclass(frozen=True)
class _Interval:
    """Bounds on the rod's nut-side end, and the limits reported apart from them; see `RodPlace`."""

    lower: tuple[Bound, ...]
    upper: tuple[Bound, ...]
    x_span: float
    x_wheel: float
    x_joint: float
    fitting: tuple[float, float]
    x_cover: float = math.inf

    @classmethod
    def common(cls, each: Sequence[_Interval]) -> _Interval:
        """Where rods that start at the same x may lie together: within the bounds of every one."""
        return replace(
            each[0],
            lower=tuple(bound for one in each for bound in one.lower),
            upper=tuple(bound for one in each for bound in one.upper),
            x_span=min(one.x_span for one in each),
            x_wheel=max(one.x_wheel for one in each),
            x_cover=min(one.x_cover for one in each),
        )

    def middle(self, gap: float) -> float:
        """The middle of the places that end the block before fret 1 and lie under the fretboard or clear of it, rounded
        down to half a millimetre; the least gap where there are none."""
        lo, hi = max(b.x for b in self.lower), min(b.x for b in in_wood(self.upper))
        if hi < lo - 1e-6:
            return gap
        low = max(lo, min(hi, self.x_wheel))
        middle = (low + max(low, min(hi, self.x_span, self.x_cover))) / 2
        return max(low, math.floor(2 * middle) / 2)


def place_rods(
    design: Design, frets: Frets, x_wood_end: float, board: Fretboard, lifts: Sequence[float] = ()
) -> tuple[RodPlace, ...]:
    """The rod, or both rods at the same x, in their places, each with the interval of places that it has; () without a
    rod. Lengths mm; each bound's reason tells its formula. lifts: how far above its planned place each rod sits.

    Gaps to a slanted nut or joint hold over the whole width of the pocket that lies there: `|sigma| v` more.
    """
    rod = design.rod
    if rod is None:
        return ()
    lines, at = rod.lines, _at_heel if rod.at_heel else _at_head
    numbers = (0,) if len(lines) == 1 else (1, 2)
    on_lines = [_Line(*on) for on in zip(lines, lifts or (0.0,) * len(lines), numbers, strict=True)]
    each = [at(design, rod, line, frets, x_wood_end, board) for line in on_lines]
    stated = design.rod_place.from_nut
    x = _Interval.common(each).middle(design.limits.place_adjuster) if stated is None else stated
    return tuple(_placed(design, rod, room, x, on) for room, on in zip(each, on_lines, strict=True))


def _placed(design: Design, rod: Rod, room: _Interval, x: float, line: _Line) -> RodPlace:
    """A rod that starts at x."""
    at_heel, lift, stated = rod.at_heel, line.lift, design.rod_place.from_nut
    x_adjuster = x + rod.length if at_heel else x
    adjuster, deeper = rod.adjuster, design.channel.deeper_by - lift
    bent = rod.bent
    curve = None if bent is None else bent_axis(design, rod, bent, x).raised(lift)
    axis = adjuster.axis_below_top + deeper if curve is None else curve.at(x_adjuster)
    segments = lay_segments(design, rod, x, curve)
    washer = strip = None
    if bent is not None and curve is not None:
        washer, strip = _washer_and_strip(design, rod, bent.diameter, x, curve, segments)
    spokes = adjuster.socket.kind == "spokes"
    wheel = min(adjuster.length, adjuster.wheel or (adjuster.length if spokes else 0.0))
    return RodPlace(
        table=rod,
        x_adjuster=x_adjuster,
        stated=stated is not None,
        length=rod.length,
        lower=room.lower,
        upper=room.upper,
        x_span=room.x_span,
        fitting_from=room.fitting[0],
        fitting_to=room.fitting[1],
        axis=axis,
        adjuster_diameter=adjuster.diameter,
        adjuster_length=adjuster.length,
        socket_size=adjuster.socket.size,
        socket_depth=adjuster.socket.depth,
        segments=segments,
        x_cover=room.x_cover,
        x_well_covered=room.x_cover - design.limits.cover_run,
        fitting_to_well_covered=room.x_cover - design.limits.cover_run + rod.length - room.lower[0].x,
        x_joint=room.x_joint,
        kind=rod.kind,
        at_heel=at_heel,
        wheel=wheel,
        collar=_collar(rod, axis - deeper) if wheel else 0.0,
        holes=(adjuster.socket.holes or 0) if spokes else 0,
        x_wheel=room.x_wheel,
        diameter=0.0 if bent is None else bent.diameter,
        curve=curve,
        washer=washer,
        strip=strip,
        below=deeper if curve is None else design.channel.deeper_by,
        lift=lift,
        y=line.y,
        number=line.number,
    )


def _washer_and_strip(
    design: Design, rod: Rod, diameter: float, x: float, curve: Curve, segments: tuple[Segment, ...]
) -> tuple[Washer | None, CoverStrip | None]:
    """The washer that a compression rod presses on at its adjuster, and the strip glued over the rod from there to its
    anchor. x: of the rod's nut-side end."""
    at_heel, outward = (True, 1) if rod.adjuster_at == "heel" else (False, -1)
    x_block = (x + rod.length if at_heel else x) - outward * rod.adjuster.length
    washer = place_washer(design, rod, diameter, curve, x_block, outward)
    inner = x_block if washer is None else washer.x_start if at_heel else washer.x_end
    round_end = 0.0 if design.channel.ends == "squared" else diameter / 2 + design.channel.wider_by / 2
    bare_end = x + round_end if at_heel else x + rod.length - round_end  # a strip has square corners
    anchor = next((s.x_end if at_heel else s.x_start for s in segments), bare_end)
    return washer, place_strip(design, rod, diameter, curve, *sorted((inner, anchor)))


def _collar(rod: Rod, axis_below_top: float) -> float:
    """Diameter of the part of a wheel's length that is not the wheel, mm: no wider than the rod, and within its
    height."""
    within = [rod.adjuster.diameter, 2 * axis_below_top]
    if rod.kind == "compression":  # as wide as the bent bar, it would leave slivers where the two meet
        within.append((rod.diameter or rod.width) - SLIMMER)
    else:
        within += [rod.width, 2 * (lowest(rod) - axis_below_top)]
    return min(within)


def _x_joint(design: Design, frets: Frets, half: float, y: float) -> float:
    """Where the joint's line lies over the width of what lies there, mm."""
    joint = design.neck.joint_fret
    return frets.x(joint) + aslant(frets.slope(joint), half, y)


def _at_head(design: Design, rod: Rod, line: _Line, frets: Frets, x_wood_end: float, board: Fretboard) -> _Interval:
    """The adjuster at the nut: the anchor past the joint and within the wood."""
    place, channel, length = design.rod_place, design.channel, rod.length
    half_adjuster = (rod.adjuster.diameter + channel.adjuster_clearance) / 2
    half_anchor = (rod.anchor.width + channel.wider_by) / 2
    gap = design.limits.place_adjuster + aslant(frets.slope(0), half_adjuster, line.y)
    block, anchor = end_lengths(rod)
    x_joint = _x_joint(design, frets, half_anchor, line.y)
    first = x_joint + place.past_joint + (anchor if place.past_joint_of == "inner" else 0.0)
    beyond = place.wood_beyond_rod + channel.end_clearance
    lower = (
        Bound("the gap from the nut", gap, "rod_place.from_nut"),
        Bound("the anchor past the joint", first - length, "rod_place.past_joint", shifts=True),
    )
    upper = [
        Bound(b.reason, b.x - beyond - length, b.key, b.value, shifts=True) for b in x_wood_behind(design, x_wood_end)
    ]
    reach, key = key_reach(design, line.y), design.adjusting_key
    if key is not None and math.isfinite(reach):
        upper.append(Bound("the key's arm", reach, f"adjusting_key.{key.arm_in_socket}_arm"))
    cover = board.x_end - aslant(-board.slope_end, half_anchor, line.y) - channel.end_clearance - length
    upper.append(Bound("the fretboard's end", cover, fretboard_end_key(design), shifts=True))
    span = _fret_1(frets, line) - rod.adjuster.length - block
    # no key's arm bounds how far in the rod may lie: its block must then end before fret 1
    innermost = [] if math.isfinite(reach) else [Bound("fret 1", max(span, gap), "rod_place.from_nut")]
    return _Interval(
        lower=lower,
        upper=tuple(upper),
        x_span=span,
        x_wheel=-math.inf,
        x_joint=x_joint,
        fitting=lengths_that_fit(length, lower, [*upper, *innermost]),
        x_cover=cover,
    )


def _at_heel(design: Design, rod: Rod, line: _Line, frets: Frets, x_wood_end: float, board: Fretboard) -> _Interval:
    """The adjuster at the heel: the anchor at the nut, the adjuster's block past the joint and within the wood, the
    adjuster anywhere behind it.

    A wheel of radius r_w on an axis a_z deep stands `r_w - a_z` above the glue plane. If that is more than 0, the wheel
    must lie wholly beyond the fretboard's end.
    """
    place, channel, length, adjuster = design.rod_place, design.channel, rod.length, rod.adjuster
    gap = design.limits.place_adjuster + aslant(frets.slope(0), (rod.anchor.width + channel.wider_by) / 2, line.y)
    x_joint = _x_joint(design, frets, (rod.block.width + channel.wider_by) / 2, line.y)
    first = x_joint + place.past_joint + (end_lengths(rod)[0] if place.past_joint_of == "inner" else 0.0)
    to_block = length - adjuster.length
    lower = [
        Bound("the gap from the nut", gap, "rod_place.from_nut"),
        Bound("the adjuster's block past the joint", first - to_block, "rod_place.past_joint", shifts=True),
    ]
    reach, key, hole = key_reach(design, line.y), design.adjusting_key, from_soundhole(design)
    if key is not None and hole is not None:  # where an adjuster lies from which the key just reaches out
        nearest = (
            hole.from_ + out_of_soundhole(key, hole, channel.key_clearance, hole.from_) - full_length(key) - length
        )
        arm = f"{key.arm_in_socket}_arm" if key.kind == "L-key" else "length"
        lower.append(Bound("the key's length", nearest, f"adjusting_key.{arm}", shifts=True))
    elif key is not None and math.isfinite(reach):
        in_reach = board.x_last - reach - length
        lower.append(Bound("the key's arm", in_reach, f"adjusting_key.{key.arm_in_socket}_arm", shifts=True))
    axis = adjuster.axis_below_top + channel.deeper_by - line.lift
    if rod.kind == "compression" and rod.axis_depth is not None:
        axis = rod.axis_depth.adjuster - line.lift
    upper = [Bound(b.reason, b.x - to_block, b.key, b.value, shifts=True) for b in x_wood_behind(design, x_wood_end)]
    upper.append(Bound("fret 1", _fret_1(frets, line), "rod_place.from_nut"))
    wheel, radius = adjuster.wheel or adjuster.length, adjuster.diameter / 2
    x_wheel = board.x_end + aslant(board.slope_end, radius, line.y) + wheel - length if radius > axis else -math.inf
    clear = [Bound("the wheel clear of the fretboard", x_wheel, "fretboard.ends_at", shifts=True)]
    return _Interval(
        lower=tuple(lower),
        upper=tuple(upper),
        x_span=_fret_1(frets, line),
        x_wheel=x_wheel,
        x_joint=x_joint,
        fitting=lengths_that_fit(length, [*lower, *clear], upper),
    )
