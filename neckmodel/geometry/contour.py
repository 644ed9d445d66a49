"""Closed outlines in plan: points joined by straight lines and arcs, as drawings have them. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from neckmodel.geometry.types import Floats

Corner = tuple[float, float, float]

FLATTEN = 0.01  # mm, how far a chord may lie from its curve


def arc_middle(start: Corner, end: Corner) -> tuple[float, float]:
    """The middle point of an arc. A bulge is the tangent of a quarter of the arc's angle, positive anticlockwise."""
    bulge = start[2]
    dx, dy = end[0] - start[0], end[1] - start[1]
    return (start[0] + end[0]) / 2 + bulge * dy / 2, (start[1] + end[1]) / 2 - bulge * dx / 2


def arc_points(start: Corner, end: Corner, deviation: float = FLATTEN) -> Floats:
    """(n, 2) points after `start` up to and with `end`, chords at most `deviation` from the arc."""
    bulge, chord = start[2], math.dist(start[:2], end[:2])
    if abs(bulge) < 1e-9 or chord < 1e-9:
        return np.array([end[:2]])
    turn = 4 * math.atan(bulge)
    radius = chord / 2 / abs(math.sin(turn / 2))
    step = 2 * math.acos(max(1 - deviation / radius, -1.0)) if deviation < radius else math.pi / 2
    count = max(math.ceil(abs(turn) / step), 1)
    # the centre lies beside the chord's middle, on the left of its direction for an anticlockwise arc under half a turn
    away = chord / 2 / math.tan(turn / 2)
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    cx, cy = (start[0] + end[0]) / 2 - uy * away, (start[1] + end[1]) / 2 + ux * away
    first = math.atan2(start[1] - cy, start[0] - cx)
    angles = first + turn * np.arange(1, count + 1) / count
    points = np.column_stack([cx + radius * np.cos(angles), cy + radius * np.sin(angles)])
    points[-1] = end[:2]
    return points


@dataclass(frozen=True)
class Contour:
    """A closed outline, anticlockwise. corners: (x, y, bulge) each; the bulge belongs to the stretch that starts there
    (the tangent of a quarter of the arc's angle, positive anticlockwise; 0 for a straight line)."""

    corners: tuple[Corner, ...]

    @property
    def stretches(self) -> tuple[tuple[Corner, Corner], ...]:
        """Each stretch as its two corners, the last one back to the first."""
        return tuple(zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))

    @cached_property
    def points(self) -> Floats:
        """(n, 2) points along the outline, mm, arcs replaced by chords within FLATTEN; the first is not repeated."""
        along = np.vstack([arc_points(a, b) for a, b in self.stretches])
        return np.vstack([along[-1:], along[:-1]])

    @property
    def area(self) -> float:
        """mm2, exact for arcs; positive where the outline runs anticlockwise."""
        total = 0.0
        for a, b in self.stretches:
            total += (a[0] * b[1] - b[0] * a[1]) / 2
            if abs(a[2]) > 1e-9:
                turn = 4 * math.atan(a[2])
                radius = math.dist(a[:2], b[:2]) / 2 / math.sin(abs(turn) / 2)
                total += radius**2 * (turn - math.sin(turn)) / 2
        return total

    @property
    def x_range(self) -> tuple[float, float]:
        """Least and largest x, mm."""
        return float(self.points[:, 0].min()), float(self.points[:, 0].max())

    @property
    def y_range(self) -> tuple[float, float]:
        """Least and largest y, mm."""
        return float(self.points[:, 1].min()), float(self.points[:, 1].max())

    def crossings(self, at: float, axis: int = 0) -> list[float]:
        """y at which the outline crosses the upright line x = `at`, rising; with axis 1, x at which it crosses the
        level line y = `at`. mm."""
        p = self.points
        q = np.roll(p, -1, axis=0)
        cut = (p[:, axis] <= at) != (q[:, axis] <= at)
        p, q = p[cut], q[cut]
        share = (at - p[:, axis]) / (q[:, axis] - p[:, axis])
        return sorted((p[:, 1 - axis] + (q[:, 1 - axis] - p[:, 1 - axis]) * share).tolist())

    def last_beyond(self, side: int, y: float) -> float:
        """Largest x at which the outline lies farther than y out on one side (-1 bass, 1 treble), mm."""
        p = self.points
        q = np.roll(p, -1, axis=0)
        a, b = side * p[:, 1] - y, side * q[:, 1] - y
        found = p[a >= 0, 0].tolist()
        cut = (a >= 0) != (b >= 0)
        found += (p[cut, 0] + (q[cut, 0] - p[cut, 0]) * a[cut] / (a[cut] - b[cut])).tolist()
        return max(found, default=float(p[:, 0].min()))

    def anticlockwise(self) -> Contour:
        """The same outline, run anticlockwise."""
        if self.area >= 0:
            return self
        back = self.corners[::-1]
        bulges = [-self.corners[k - 1][2] for k in range(len(self.corners))][::-1]
        return Contour(tuple((x, y, bulge) for (x, y, _), bulge in zip(back, bulges, strict=True)))

    def straightened(self) -> Contour:
        """The outline with every arc replaced by chords within FLATTEN."""
        return Contour(tuple((float(x), float(y), 0.0) for x, y in self.points))

    def stretched(self, factor: float, origin: float) -> Contour:
        """The outline with x scaled by a factor about `origin` (an inclined face seen from above); arcs become
        chords."""
        straight = self if factor == 1 else self.straightened()
        return Contour(tuple((origin + factor * x, y, bulge) for x, y, bulge in straight.corners))
