"""Outlines in plan of straight lines and arcs. Plain numbers, no kernel. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.types import Point


@dataclass(frozen=True)
class Step:
    """One stretch of a path, from the end of the one before to `end`: a line, or the arc `through` a point on it."""

    end: Point
    through: Point | None = None


@dataclass(frozen=True)
class PlanPath:
    """An outline in plan: its start and its steps; closed where the last step ends at the start."""

    start: Point
    steps: tuple[Step, ...]

    @property
    def end(self) -> Point:
        """The point at which it ends."""
        return self.steps[-1].end

    def pieces(self) -> tuple[tuple[Point, Step], ...]:
        """Each step with the point it starts from."""
        starts = (self.start, *(step.end for step in self.steps[:-1]))
        return tuple(zip(starts, self.steps, strict=True))

    def area(self) -> float:
        """Signed area between the path and the chord that closes it (positive anticlockwise), mm2; exact for arcs."""
        total = 0.0
        for start, step in self.pieces():
            total += (start[0] * step.end[1] - step.end[0] * start[1]) / 2
            if step.through is not None:
                radius, angle = _arc(start, step.through, step.end)
                total += radius**2 * (angle - math.sin(angle)) / 2
        return total + (self.end[0] * self.start[1] - self.start[0] * self.end[1]) / 2

    def polyline(self, per_arc: int = 33) -> NDArray[np.float64]:
        """(n, 2) points along the path, arcs replaced by chords."""
        points = [self.start]
        for start, step in self.pieces():
            if step.through is not None:
                radius, angle = _arc(start, step.through, step.end)
                across = np.subtract(step.end, start) / 2
                away = np.array([-across[1], across[0]]) / math.tan(angle / 2)
                centre = np.add(start, across) + away
                first = math.atan2(*(np.subtract(start, centre)[::-1]))
                points += [
                    (
                        float(centre[0] + radius * math.cos(first + turn)),
                        float(centre[1] + radius * math.sin(first + turn)),
                    )
                    for turn in np.linspace(0.0, angle, per_arc)[1:-1]
                ]
            points.append(step.end)
        return np.array(points)


def polygon(points: list[Point] | tuple[Point, ...]) -> PlanPath:
    """The closed path with straight sides through the points."""
    return PlanPath(points[0], tuple(Step(point) for point in (*points[1:], points[0])))


def pocket(x_from: float, x_to: float, width: float, round_from: bool = False, round_to: bool = False) -> PlanPath:
    """The closed outline of a pocket along the centre line, its ends square or half circles (inside the range)."""
    half = width / 2
    left, right = x_from + half * round_from, x_to - half * round_to
    far = Step((right, half), (x_to, 0.0) if round_to else None)
    near = Step((left, -half), (x_from, 0.0) if round_from else None)
    if left == right:  # a disc
        return PlanPath((left, -half), (far, near))
    return PlanPath((left, -half), (Step((right, -half)), far, Step((left, half)), near))


def _arc(start: Point, through: Point, end: Point) -> tuple[float, float]:
    """Radius of the arc, and the angle it turns through (positive anticlockwise, up to a full turn either way)."""
    a, b = np.subtract(start, through), np.subtract(end, through)
    cross = float(a[0] * b[1] - a[1] * b[0])
    chord = math.dist(start, end)
    # the inscribed angle at `through` is half the turn left over on the other side of the chord
    inscribed = math.atan2(abs(cross), float(a @ b))
    turn = 2 * (math.pi - inscribed)
    return chord / (2 * math.sin(inscribed)), math.copysign(turn, -cross)
