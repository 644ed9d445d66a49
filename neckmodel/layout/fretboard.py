"""The fretboard: plan outline, crown and fret slots."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.layout.frets import Fret, crown_drop, fret_distance

if TYPE_CHECKING:
    from neckmodel.design import Design


@dataclass(frozen=True)
class FretSlot:
    """One fret slot: centre line at x, its wood at the middle and at the edge, mm.

    wood_below: least wood left under the slot. seat_at_edge: depth of the slot seen at the fretboard's edge.
    """

    fret: int
    x: float
    wood_below: float
    seat_at_edge: float


@dataclass(frozen=True)
class Fretboard:
    """Plan: half width `half_nut + slope x` from x_start to x_end. Crown: radius linear in x (a cone), inf if flat.

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

    def half_width(self, x: float) -> float:
        return self.half_nut + self.slope * x

    def radius(self, x: float) -> float:
        """Crown radius at x, mm; beyond the fretboard's ends as at the end."""
        if math.isinf(self.radius_nut):
            return math.inf
        return self.radius_nut + (self.radius_end - self.radius_nut) * min(max(x / self.x_end, 0.0), 1.0)

    def top(self, x: float, y: float) -> float:
        """z of the crown, mm."""
        return self.thickness - crown_drop(self.radius(x), y)

    def edge_thickness(self, x: float) -> float:
        return self.top(x, self.half_width(x))


def outline(design: Design) -> tuple[float, float, float, float, float]:
    """(half width at the nut, slope per mm, x of the end, margin at the nut, margin at the last fret), mm.

    With edge margins: `w(x) = S0 + 2 m0 + x/x_l ((S1 - S0) x_l/L + 2 (m1 - m0))`, x_l the last fret.
    """
    board, strings = design.fretboard, design.strings
    scale = strings.scale.bass
    x_last = float(fret_distance(scale, board.frets))
    x_end = board.ends_at if board.ends_at is not None else x_last + (board.past_last_fret or 0.0)
    s0, s1 = strings.spacing_at_nut, strings.spacing_at_bridge
    if board.width is not None:
        half, slope = board.width.nut / 2, (board.width.end - board.width.nut) / (2 * x_end)
        return half, slope, x_end, half - s0 / 2, half + slope * x_last - (s0 + (s1 - s0) * x_last / scale) / 2
    m0, m1 = board.edge_margin.nut, board.edge_margin.last_fret
    return s0 / 2 + m0, ((s1 - s0) / scale + 2 * (m1 - m0) / x_last) / 2, x_end, m0, m1


def slot_numbers(thickness: float, depth: float, drop: float, floor: str) -> tuple[float, float]:
    """(least wood below the slot, depth of the slot seen at the edge), mm.

    drop: how far the crown falls at the edge. A curved floor follows the crown; a flat one is `depth` below the middle.
    """
    if floor == "curved":
        return thickness - drop - depth, depth
    return thickness - depth, depth - drop


def lay_out_fretboard(design: Design, frets: tuple[Fret, ...]) -> Fretboard:
    board = design.fretboard
    half, slope, x_end, m0, m1 = outline(design)
    radii = (math.inf, math.inf) if board.radius is None else (board.radius.nut, board.radius.end)
    bare = Fretboard(
        0.0,
        x_end,
        half,
        slope,
        board.thickness,
        *radii,
        board.fret_slot.width,
        board.fret_slot.depth,
        board.fret_slot.floor,
        (),
        m0,
        m1,
    )
    slots = tuple(
        FretSlot(
            f.number,
            f.x,
            *slot_numbers(
                board.thickness,
                board.fret_slot.depth,
                crown_drop(bare.radius(f.x), bare.half_width(f.x)),
                board.fret_slot.floor,
            ),
        )
        for f in frets
    )
    return replace(bare, slots=slots)
