"""The fretboard with its fret slots, built face by face: no boolean, so no slot can be lost on the way."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np

from neckmodel.errors import KernelError
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Point, Point3
from neckmodel.layout.fretboard.crown import crown_drop
from neckmodel.layout.fretboard.fretboard import Fretboard, Line
from neckmodel.layout.fretboard.later import LaterSide
from neckmodel.layout.fretboard.slots import FretSlot
from neckmodel.memory.remembered import remembered
from neckmodel.solids.crown import BASS, TREBLE, Array, Level, Surface, crown, raised
from neckmodel.solids.kernel.gate import common, cut, gate, solid_bytes
from neckmodel.solids.kernel.shapes import bezier_edge, line_edge, plane_face, sewn, swept, wire

# isort: split
import cadquery as cq

LEAST_OPEN = 1e-3  # mm; a slot that shows less at the edge, or leaves less wood there, is cut instead of built
CLOSE = 1e-10  # mm to which it is known where a slot's floor comes out of the crown
LATER_VOLUME = 1e-4  # relative: a fret slot at the end of a step has a corner in its edge, which quadrature smooths
PAST = 0.5  # mm that such a cut runs out past the wood
_AT, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_UNIT = (_AT + 1) / 2

Cover = tuple[Surface, Line, Line]


@remembered(solid_bytes)
def fretboard_solid(board: Fretboard) -> cq.Solid:
    """The fretboard, its underside on z = 0, every fret slot open at the edges that it reaches.

    A slot with a curved floor lies `slot_depth` below the crown everywhere. A flat floor lies `slot_depth` below the
    centre line, and comes to the surface before the edge where the crown falls farther than that. The volume is
    compared with one by quadrature. KernelError, with the fret's number, where slots touch each other or an end.
    """
    if board.later is not None:
        return _narrower(board, board.later)
    _refuse(board)
    special = [slot for slot in board.slots if _needs_cut(board, slot)]
    plain = [slot for slot in board.slots if slot not in special]
    top, floor = crown(board), _floor(board)
    covers: list[Cover] = []
    here = board.start
    for slot in plain:
        start, end = board.slot_lines(slot)
        covers += [(top, here, start), (floor, start, end)]
        here = end
    covers.append((top, here, board.end))
    solid = sewn(_faces(covers, Level(0.0)), "fretboard", volume_of(board, plain))
    tools = [_tool(board, slot) for slot in special]
    return cut(solid, tools, "cutting fret slots", volume_of(board, board.slots)) if tools else solid


def volume_of(board: Fretboard, slots: Iterable[FretSlot] = ()) -> float:
    """Volume of the fretboard with these slots, mm3, by Gauss quadrature of the crown's formula."""
    whole = (
        _under_crown(board, board.start, board.end) if board.later is None else _under_crown_later(board, board.later)
    )
    return whole - sum(_taken(board, slot) for slot in slots)


def _narrower(board: Fretboard, later: LaterSide) -> cq.Solid:
    """The fretboard beside a string that starts later: what a wider one has in common with the prism over its plan."""
    wide = fretboard_solid(replace(board, later=None, half_nut=board.half_nut + PAST))
    name = "the fretboard's narrower side"
    return common(wide, [_plan(board, later)], name, volume_of(board, board.slots), rtol=LATER_VOLUME)


def _plan(board: Fretboard, later: LaterSide) -> cq.Solid:
    """The prism over the fretboard's plan, past both ends. Its step is a smoothstep times a straight line, a polynomial
    of degree 4 in x: one Bezier curve."""
    z, first, last = -PAST, board.x_first - PAST, board.x_last + PAST

    def bass(x: float) -> Point3:
        return x, board.bass(x), z

    treble = [(x, board.treble(x), z) for x in (last, first)]
    if last <= later.x_from:  # the wood behind a nut in a groove
        edges = [line_edge(bass(first), bass(last))]
    else:
        share = np.linspace(0.0, 1.0, 5)
        basis = [[math.comb(4, j) * t**j * (1 - t) ** (4 - j) for j in range(5)] for t in share.tolist()]
        xs = (later.x_from + (later.x_to - later.x_from) * share).tolist()
        poles = np.linalg.solve(np.array(basis), np.array([bass(x) for x in xs])).tolist()
        edges = [
            line_edge(bass(first), bass(later.x_from)),
            bezier_edge(poles),
            line_edge(bass(later.x_to), bass(last)),
        ]
    edges += [line_edge(bass(last), treble[0]), line_edge(*treble), line_edge(treble[1], bass(first))]
    face = plane_face(wire(edges, "fretboard's plan"), operation="fretboard's plan")
    return gate(swept(face, (0.0, 0.0, board.thickness + 2 * PAST), "fretboard's plan"), "fretboard's plan")


def _under_crown_later(board: Fretboard, later: LaterSide) -> float:
    """Wood under the crown of a fretboard that is narrower beside a string that starts later: by stretches of x within
    which its edge is smooth."""
    inner = [x for x in (later.x_from, later.x_to) if board.x_start < x < board.x_end]
    total = 0.0
    for x0, x1 in pairwise([board.x_start, *inner, board.x_end]):
        areas = []
        for x in (x0 + (x1 - x0) * _UNIT).tolist():
            low, high = board.bass(x), board.treble(x)
            y = low + (high - low) * _UNIT
            areas.append(float(_WEIGHTS @ (board.thickness - _fall(board, np.full_like(y, x), y))) * (high - low) / 2)
        total += float(_WEIGHTS @ areas) * (x1 - x0) / 2
    return total


def _under_crown(board: Fretboard, start: Line, end: Line) -> float:
    """Wood under the crown between two lines: quadrature over the square that maps onto this stretch of the plan."""
    a, b = np.array(start), np.array(end)
    u, v = np.meshgrid(_UNIT, _UNIT, indexing="ij")
    left, right = a[0] + (b[0] - a[0]) * u[..., None], a[1] + (b[1] - a[1]) * u[..., None]
    x, y = np.moveaxis(left + (right - left) * v[..., None], -1, 0)
    along = (b[0] - a[0]) + ((b[1] - a[1]) - (b[0] - a[0])) * v[..., None]
    across = right - left
    jacobian = np.abs(along[..., 0] * across[..., 1] - along[..., 1] * across[..., 0])
    return float(_WEIGHTS @ ((board.thickness - _fall(board, x, y)) * jacobian) @ _WEIGHTS) / 4


def _taken(board: Fretboard, slot: FretSlot) -> float:
    """Wood that a fret slot takes, mm3: over the slot's width (along x), the wood along each line of its slope."""
    half = board.slot_width / 2 * math.hypot(1.0, slot.slope)
    return half * float(_WEIGHTS @ [_taken_along(board, slot.x + half * t, slot.slope) for t in _AT])


def _taken_along(board: Fretboard, x: float, slope: float) -> float:
    """Integral over y of what the slot takes along one line, mm2."""
    total = 0.0
    for _, y in board.line(x, slope):
        if board.slot_floor == "flat":
            reach = _reach(board, x, slope, y, board.slot_depth)
            total += _integral(board, x, slope, (0.0, reach), board.slot_depth)
            continue
        whole = _reach(board, x, slope, y, board.thickness - board.slot_depth)
        total += board.slot_depth * abs(whole)  # beyond this the floor would lie below the underside
        total += _integral(board, x, slope, (whole, y), board.thickness)
    return total


def _reach(board: Fretboard, x: float, slope: float, edge: float, fall: float) -> float:
    """How far along a line, toward y = edge, the crown has fallen by less than `fall`, mm; the edge itself at most."""

    def within(y: float) -> bool:
        return crown_drop(board.radius(x + slope * y), y) <= fall

    if within(edge):
        return edge
    return nearest_enough(within, edge, 0.0, CLOSE) or 0.0


def _integral(board: Fretboard, x: float, slope: float, between: Point, height: float) -> float:
    """Integral of `height` less the crown's fall along a line between two y, mm2; positive either way."""
    first, last = between
    y = first + (last - first) * _UNIT
    return float(_WEIGHTS @ (height - _fall(board, x + slope * y, y))) * abs(last - first) / 2


def _fall(board: Fretboard, x: Array, y: Array) -> Array:
    """How far the crown lies below its middle at each point."""
    if math.isinf(board.radius_nut):
        return np.zeros_like(y)
    ends = [board.x_first, board.x_last]
    radius = np.interp(x, ends, [board.radius(end) for end in ends])  # straight between them: a cone
    return np.asarray(y * y / (radius + np.sqrt(radius * radius - y * y)))


def _refuse(board: Fretboard) -> None:
    for x, y in (*board.start, *board.end):
        half = abs(y)
        if half + PAST >= board.radius(x):
            raise KernelError("fretboard", "no crown of this radius spans the width", x=x, half_width=half)
        if board.top(x, y) <= 0:
            raise KernelError("fretboard", "the crown leaves no wood at the edge", x=x, edge=board.top(x, y))
    behind, before = board.start, "the fretboard's start"
    for slot in board.slots:
        first, last = board.slot_lines(slot)
        if _meet(behind, first):
            raise KernelError(
                "fretboard", f"the slot of fret {slot.fret} runs into {before}", x=slot.x, width=board.slot_width
            )
        behind, before = last, f"the slot of fret {slot.fret}"
        if board.slot_depth >= board.thickness:
            raise KernelError("fretboard", f"the slot of fret {slot.fret} cuts through", depth=board.slot_depth)
    if _meet(behind, board.end):
        raise KernelError("fretboard", f"{before} runs into the fretboard's end", x_end=board.x_end)


def _meet(behind: Line, ahead: Line) -> bool:
    """Whether part of a line lies behind or on the next one."""
    return any(b[0] >= a[0] for b, a in zip(behind, ahead, strict=True))


def _needs_cut(board: Fretboard, slot: FretSlot) -> bool:
    """Whether the slot's floor meets the crown or the underside before, or nearly at, the edge: then it is cut, not
    built."""
    falls = [crown_drop(board.radius(x), y) for line in board.slot_lines(slot) for x, y in line]
    left = board.slot_depth if board.slot_floor == "flat" else board.thickness - board.slot_depth
    return max(falls) > left - LEAST_OPEN


def _floor(board: Fretboard) -> Surface:
    curved = board.slot_floor == "curved"
    return crown(board, board.slot_depth) if curved else Level(board.thickness - board.slot_depth)


def _tool(board: Fretboard, slot: FretSlot) -> cq.Solid:
    wide = replace(board, half_nut=board.half_nut + PAST)
    return sewn(
        _faces([(Level(board.thickness + PAST), *wide.slot_lines(slot))], _floor(wide)), f"fret slot {slot.fret}"
    )


def _faces(covers: Sequence[Cover], low: Surface) -> list[Any]:
    """The faces that bound the space between `low` and the covers. The covers go from nut to end, each starting where
    the one before ends."""
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
