"""The way of a key that comes from the soundhole: its bore through the body's block and braces, and the room it has.

Lengths mm, angles degrees, in the neck's frame. Nothing of it is cut in the neck beyond the wood's end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.layout.access.tilt import key_pivot
from neckmodel.layout.body.top import Top
from neckmodel.layout.key.key import KeyPlace
from neckmodel.layout.key.reach import from_soundhole, full_length, out_of_soundhole
from neckmodel.layout.sides import Side
from neckmodel.lengths import no_less
from neckmodel.limits import PAST_STRING

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.layout.rod.rod import RodPlace
    from neckmodel.layout.strings.frets import Frets


@dataclass(frozen=True)
class Bore:
    """A straight round stretch of the way. what: "adjuster" or "key", what goes through it.

    axis_start, axis_end: depth of its axis below z = 0; across: half its diameter, seen square to z.
    """

    what: str
    x_start: float
    x_end: float
    diameter: float
    axis_start: float
    axis_end: float

    def axis(self, x: float) -> float:
        """Depth of the axis below z = 0 at x."""
        return self.axis_start + (x - self.x_start) * self.slope

    @property
    def slope(self) -> float:
        """By how much the axis goes down for each mm toward the body; negative where it rises."""
        length = self.x_end - self.x_start
        return (self.axis_end - self.axis_start) / length if length > 0 else 0.0

    @property
    def across(self) -> float:
        """From the axis to its uppermost or lowest line, square to z = 0, mm."""
        return self.diameter / 2 * math.hypot(1.0, self.slope)

    def upper(self, x: float) -> float:
        """z of its uppermost line at x."""
        return self.across - self.axis(x)

    def lower(self, x: float) -> float:
        """z of its lowest line at x."""
        return -self.across - self.axis(x)


@dataclass(frozen=True)
class Room:
    """A length, and the x at which it was found least."""

    value: float
    x: float


@dataclass(frozen=True)
class BodyHole:
    """Where the way goes through wood of the body. name: "block", "brace-1", ... as the design lists them.

    over, under: the least wood of a brace over the bore, to the top's under side, and under it; None of the block.
    """

    name: str
    x_start: float
    x_end: float
    bore: Bore
    over: Room | None = None
    under: Room | None = None


@dataclass(frozen=True)
class SoundholeWay:
    """Everything about the way from the adjuster into the soundhole.

    x_from, x_to: of the soundhole on the key's line; x_edge: its edge on the centre line; width: across it. bores: from
    the wood's end to the soundhole. holes: in block and braces, from the neck on. x_free: beyond it the key's tip is
    out of the last of them. x_wood: the end of the neck's own wood. least, length: the key's least length, and its own
    with its handle (an L-key's arm). x_outer: of its outer end, engaged; drawn: the same once its tip is free. widest:
    across its corners or its handle.
    beside: room beside an outer string in the middle of the soundhole, on the better side.
    """

    top: Top
    x_edge: float
    x_from: float
    x_to: float
    width: float
    x_wood: float
    x_block: float | None
    bores: tuple[Bore, ...]
    holes: tuple[BodyHole, ...]
    x_free: float
    least: float
    length: float
    drawn: float
    widest: float
    beside: float
    side: Side

    @property
    def diameter(self) -> float:
        """Of the key's bore."""
        return self.bores[-1].diameter

    @property
    def reach(self) -> float:
        """The key's length less the least that would do."""
        return self.length - self.least

    @property
    def braces(self) -> tuple[BodyHole, ...]:
        """The holes in braces: all but the block's."""
        return tuple(hole for hole in self.holes if hole.over is not None)

    @property
    def under_top(self) -> Room:
        """Least from the bore up to the top's under side; negative where it cuts the top."""
        ends = [(bore, x) for bore in self.bores for x in (bore.x_start, bore.x_end)]
        return min((Room(self.top.under(x) - bore.upper(x), x) for bore, x in ends), key=lambda room: room.value)

    @property
    def over_braces(self) -> Room | None:
        """Least wood of a brace over the bore; None without a brace."""
        found = (hole.over for hole in self.holes if hole.over is not None)
        return min(found, key=lambda room: room.value, default=None)

    @property
    def under_braces(self) -> Room | None:
        """Least wood of a brace under the bore; None without a brace."""
        found = (hole.under for hole in self.holes if hole.under is not None)
        return min(found, key=lambda room: room.value, default=None)

    @property
    def past_edge(self) -> float:
        """How far the key's outer end lies before the soundhole's far edge once its tip is free."""
        return self.x_to - self.drawn

    def under_far_edge(self, key: KeyPlace) -> float:
        """Room between the key, drawn back beyond the soundhole's far edge, and the top's under side there."""
        half = self.widest / 2 + key.clearance
        return min(self.top.under(x) - half + self._axis(key, x) for x in (self.x_to, max(self.drawn, self.x_to)))

    def under_arm(self, key: KeyPlace) -> float:
        """Room from an L-key's hanging arm, as it turns, down to the back's inner side."""
        x = key.x_tip + key.arm
        reach = math.hypot(key.rise - key.size / 2, key.corners / 2)
        return -self._axis(key, x) - reach - max(self.top.back(x), self.top.back(x - key.corners))

    def round_handle(self, key: KeyPlace) -> Room | None:
        """Least room round a straight key's handle, engaged: along the key to the last block or brace, and up to the
        top's under side as far as it lies under the top; None without a handle."""
        if key.handle_diameter <= 0 or key.handle_length <= 0:
            return None
        start = key.x_tip + key.length * math.cos(math.radians(key.tilt))
        found = [Room(start - self.x_free, start)]
        if start < self.x_from:
            half = (key.handle_diameter / 2 + key.clearance) / math.cos(math.radians(key.tilt))
            found += [Room(self.top.under(x) - half + self._axis(key, x), x) for x in (start, self.x_from)]
        return min(found, key=lambda room: room.value)

    @staticmethod
    def _axis(key: KeyPlace, x: float) -> float:
        """Depth of the key's axis below z = 0 at x."""
        return key.axis - (x - key.x_tip) * math.tan(math.radians(key.tilt))


def place_way(
    design: Design, rod: RodPlace | None, key: KeyPlace | None, top: Top, x_wood: float, frets: Frets
) -> SoundholeWay | None:
    """The way of a key that enters through the soundhole; None for any other. Of two rods both ways are alike, each
    at its rod's y.

    Raises DesignError where the soundhole begins in the neck's wood, or a brace lies wholly over the bore.
    """
    hole, stated = from_soundhole(design), design.adjusting_key
    if hole is None or stated is None or rod is None or key is None:
        return None
    edge = hole.from_ if design.body.soundhole is None else design.body.soundhole.from_
    if edge <= x_wood:
        says = f"lies before the neck's wood ends, x {x_wood:.2f} mm"
        attempt = "or let the wood end before it"
        raise design.problem("body.soundhole.from", says, f"allowed is more than {no_less(x_wood)}", attempt)
    bores = _bores(design, rod, key, key_pivot(stated, rod), (x_wood, hole.from_))
    holes = _holes(design, bores, top, x_wood)
    x_free = max([x_wood, *(one.x_end for one in holes)])
    strings = (frets.strings[0], frets.strings[-1])
    middle, half = (hole.from_ + hole.to) / 2, hole.width / 2
    beside = [half - abs(s.y(middle)) - s.diameter / 2 - PAST_STRING for s in strings]
    return SoundholeWay(
        top=top,
        x_edge=edge,
        x_from=hole.from_,
        x_to=hole.to,
        width=hole.width,
        x_wood=x_wood,
        x_block=design.body.head_block_ends_at,
        bores=bores,
        holes=holes,
        x_free=x_free,
        least=out_of_soundhole(stated, hole, key.clearance, rod.x_adjuster),
        length=full_length(stated),
        drawn=x_free + full_length(stated) * math.cos(math.radians(key.tilt)),
        widest=key.corners if key.hangs else max(key.corners, key.handle_diameter),
        beside=max(beside),
        side=Side.BASS if beside[0] > beside[1] + 1e-9 else Side.TREBLE,
    )


def _bores(design: Design, rod: RodPlace, key: KeyPlace, pivot: float, span: tuple[float, float]) -> tuple[Bore, ...]:
    """The adjuster's, where that stands beyond the wood, then the key's along its own axis, up to the soundhole.

    pivot: x at which the key turns on the rod's axis. span: x of the wood's end and of the soundhole's near edge.
    """
    channel, found = design.channel, []
    x_wood, x_edge = span
    rise = math.tan(math.radians(key.tilt))
    x_key = min(rod.x_adjuster + channel.end_clearance, x_edge)
    if x_key > x_wood:
        wide = rod.adjuster_diameter + channel.adjuster_clearance
        out = math.tan(math.radians(rod.tilt))
        axes = (rod.axis - (x - rod.x_adjuster) * out for x in (x_wood, x_key))
        found.append(Bore("adjuster", x_wood, x_key, wide, *axes))
    start = max(x_wood, x_key)
    depths = (rod.axis_at(pivot) - (x - pivot) * rise for x in (start, x_edge))
    return (*found, Bore("key", start, x_edge, key.corners + 2 * key.clearance, *depths))


def _holes(design: Design, bores: tuple[Bore, ...], top: Top, x_wood: float) -> tuple[BodyHole, ...]:
    body, found = design.body, []
    if body.head_block_ends_at is not None:
        found += [
            BodyHole("block", *span, bore)
            for bore in bores
            if (span := _within(bore, x_wood, body.head_block_ends_at)) is not None
        ]
    for k, brace in enumerate(body.braces):
        for bore in bores:
            span = _within(bore, brace.from_, brace.to)
            if span is None:
                continue
            over = min((Room(top.under(x) - bore.upper(x), x) for x in span), key=lambda room: room.value)
            gap = min((Room(bore.lower(x) - top.under(x), x) for x in span), key=lambda room: room.value)
            deep = max(top.under(x) - bore.upper(x) for x in span)
            if brace.depth <= deep:
                says = "leaves the brace wholly over the bore, which then meets no such brace"
                allowed = f"allowed is more than {no_less(deep)}"
                raise design.problem(f"body.braces.{k}.depth", says, allowed, "or leave this brace out")
            under = Room(gap.value + brace.depth, gap.x)
            found.append(BodyHole(f"brace-{k + 1}", *span, bore, over, under))
    return tuple(sorted(found, key=lambda one: one.x_start))


def _within(bore: Bore, x_from: float, x_to: float) -> tuple[float, float] | None:
    """From where to where a bore runs between two x; None where it does not."""
    start, end = max(bore.x_start, x_from), min(bore.x_end, x_to)
    return (start, end) if end > start + 1e-9 else None
