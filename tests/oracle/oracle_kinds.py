"""Kinds of neck beyond a rod and frets, for the oracle: heights over frets or wood, side marks, a rod's thread.

Plain formulas from a design's own tables; nothing of the package is used. mm.
"""

from __future__ import annotations

import math
from typing import Any

from oracle_later import first_fret
from oracle_neck import Neck, share

Tables = dict[str, dict[str, Any]]
MARKED = (3, 5, 7, 9, 12, 15, 17, 19, 21, 24, 27, 29, 31, 33, 36)
FRET, AT_NUT, AT_12, WOOD_AT_NUT, WOOD_AT_12 = 1.1, 0.4, 1.8, 0.2, 2.0  # unless stated
OF_A_CHANNEL = ("place", "access", "fit", "cover", "glue", "cutter")
BEHIND_ZERO = 2.0


def is_bare(tables: Tables) -> bool:
    """Whether the neck has neither rod nor bar."""
    return "reinforcement" in tables["neck"]


def fretless(tables: Tables) -> str | None:
    kind = tables["fretboard"].get("fretless")
    return None if kind is None else str(kind)


def outer_heights(tables: Tables) -> list[tuple[float, float]]:
    """(at the nut, at fret 12) of the two outer strings' undersides over the glue plane, bass first."""
    neck, board, bare = Neck(tables), tables["fretboard"], fretless(tables) is not None
    over = (WOOD_AT_NUT, WOOD_AT_12) if bare else (FRET + AT_NUT, FRET + AT_12)
    if board.get("zero_fret"):
        over = (FRET, over[1])
    found = []
    for side in (-1.0, 1.0):
        y_0, y_1 = side * neck.s0 / 2, side * neck.s1 / 2
        x_0, x_1 = neck.slope(0) * y_0, neck.scale + _slope_at_bridge(neck) * y_1
        x_12, y_12 = x_0 + (x_1 - x_0) * share(12), y_0 + (y_1 - y_0) * share(12)
        heights = (_crown(tables, neck, x_0, y_0) + over[0], _crown(tables, neck, x_12, y_12) + over[1])
        fret = first_fret(tables) if side < 0 else 0
        if fret:  # it lies on its fret, and at the bridge where the line from the nut would meet it
            at_bridge = heights[0] + (heights[1] - heights[0]) / share(12)
            start = _crown(tables, neck, neck.x(fret), y_0 + (y_1 - y_0) * share(fret)) + FRET
            heights = (start, start + (at_bridge - start) * (share(12) - share(fret)) / (1 - share(fret)))
        found.append(heights)
    return found


def _slope_at_bridge(neck: Neck) -> float:
    """dx/dy of the saddle's line: both outer strings at their full length."""
    return (neck.treble - neck.bass) * (1.0 - neck.square) / neck.s1


def _crown(tables: Tables, neck: Neck, x: float, y: float) -> float:
    board, radius = tables["fretboard"], tables["fretboard"]["radius"]
    if radius == "flat":
        return float(board["thickness"])
    ends = (radius["nut"], radius["end"]) if isinstance(radius, dict) else (radius, radius)
    first = -BEHIND_ZERO * math.hypot(1.0, neck.slope(0)) if board.get("zero_fret") else 0.0
    corners = [_meets(neck, first, neck.slope(0), side) for side in (-1, 1)]
    last = [_meets(neck, neck.x_board, neck.board_slope, side) for side in (-1, 1)]
    inside = min(max(x, min(corners)), max(last))
    r = ends[0] + (ends[1] - ends[0]) * inside / neck.x_board
    return float(board["thickness"] - r * (1 - math.cos(math.asin(y / r))))


def _meets(neck: Neck, x: float, slope: float, side: int) -> float:
    """x where the line through (x, 0) meets the fretboard's edge: found by going back and forth between the two."""
    at = x
    for _ in range(200):
        at = x + slope * side * (neck.half_nut + neck.taper * at)
    return at


def side_marks(tables: Tables) -> list[tuple[int, float]]:
    """(number, x at the bass-side edge) of each."""
    kind, neck = fretless(tables), Neck(tables)
    if kind is None:
        return []
    edge = [_meets(neck, neck.x(n), neck.slope(n), -1) for n in range(tables["fretboard"]["frets"] + 1)]
    return [(n, edge[n] if kind == "plain" else (edge[n - 1] + edge[n]) / 2) for n in MARKED if n < len(edge)]


def thread_side(tables: Tables) -> float | None:
    """How far the adjuster's axis lies on the side of half the rod's height that its flat bar leaves; None where no way
    is said."""
    rod = tables.get("rod")
    if rod is None or "bar" not in rod:
        return None
    below = rod["adjuster"]["axis_below_top"] - rod["height"] / 2
    return float(below if rod["bar"] == "up" else -below)


ON_WALL, SLIVER = 0.05, 0.5


def seams(tables: Tables) -> list[float]:
    """y of every seam of a board of strips, the middle of all strips on the centre line."""
    widths = [strip["width"] for strip in tables["board"].get("strips", [])]
    return [sum(widths[: k + 1]) - sum(widths) / 2 for k in range(len(widths) - 1)]


def thinnest(tables: Tables, channels: list[tuple[float, float]]) -> float:
    """The least wood between a seam and the wall of a channel, of those that leave a sliver; inf where none does.
    channels: (y of its middle, width) of each."""
    gaps = [abs(seam - y) - width / 2 for seam in seams(tables) for y, width in channels]
    return min((gap for gap in gaps if ON_WALL + 1e-6 < gap < SLIVER - 2e-6), default=math.inf)


def slots_come_through(tables: Tables, half: float) -> bool:
    """Whether fret slots that follow a round crown cut a thin fretboard through at its edges: it covers less there.
    half: half its width at its end, mm."""
    board = tables["fretboard"]
    radius = board["radius"]["nut"] if isinstance(board["radius"], dict) else board["radius"]
    if radius == "flat" or board["fret_slot"]["floor"] == "flat":
        return False
    return bool(board["thickness"] - (radius - math.sqrt(radius**2 - half**2)) < board["fret_slot"]["depth"])
