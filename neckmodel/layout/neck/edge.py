"""The head's finished outline, measured on its face: the neck's own transition, and beyond it the stated or drawn
sides."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats

if TYPE_CHECKING:
    from neckmodel.layout.neck.outside import Outside


APART = 0.1  # mm between the outline's points at most: distances over 1 mm from them are then within 2e-3


@dataclass(frozen=True, eq=False)
class HeadEdge:
    """The head's finished outline. outline: (n, 2) points (along, y) on the face, `along` from the head line, toward
    the far end negative; under: how far nearer to the nut a hole square to the face lies under the back, mm."""

    outline: Floats
    under: float

    def rim(self, along: float, y: float) -> float:
        """How far a point of the head's face lies from its finished outline, mm; positive on either side of it.

        The far end's rounded corners are not counted, nor the wood that the carve takes from under the transition.
        """
        return float(np.hypot(*(self.outline - (along, y)).T).min())

    def hole_rim(self, along: float, y: float) -> float:
        """As `rim`, for a hole's axis all through the head, mm. An inclined head's sides stand upright but the hole
        is square to its face, so under the back the hole lies nearer to the nut."""
        return min(self.rim(along, y), self.rim(along + self.under, y))


def head_edge(outside: Outside) -> HeadEdge:
    """The outline of the head of this neck: some thousand points, so whoever asks for many places keeps it."""
    head = outside.head
    return HeadEdge(_outline(outside), head.thickness * math.tan(math.radians(head.angle)))


def _outline(outside: Outside) -> Floats:
    """(n, 2) points (along, y) of the outline."""
    head = outside.head
    drawn = head.contour is not None
    last = head.x_swell if drawn else head.x_far
    xs = np.linspace(last, 0.0, math.ceil(-last / APART) + 1)
    half, middle = (np.array([at(float(x)) for x in xs]) for at in (outside.half_width, outside.middle))
    points = [np.column_stack([xs, middle + half]), np.column_stack([xs, middle - half])]
    if head.contour is not None:
        whole = _close(head.contour.points)
        points.append(whole[whole[:, 0] < last - APART])  # a drawing may close with a line across the neck there
    else:
        across = np.linspace(-half[0], half[0], math.ceil(2 * half[0] / APART) + 1)
        points.append(np.column_stack([np.full(len(across), last), across]))
    found = np.vstack(points)
    found[:, 0] = (found[:, 0] - head.x_line) / math.cos(math.radians(head.angle))
    return found


def _close(corners: Floats) -> Floats:
    """(n, 2) points along a closed polygon (m, 2), no farther apart than APART."""
    ring = np.vstack([corners, corners[:1]])
    run = np.concatenate([[0.0], np.hypot(*np.diff(ring, axis=0).T).cumsum()])
    at = np.linspace(0.0, run[-1], math.ceil(run[-1] / APART) + 1)
    return np.column_stack([np.interp(at, run, ring[:, 0]), np.interp(at, run, ring[:, 1])])
