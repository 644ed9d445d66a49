"""The fretboard: plan outline, crown and fret slots."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.design.values.scale import BEHIND_ZERO_FRET
from neckmodel.geometry.types import Point
from neckmodel.layout.fretboard.crown import crown_drop
from neckmodel.layout.fretboard.later import LaterSide, later_side
from neckmodel.layout.fretboard.slots import FretSlot, slot_numbers
from neckmodel.layout.strings.frets import Fret, fret_at, fret_distance

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.values.scale import Spans

Line = tuple[Point, Point]  # across the fretboard in plan: where it leaves at the bass and at the treble side

STEP_PLACES = 24  # of a step drawn in chords: they lie within 0.02 mm of it


@dataclass(frozen=True)
class Fretboard:
    """Plan: half width `half_nut + slope x` from x_start to x_end, both on the centre line; slope_start, slope_end:
    dx/dy of the lines that it starts and ends on. Crown: radius linear in x (a cone), inf if flat.

    later: what the bass side lacks of that width beside a string that starts later; None where no string does.
    thickness: at the centre line. slot_floor: "curved" (follows the crown) or "flat".
    """

    x_start: float
    x_end: float
    half_nut: float
    slope: float
    thickness: float
    radius_nut: float
    radius_end: float
    slot_width: float
    slot_depth: float
    slot_floor: str
    slots: tuple[FretSlot, ...]
    margin_nut: float
    margin_last: float
    slope_start: float = 0.0
    slope_end: float = 0.0
    later: LaterSide | None = None

    def bass(self, x: float) -> float:
        """y of the bass-side edge at x, mm."""
        return (0.0 if self.later is None else self.later.inward(x)) - self.half_nut - self.slope * x

    def treble(self, x: float) -> float:
        """y of the treble-side edge at x, mm."""
        return self.half_nut + self.slope * x

    def half_width(self, x: float) -> float:
        """Half of the width from edge to edge at x, mm."""
        return (self.treble(x) - self.bass(x)) / 2

    def middle(self, x: float) -> float:
        """y half way between the edges at x, mm."""
        return (self.treble(x) + self.bass(x)) / 2

    def reach(self, x: float) -> float:
        """How far the edge that is farther from the centre line lies from it at x, mm."""
        return max(self.treble(x), -self.bass(x))

    def edge(self, side: int) -> tuple[Point, ...]:
        """The edge in plan on the bass (0) or treble side (1), from its start to its end: its corners, and places of
        the step beside a string that starts later."""
        first, last = self.start[side], self.end[side]
        if self.later is None or side == 1:
            return first, last
        a, b = self.later.x_from, self.later.x_to
        xs = [a + (b - a) * k / STEP_PLACES for k in range(STEP_PLACES + 1)]
        return (first, *((x, self.bass(x)) for x in xs if first[0] < x < last[0]), last)

    @property
    def outline(self) -> tuple[Point, ...]:
        """Its outline in plan: across its start, along the treble side, and back along the bass side."""
        bass = self.edge(0)
        return (bass[0], *self.edge(1), *bass[:0:-1])

    def line(self, x: float, slope: float = 0.0) -> Line:
        """Where the line through (x, 0) with this slope leaves the fretboard at its bass and treble side. Beside a
        string that starts later every line is square to the centre line."""
        if self.later is not None:
            return (x, self.bass(x)), (x, self.treble(x))
        half = self.half_width(x)
        bass, treble = -half / (1.0 + self.slope * slope), half / (1.0 - self.slope * slope)
        return (x + slope * bass, bass), (x + slope * treble, treble)

    @property
    def start(self) -> Line:
        """The line on which the fretboard starts, at the nut or behind a zero fret."""
        return self.line(self.x_start, self.slope_start)

    @property
    def end(self) -> Line:
        """The line on which the fretboard ends, toward the body."""
        return self.line(self.x_end, self.slope_end)

    @property
    def x_first(self) -> float:
        """x of the fretboard's corner nearest to the head."""
        return min(x for x, _ in self.start)

    @property
    def x_last(self) -> float:
        """x of the fretboard's corner nearest to the saddle."""
        return max(x for x, _ in self.end)

    def radius(self, x: float) -> float:
        """Crown radius at x, mm; beyond the fretboard, that of its nearer end."""
        if math.isinf(self.radius_nut):
            return math.inf
        inside = min(max(x, self.x_first), self.x_last)
        return self.radius_nut + (self.radius_end - self.radius_nut) * inside / self.x_end

    def top(self, x: float, y: float) -> float:
        """z of the crown, mm."""
        return self.thickness - crown_drop(self.radius(x), y)

    def edge_thickness(self, x: float) -> float:
        """Thickness at the fretboard's edge at x, mm; of two unlike edges the thinner one's."""
        return self.top(x, self.reach(x))

    def slot_lines(self, slot: FretSlot) -> tuple[Line, Line]:
        """The two edges of a fret slot in plan. The slot's width is measured square to it."""
        half = self.slot_width / 2 * math.hypot(1.0, slot.slope)
        return self.line(slot.x - half, slot.slope), self.line(slot.x + half, slot.slope)


def outline(design: Design, spans: Spans) -> tuple[float, float, float, float, float]:
    """(half width at the nut, slope per mm, x of the end, margin at the nut, margin at the last fret), mm.

    With edge margins: `w(x) = S0 + 2 m0 + x/x_l ((S1 - S0) x_l/L + 2 (m1 - m0))`, x_l the last fret, L from nut to
    saddle on the centre line. The fretboard is symmetric about the centre line: with two scale lengths the nut lies
    farther toward the head on one side, and the margins there differ from these by the little that it tapers between.
    """
    board, strings = design.fretboard, design.strings
    x_last = float(fret_distance(spans.centre, board.frets))
    x_end = board.ends_at if board.ends_at is not None else x_last + (board.past_last_fret or 0.0)
    s0, s1 = strings.spacing_at_nut, strings.spacing_at_bridge
    if board.width is not None:
        half, slope = board.width.nut / 2, (board.width.end - board.width.nut) / (2 * x_end)
        return half, slope, x_end, half - s0 / 2, half + slope * x_last - (s0 + (s1 - s0) * x_last / spans.centre) / 2
    m0, m1 = board.edge_margin.nut, board.edge_margin.last_fret
    return s0 / 2 + m0, ((s1 - s0) / spans.centre + 2 * (m1 - m0) / x_last) / 2, x_end, m0, m1


def lay_out_fretboard(design: Design, spans: Spans, frets: tuple[Fret, ...]) -> Fretboard:
    """The fretboard. It starts on the nut's line, or behind a zero fret; it ends square to the centre line where
    `ends_at` says, or else parallel to its last fret."""
    stated = design.fretboard
    half, slope, x_end, m0, m1 = outline(design, spans)
    radius_nut, radius_end = (math.inf, math.inf) if stated.radius is None else (stated.radius.nut, stated.radius.end)
    nut = fret_at(spans, 0)
    bare = Fretboard(
        x_start=-BEHIND_ZERO_FRET * math.hypot(1.0, nut.slope) if stated.zero_fret else 0.0,
        x_end=x_end,
        half_nut=half,
        slope=slope,
        thickness=stated.thickness,
        radius_nut=radius_nut,
        radius_end=radius_end,
        slot_width=stated.fret_slot.width,
        slot_depth=stated.fret_slot.depth,
        slot_floor=stated.fret_slot.floor,
        slots=(),
        margin_nut=m0,
        margin_last=m1,
        slope_start=nut.slope,
        slope_end=frets[-1].slope if stated.ends_at is None else 0.0,
        later=later_side(design, spans),
    )
    slotted = (nut, *frets) if stated.zero_fret else frets if stated.slotted else ()
    return replace(bare, slots=tuple(_slot(bare, fret) for fret in slotted))


def _slot(board: Fretboard, fret: Fret) -> FretSlot:
    drop = max(crown_drop(board.radius(x), y) for x, y in board.line(fret.x, fret.slope))
    numbers = slot_numbers(board.thickness, board.slot_depth, drop, board.slot_floor)
    return FretSlot(fret.number, fret.x, *numbers, fret.slope)
