"""The neck's cross-sections from end to end: wood less its channel, fretboard, glued bars."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.strength.sections.cells import CELLS, cell_edges, middles
from neckmodel.strength.sections.section import Moments, Stiffness, crown_places, crowned, rectangle, stiffness
from neckmodel.strength.sections.strips import wood_by_strip

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.fretboard.fretboard import Fretboard
    from neckmodel.layout.neck.outside import Outside
    from neckmodel.layout.rod.bars import Bar

ROUND = np.linspace(0.0, math.pi, 361)  # the back's angles looked at in each section
FINE = np.linspace(0.0, math.pi, 2401)  # of a neck of strips, whose parts are small: short by 2e-6 of its second moment


def back_outlines(outside: Outside, x: Sequence[float], turns: Floats = ROUND) -> Floats:
    """(n, m, 2) float, mm: (y, z) of the finished back in each section, bass edge first.

    On the shaft it is the back's own shape. In a transition it changes to a box with sharp corners as deep as the carve
    there, cut off at the flat back. The solid blends other pairs of points, and has up to 4.1 % more area and 9 % more
    second moment in the middle of the heel's swell; a relief up to the joint reads 0.05 % too high for it.
    """
    sections = []
    for place in x:
        law = outside.back.section(place)
        points = law.at(turns)
        points[:, 0] -= law.middle
        s = outside.weight(place)
        if s > 0:
            half, bottom = outside.half_width(place), outside.box_bottom(place)[1]
            points[:, 0] *= half / law.half_width
            across, down = np.cos(turns), np.sin(turns)
            box = np.stack([-half * across, -bottom * down], axis=-1) / np.maximum(abs(across), down)[:, None]
            if place > 0 and outside.heel.half_bottom is not None:
                box[:, 0] *= [outside.heel.narrowing(-z) for z in box[:, 1].tolist()]
            points = (1 - s) * points + s * box
        if s > 0 or place < 0:
            points[:, 1] = np.maximum(points[:, 1], -outside.flat_depth(place))
        points[:, 0] += outside.middle(place)
        sections.append(points)
    return np.stack(sections)


def fretboard_moments(board: Fretboard, x: Floats) -> tuple[Moments, Moments]:
    """(the whole fretboard, only the part below the floor of its fret slots) in each section; zero beyond its ends."""
    there = (x > board.x_start) & (x < board.x_end)
    half = np.where(there, [board.half_width(float(v)) for v in x], 0.0)
    middle = np.array([board.middle(float(v)) for v in x])[:, None]
    radius = np.array([board.radius(float(v)) for v in x])[:, None]
    y = middle + crown_places(half)
    drop = 0.0 if math.isinf(board.radius_nut) else radius - np.sqrt(radius**2 - y**2)
    top = np.broadcast_to(board.thickness - drop, y.shape)
    floor = top if board.slot_floor == "curved" else np.full_like(y, board.thickness)
    below = np.clip(np.minimum(top, floor - board.slot_depth), 0.0, None) if board.slots else top
    return crowned(half, top), crowned(half, below)


def bar_moments(bar: Bar, x: Floats) -> Moments:
    """A glued bar in the middle of its channel's depth; zero beyond its ends."""
    there = (x > bar.x_start) & (x < bar.x_end)
    return rectangle(np.where(there, bar.width, 0.0), -bar.height - bar.below, -bar.below)


@dataclass(frozen=True)
class NeckSections:
    """Every cell of a neck: edges (m+1,) and middles x (m,), mm, the parts' moments, and the outermost fibres.

    wood: of each strip, bass side first, less the channel; one for a neck of one wood. The strip glued over a
    compression rod counts as the wood beside it. board_whole, board_below: the fretboard counted whole, and only below
    its fret slots: the truth lies between. keels: z of the deepest wood of each strip, mm; crown, crown_below: of the
    fretboard's top, whole and below the slots. bars: moments of each bar, in the order of the layout.
    """

    edges: Floats
    x: Floats
    wood: tuple[Moments, ...]
    board_whole: Moments
    board_below: Moments
    bars: tuple[Moments, ...]
    keels: tuple[Floats, ...]
    crown: Floats
    crown_below: Floats

    def stiffness(
        self,
        wood: Sequence[float],
        board: float,
        bars: Sequence[float] = (),
        whole: bool = True,
        loose: float | Floats = 0.0,
    ) -> Stiffness:
        """The stiffness with these moduli, MPa. wood: of each strip. whole: the fretboard counts whole, else only below
        its slots."""
        parts = list(zip(wood, self.wood, strict=True))
        parts += [(board, self.board_whole if whole else self.board_below)]
        parts += list(zip(bars, self.bars, strict=True))
        return stiffness(parts, loose)


def neck_sections(layout: Layout, x_from: float, x_to: float, cells: int = CELLS) -> NeckSections:
    """Sections of the layout's neck between two places, in cells within which its stiffness makes no step."""
    board, outside = layout.fretboard, layout.outside
    ends = [v for step in layout.steps for v in (step.x_start, step.x_end)]
    ends += [v for bar in layout.bars for v in (bar.x_start, bar.x_end)]
    named = [outside.heel.x_swell, outside.heel.x_joint, board.x_start, board.x_end, layout.frets.x(1)]
    strip = layout.rod.strip if layout.rod is not None else None
    named += [] if board.later is None else [board.later.x_from, board.later.x_to]
    rod = [v for s in layout.rod.segments for v in (s.x_start, s.x_end)] if layout.rod is not None else []
    rod += [strip.x_start, strip.x_end] if strip is not None else []
    breaks = [x_from, x_to, *(v for v in (*ends, *named, *rod) if x_from < v < x_to)]
    edges = cell_edges(breaks, cells)
    x = middles(edges)
    points = back_outlines(outside, x.tolist(), FINE if layout.strips else ROUND)
    wood, keels = wood_by_strip(layout, x, points)
    whole, below = fretboard_moments(board, x)
    there = (x > board.x_start) & (x < board.x_end)
    return NeckSections(
        edges=edges,
        x=x,
        wood=wood,
        board_whole=whole,
        board_below=below,
        bars=tuple(bar_moments(bar, x) for bar in layout.bars),
        keels=keels,
        crown=np.where(there, board.thickness, 0.0),
        crown_below=np.where(there, board.thickness - (board.slot_depth if board.slots else 0.0), 0.0),
    )
