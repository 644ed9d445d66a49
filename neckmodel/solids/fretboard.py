"""The fretboard with its fret slots, built face by face: no boolean, so no slot can be lost on the way."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from neckmodel.errors import KernelError
from neckmodel.layout.fretboard import Fretboard, FretSlot
from neckmodel.layout.frets import crown_drop
from neckmodel.solids.crown import BASS, TREBLE, Level, Line, Surface, crown, raised
from neckmodel.solids.kernel import cut
from neckmodel.solids.shapes import line_edge, plane_face, sewn, wire

# isort: split
import cadquery as cq

LEAST_OPEN = 1e-3  # mm; with less to see at the edge, or less wood left there, a slot is cut instead of built
PAST = 0.5  # mm that such a cut runs out past the wood
_AT, _WEIGHTS = np.polynomial.legendre.leggauss(24)

Cover = tuple[Surface, Line, Line]


def fretboard_solid(board: Fretboard) -> cq.Solid:
    """The fretboard, its underside on z = 0, with every fret slot open at both edges where it reaches them.

    Slots with a curved floor lie `slot_depth` below the crown everywhere; a flat floor lies `slot_depth` below the
    centre line and comes to the surface before the edge where the crown falls farther than that.
    Gated against the volume by quadrature. KernelError, with the fret's number, where slots touch each other or an end.
    """
    _refuse(board)
    special = [slot for slot in board.slots if _needs_cut(board, slot)]
    plain = [slot for slot in board.slots if slot not in special]
    top, floor = crown(board), _floor(board)
    covers: list[Cover] = []
    here = _line(board, board.x_start)
    for slot in plain:
        start, end = _ends(board, slot)
        covers += [(top, here, start), (floor, start, end)]
        here = end
    covers.append((top, here, _line(board, board.x_end)))
    solid = sewn(_faces(covers, Level(0.0)), "fretboard", volume_of(board, plain))
    tools = [_tool(board, slot) for slot in special]
    return cut(solid, tools, "cutting fret slots", volume_of(board, board.slots)) if tools else solid


def volume_of(board: Fretboard, slots: Iterable[FretSlot] = ()) -> float:
    """Volume of the fretboard with these slots, mm3, by Gauss quadrature of the crown's formula."""
    thickness, depth = board.thickness, board.slot_depth

    def wood(x: float) -> float:
        return 2 * _integral(board, x, board.half_width(x), thickness)

    def taken(x: float) -> float:
        if board.slot_floor == "flat":
            return 2 * _integral(board, x, _reach(board, x, depth), depth)
        whole = _reach(board, x, thickness - depth)  # beyond it the floor would lie below the underside
        beyond = _integral(board, x, board.half_width(x), thickness) - _integral(board, x, whole, thickness)
        return 2 * (depth * whole + beyond)

    w = board.slot_width / 2
    return _along(wood, board.x_start, board.x_end) - sum(_along(taken, slot.x - w, slot.x + w) for slot in slots)


def _reach(board: Fretboard, x: float, fall: float) -> float:
    """How far from the centre line the crown has fallen by less than `fall`, mm; at most the half width."""
    half, radius = board.half_width(x), board.radius(x)
    return half if math.isinf(radius) else min(half, math.sqrt(max(fall * (2 * radius - fall), 0.0)))


def _integral(board: Fretboard, x: float, reach: float, height: float) -> float:
    """Integral of `height` less the crown's fall from the centre line to `reach`, mm2."""
    y, radius = reach * (_AT + 1) / 2, board.radius(x)
    fall = np.zeros_like(y) if math.isinf(radius) else y * y / (radius + np.sqrt(radius * radius - y * y))
    return float(_WEIGHTS @ (height - fall)) * reach / 2


def _along(law: Callable[[float], float], start: float, end: float) -> float:
    """Integral of a law of x; the radius may have a bend at the nut."""
    if start < 0.0 < end:
        return _along(law, start, 0.0) + _along(law, 0.0, end)
    return float(_WEIGHTS @ [law(start + (end - start) * (t + 1) / 2) for t in _AT]) * (end - start) / 2


def _refuse(board: Fretboard) -> None:
    for x in (board.x_start, board.x_end):
        half = board.half_width(x)
        if half <= 0 or half + PAST >= board.radius(x):
            raise KernelError("fretboard", "no crown of this radius spans the width", x=x, half_width=half)
        if board.edge_thickness(x) <= 0:
            raise KernelError("fretboard", "the crown leaves no wood at the edge", x=x, edge=board.edge_thickness(x))
    half, behind, before = board.slot_width / 2, board.x_start, "the fretboard's start"
    for slot in board.slots:
        if slot.x - half <= behind:
            raise KernelError(
                "fretboard", f"the slot of fret {slot.fret} runs into {before}", x=slot.x, width=board.slot_width
            )
        behind, before = slot.x + half, f"the slot of fret {slot.fret}"
        if board.slot_depth >= board.thickness:
            raise KernelError("fretboard", f"the slot of fret {slot.fret} cuts through", depth=board.slot_depth)
    if behind >= board.x_end:
        raise KernelError("fretboard", f"{before} runs into the fretboard's end", x_end=board.x_end)


def _needs_cut(board: Fretboard, slot: FretSlot) -> bool:
    """Whether the slot's floor meets the crown or the underside before it reaches the edge, or all but does."""
    falls = [crown_drop(board.radius(at[0][0]), at[1][1]) for at in _ends(board, slot)]
    left = board.slot_depth if board.slot_floor == "flat" else board.thickness - board.slot_depth
    return max(falls) > left - LEAST_OPEN


def _floor(board: Fretboard) -> Surface:
    curved = board.slot_floor == "curved"
    return crown(board, board.slot_depth) if curved else Level(board.thickness - board.slot_depth)


def _line(board: Fretboard, x: float) -> Line:
    half = board.half_width(x)
    return (x, -half), (x, half)


def _ends(board: Fretboard, slot: FretSlot) -> tuple[Line, Line]:
    return _line(board, slot.x - board.slot_width / 2), _line(board, slot.x + board.slot_width / 2)


def _tool(board: Fretboard, slot: FretSlot) -> cq.Solid:
    wide = replace(board, half_nut=board.half_nut + PAST)
    return sewn(_faces([(Level(board.thickness + PAST), *_ends(wide, slot))], _floor(wide)), f"fret slot {slot.fret}")


def _faces(covers: Sequence[Cover], low: Surface) -> list[Any]:
    """The boundary of what lies between `low` and the covers, given from nut to end, each beginning where one ends."""
    faces: list[Any] = []
    sides: tuple[list[Any], list[Any]] = ([], [])

    def wall(line: Line, one: Surface, other: Surface) -> None:
        uprights = [line_edge(a, b) for a, b in zip(raised(one, line), raised(other, line), strict=True)]
        faces.append(plane_face(wire([one.across(line), uprights[TREBLE], other.across(line), uprights[BASS]])))
        for side in (BASS, TREBLE):
            sides[side].append(uprights[side])

    before = low
    for surface, start, end in covers:
        wall(start, before, surface)
        faces.extend(surface.strip(start, end))
        for side in (BASS, TREBLE):
            sides[side].extend(surface.along(start, end, side))
        before = surface
    first, last = covers[0][1], covers[-1][2]
    wall(last, before, low)
    faces.extend(low.strip(first, last))
    for side in (BASS, TREBLE):
        back = reversed(low.along(first, last, side))
        faces.append(plane_face(wire([*sides[side], *back], "fretboard's side"), operation="fretboard's side"))
    return faces
