"""The neck from a design's own tables, for the oracle: frets, widths, depths, and walls by brute force.

Plain formulas and numpy; nothing of the package is used. Lengths mm, x from the nut toward the body.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from oracle_later import LaterEdge

Floats = NDArray[np.float64]
FULLNESS = {"V": 1.35, "soft-V": 1.7, "C": 2.0, "D": 2.6, "U": 3.5}
POINTS = 900  # along each half of a section


def share(fret: float) -> float:
    """Equal temperament: the part of a string between nut and fret."""
    return 1.0 - 2.0 ** (-fret / 12.0)


def step3(u: float) -> float:
    u = min(1.0, max(0.0, u))
    return 3 * u**2 - 2 * u**3


class Neck:
    """Frets, outline and back of one design."""

    def __init__(self, t: dict[str, dict[str, Any]]) -> None:
        strings, board, neck, heel = t["strings"], t["fretboard"], t["neck"], t["heel"]
        scale, s0, s1 = strings["scale"], strings["spacing_at_nut"], strings["spacing_at_bridge"]
        self.s0, self.s1 = s0, s1
        if isinstance(scale, dict) and scale["bass"] != scale["treble"]:
            lean = (s1 - s0) / 2
            self.bass, self.treble = (math.sqrt(scale[k] ** 2 - lean**2) for k in ("bass", "treble"))
            self.square = share(scale["square_fret"])
        else:
            self.bass = self.treble = scale["bass"] if isinstance(scale, dict) else scale
            self.square = 0.0
        self.scale = (self.bass + self.treble) / 2
        self.x_joint = self.x(neck["joint_fret"])
        m0, m1 = (board["edge_margin"][k] for k in ("nut", "last_fret"))
        x_last = self.x(board["frets"])
        self.half_nut, self.taper = s0 / 2 + m0, ((s1 - s0) / self.scale + 2 * (m1 - m0) / x_last) / 2
        self.x_board = board.get("ends_at", x_last + board.get("past_last_fret", 8.0))
        self.board_slope = 0.0 if "ends_at" in board else self.slope(board["frets"])
        self.fretboard = board["thickness"]
        self.x_1, self.x_12 = self.x(1), self.x(12)
        self.t_1, self.t_12 = neck["thickness"]["fret_1"], neck["thickness"]["fret_12"]
        back = neck["back"]
        pair = [back["fret_1"], back["fret_12"]] if isinstance(back, dict) and "fret_1" in back else [back, back]
        self.p = [FULLNESS[b] if isinstance(b, str) else b["fullness"] for b in pair]
        self.lean = [0.0 if isinstance(b, str) else b["lean"] for b in pair]
        self.heel_depth, self.swell = heel["depth"], heel["swell_from"]
        self.tenon = heel.get("tenon")
        self.corner = heel.get("corner_radius", 6.0) if heel["kind"] not in ("tenon", "dovetail") else 0.0
        # a volute swells the back about the head line, which lies on the head side of the nut
        self.volute = t.get("head", {}).get("volute", {}).get("length", 0.0) / 2
        self.kind, self.stated_half = heel["kind"], _stated_half(heel.get("width"))
        self.later = LaterEdge(t)
        corners = [x for x, _ in self.board_end()]
        self.x_end = self.x_joint + self.tenon["length"] if self.tenon else heel.get("wood_ends_at", max(corners))

    def x(self, fret: float) -> float:
        return self.scale * share(fret)

    def slope(self, fret: float) -> float:
        """dx/dy of a fret's line, by where it meets both outer strings."""
        t = share(fret)
        bass = (self.treble - self.bass) * self.square / 2 + t * self.bass
        treble = -(self.treble - self.bass) * self.square / 2 + t * self.treble
        return (treble - bass) / (self.s0 + (self.s1 - self.s0) * t)

    def board_end(self) -> list[tuple[float, float]]:
        """Both corners of the fretboard's end, where its line meets the sides, by a fixed point."""
        found = []
        for side in (-1.0, 1.0):
            y = side * self.half(self.x_board)
            for _ in range(60):
                y = side * self.half(self.x_board + self.board_slope * y)
            found.append((self.x_board + self.board_slope * y, y))
        return found

    def half(self, x: float) -> float:
        return self.half_nut + self.taper * x

    def depth(self, x: float) -> float:
        return self.t_1 + (self.t_12 - self.t_1) * (x - self.x_1) / (self.x_12 - self.x_1) - self.fretboard

    def curve(self, x: float) -> tuple[Floats, Floats]:
        """(y, depth) of points on the shaft's back at x, from edge to edge: dense where it is steep."""
        u = step3((x - self.x_1) / (self.x_12 - self.x_1))
        p, apex = self.p[0] + (self.p[1] - self.p[0]) * u, -(self.lean[0] + (self.lean[1] - self.lean[0]) * u)
        r = 1 - np.linspace(1.0, 0.0, POINTS) ** 4
        deep = self.depth(x) * np.maximum(1 - r**p, 0.0) ** (1 / p)
        off = self.later.inward(x) / 2
        a = self.half(x) - off
        y = off + np.concatenate([(apex - (a + apex) * r)[::-1], apex + (a - apex) * r])
        return y, np.concatenate([deep[::-1], deep])

    def heel_box(self, x: float) -> tuple[float, float]:
        """(half width, depth) of the heel's upright-sided wood at x beyond the joint."""
        if self.tenon:
            return self.tenon["width"] / 2, self.tenon["depth"]
        half = self.stated_half
        if half is None:
            half = self.half(self.x_board) if self.kind == "through" else self.half(x)
        return half, self.heel_depth


def _stated_half(width: Any) -> float | None:
    """Half of a heel's stated width at the glue plane; None where it follows the fretboard."""
    top = width.get("joint") if isinstance(width, dict) else width
    return top / 2 if isinstance(top, int | float) else None


@dataclass(frozen=True)
class Cut:
    """A cut from above: x range, middle y, width, and its depth at any x (start, middle and end of a parabola)."""

    name: str
    x0: float
    x1: float
    y: float
    width: float
    floor: tuple[float, float, float]
    closed: bool = True

    def deep(self, x: float) -> float:
        """Through three points, by Lagrange."""
        u, (a, m, b) = (x - self.x0) / (self.x1 - self.x0), self.floor
        return a * (1 - u) * (1 - 2 * u) + 4 * m * u * (1 - u) + b * u * (2 * u - 1)


def shaft_wall(neck: Neck, cut: Cut, x: float) -> float:
    """Least distance from the cut's rectangle to the back within the section; minus the farthest corner outside."""
    y, deep = neck.curve(x)
    low, high, floor = cut.y - cut.width / 2, cut.y + cut.width / 2, cut.deep(x)
    outside = []
    for corner in (low, high):
        under = float(np.interp(corner, y, deep, left=0.0, right=0.0))
        if under < floor:
            outside.append(to_chain(corner, floor, y, deep))
    if outside:
        return -max(outside)
    beside, below = np.maximum(np.maximum(low - y, y - high), 0.0), np.maximum(deep - floor, 0.0)
    corners = min(to_chain(corner, floor, y, deep) for corner in (low, high))
    return min(float(np.hypot(beside, below).min()), corners)


def to_chain(y0: float, z0: float, y: Floats, z: Floats) -> float:
    """Distance from a point to a polyline."""
    dy, dz = np.diff(y), np.diff(z)
    along = ((y0 - y[:-1]) * dy + (z0 - z[:-1]) * dz) / np.maximum(dy**2 + dz**2, 1e-300)
    along = np.clip(along, 0.0, 1.0)
    return float(np.hypot(y[:-1] + along * dy - y0, z[:-1] + along * dz - z0).min())


def heel_wall(neck: Neck, cut: Cut, x: float) -> float:
    half, depth = neck.heel_box(x)
    if neck.tenon and "flare" in neck.tenon:
        return min(to_cheek(neck, x, abs(cut.y) + cut.width / 2, cut.deep(x)), depth - cut.deep(x))
    return min(half - abs(cut.y) - cut.width / 2, depth - cut.deep(x))


def to_cheek(neck: Neck, x: float, y: float, deep: float) -> float:
    """Least distance from a point to a dovetail's cheek: tried section by section along the cheek; negative outside."""
    flare, taper = (math.tan(math.radians(neck.tenon[name])) for name in ("flare", "taper"))
    along = np.linspace(neck.x_joint, neck.x_end, 4001)
    gap = (neck.tenon["width"] / 2 - (neck.x_end - along) * flare - deep * taper - y) * math.cos(math.atan(taper))
    least = float(np.hypot(along - x, gap).min())
    return least if float(np.interp(x, along, gap)) > 0 else -least


@dataclass(frozen=True)
class Walls:
    """Least wood round a cut by sections, and where. exact: over the sections whose law is exact, shaft from
    the volute to the heel's swell and the heel itself; both swells only add."""

    least: float
    x: float
    exact: float


def walls(neck: Neck, cut: Cut, stations: int = 121) -> Walls:
    first, last = max(cut.x0, 0.0), min(cut.x1, neck.x_end)
    found: list[tuple[float, float, bool]] = []
    ends = neck.later.ends  # between them the back's deepest line moves fast
    along = np.linspace(min(ends), max(ends), 61).tolist() if ends else []
    special = [v for v in (neck.x_joint, *along) if first < v < last]
    for x in [*np.linspace(first, last, stations).tolist(), *special]:
        if x <= neck.x_joint:
            bare = neck.volute <= x <= neck.x_joint - neck.swell
            found.append((shaft_wall(neck, cut, x), x, bare))
        leans = bool(neck.tenon) and "flare" in neck.tenon
        if x >= neck.x_joint and (leans or not (neck.tenon and x < neck.x_joint + 1e-9)):
            found.append((heel_wall(neck, cut, x), x, True))
    least, x, _ = min(found)
    return Walls(least, x, min((wall for wall, _, exact in found if exact), default=math.inf))


def to_end(neck: Neck, cut: Cut) -> float:
    """Wood from a closed cut's end to the neck's end, mm, past a rounded rear corner too; negative past it."""
    if cut.x1 >= neck.x_end:
        return neck.x_end - cut.x1
    side = abs(cut.y) + cut.width / 2
    x, y = cut.x1 - (neck.x_end - neck.corner), side - (neck.heel_box(neck.x_end)[0] - neck.corner)
    beside = neck.corner - math.hypot(x, y) if x > 0 and y > 0 else math.inf
    return min(neck.x_end - cut.x1, beside)


def cover(neck: Neck, cut: Cut, zero_fret: bool, open_behind: bool) -> float | None:
    """How far the fretboard reaches beyond a cut, sideways or past its end; None where it lies behind the fretboard.

    open_behind: what belongs to an adjuster at the heel may come out from under it.
    """
    half = cut.width / 2
    edges = (cut.y - half, cut.y + half)
    if cut.name.startswith("bar-"):  # by its farther edge, either side of the centre line
        edges = (-abs(cut.y) - half, abs(cut.y) + half)
    first = -2.0 * math.hypot(1.0, neck.slope(0)) if zero_fret else 0.0
    start = first + max(neck.slope(0) * edge for edge in edges)
    end = neck.x_board + min(neck.board_slope * edge for edge in edges)
    if cut.x0 >= end:
        return None if open_behind else end - cut.x1
    least = math.inf
    for x in np.linspace(max(cut.x0, start), min(cut.x1, end), 50).tolist():
        low, high = neck.later.inward(x) - neck.half(x), neck.half(x)
        # a slanted end cuts the corner off what lies at this x
        for slope, off in ((neck.slope(0), x - first), (-neck.board_slope, neck.x_board - x)):
            if slope > 0:
                high = min(high, off / slope)
            elif slope < 0:
                low = max(low, off / slope)
        least = min(least, high - cut.y - cut.width / 2, cut.y - cut.width / 2 - low)
    return least if open_behind else min(least, end - cut.x1)


FARTHEST = 60.0  # mm past a cut's end that are looked along


def aslant(neck: Neck, cut: Cut) -> float:
    """The least that a wall may be past a cut's ends: to the sections there; the swell only adds to the shaft's."""
    found = math.inf
    for end, way in ((cut.x0, -1.0), (cut.x1, 1.0)):
        floor = cut.deep(end)
        joint = max(way * (neck.x_joint + 1e-6 - end), 0.0)  # a tenon begins there
        for along in [*np.linspace(0.0, FARTHEST, 61).tolist(), joint]:
            x = end + way * along
            if 0 <= x <= neck.x_end:
                here = Cut(cut.name, x, x + 1.0, cut.y, cut.width, (floor, floor, floor))
                wall = shaft_wall(neck, here, x) if x <= neck.x_joint else heel_wall(neck, here, x)
                found = min(found, math.hypot(along, max(wall, 0.0)))
    return found
