"""The space that an adjusting key sweeps: put in, turned and drawn out, as convex pieces that can be compared with
solids.

The key's own frame is the adjuster's: the axis along x, the engaged end at x = 0, the head side negative.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import manifold3d
import numpy as np

from neckmodel.checks.measure.triangles import as_point, volume_centroid
from neckmodel.geometry.types import Point3
from neckmodel.meshes import manifold_arrays

STEP = math.radians(5.0)
"""Largest turn between two neighbouring positions of a swept key, rad."""

_SEGMENTS = 64  # sides of a round section, drawn around the circle, not inside it
_NO_VOLUME = 1e-6


@dataclass(frozen=True)
class StraightKey:
    """A straight or ball-end key, mm: across: its size across corners; length: from the engaged end, its handle
    included.

    handle_length is part of the length, at the far end.
    """

    across: float
    length: float
    handle_diameter: float = 0.0
    handle_length: float = 0.0


@dataclass(frozen=True)
class BentKey:
    """An L-key, mm: its size across corners, and both arms, measured to the outside of the bend."""

    across: float
    in_socket: float
    upright: float


@dataclass(frozen=True)
class UprightBar:
    """A bar that stands in a wheel, mm: its diameter, the distance of its end from the wheel's axis, its length, its
    handle.

    The handle lies beyond the length.
    """

    across: float
    tip_radius: float
    length: float
    handle_diameter: float = 0.0
    handle_length: float = 0.0


@dataclass(frozen=True)
class Collision:
    """What a key's way meets: the solid's name, the largest volume shared by one piece (mm3), and its centroid (mm)."""

    name: str
    volume: float
    at: Point3


def straight_sweep(key: StraightKey, withdraw: float) -> list[manifold3d.Manifold]:
    """The space of a straight key turned about its own axis anywhere on its way out by `withdraw` mm, in pieces."""
    pieces = [_rod(-key.length - withdraw, 0.0, key.across / 2)]
    if key.handle_diameter > 0:
        pieces.append(_rod(-key.length - withdraw, key.handle_length - key.length, key.handle_diameter / 2))
    return pieces


def bar_sweep(bar: UprightBar, angle: float, withdraw: float, step: float = STEP) -> list[manifold3d.Manifold]:
    """The space of a bar turned by +-angle (rad) about the wheel's axis and drawn out upright by `withdraw` mm.

    Round pieces swept by the hulls of neighbouring positions, lengthened so that the hulls' chords enclose their arc.
    """
    count = max(2, 2 * math.ceil(angle / step))
    turn = 2 * angle / count
    ends = [(bar.tip_radius, bar.tip_radius + bar.length, bar.across)]
    if bar.handle_diameter > 0:
        ends.append((ends[0][1], ends[0][1] + bar.handle_length, bar.handle_diameter))
    pieces = []
    for low, high, across in ends:
        far = math.hypot(high, across / 2) / math.cos(turn / 2)
        upright = _rod(low, math.sqrt(far**2 - across**2 / 4), across / 2).rotate((0.0, -90.0, 0.0))
        turned = [upright.rotate((math.degrees(-angle + k * turn), 0.0, 0.0)) for k in range(count + 1)]
        pieces += [manifold3d.Manifold.batch_hull([a, b]) for a, b in pairwise(turned)]
        pieces.append(_rod(low, high + withdraw, across / 2).rotate((0.0, -90.0, 0.0)))
    return pieces


def bent_sweep(key: BentKey, angle: float, withdraw: float, step: float = STEP) -> list[manifold3d.Manifold]:
    """The space of an L-key turned by +-angle (rad), and drawn out by `withdraw` mm at both ends and in the middle.

    The arm in the socket is a cylinder across corners. The upright arm is a box of that width, swept by the hulls of
    neighbouring positions, and lengthened so that the hulls' chords enclose the arc of its far corners.
    """
    count = max(2, 2 * math.ceil(angle / step))
    turn = 2 * angle / count
    upright = _upright(key, math.cos(turn / 2))
    turned = [upright.rotate((math.degrees(-angle + k * turn), 0.0, 0.0)) for k in range(count + 1)]
    pieces = [_rod(-key.in_socket - withdraw, 0.0, key.across / 2)]
    pieces += [manifold3d.Manifold.batch_hull([a, b]) for a, b in pairwise(turned)]
    for held in (turned[0], turned[count // 2], turned[-1]):
        pieces.append(manifold3d.Manifold.batch_hull([held, held.translate((-withdraw, 0.0, 0.0))]))
    return pieces


def placed(pieces: Sequence[manifold3d.Manifold], tip: Point3, outward: Point3) -> list[manifold3d.Manifold]:
    """The pieces moved from the key's frame to the neck's; an upright arm stays upright.

    tip: place of the engaged end in the socket, mm. outward: unit vector from there along the key, in the plane y = 0.
    """
    x, _, z = outward
    side = 1.0 if x < 0 else -1.0
    turn = np.array([[-x, 0.0, side * z], [0.0, side, 0.0], [-z, 0.0, -side * x]])
    move = np.column_stack([turn, np.asarray(tip, float)])
    return [piece.transform(move) for piece in pieces]


def collisions(
    pieces: Sequence[manifold3d.Manifold], solids: Mapping[str, manifold3d.Manifold], least: float = _NO_VOLUME
) -> list[Collision]:
    """The named solids that share more than `least` mm3 with any piece of the way, the largest volume first."""
    found = []
    for name, solid in solids.items():
        common = [piece ^ solid for piece in pieces if _meet(piece, solid)]
        worst = max(common, key=lambda shared: shared.volume(), default=None)
        if worst is not None and worst.volume() > least:
            vertices, corners = manifold_arrays(worst)
            found.append(Collision(name, worst.volume(), as_point(volume_centroid(vertices[corners]))))
    return sorted(found, key=lambda collision: -collision.volume)


def _upright(key: BentKey, cosine: float) -> manifold3d.Manifold:
    half = key.across / 2
    far_corner = math.hypot(half, key.upright - half) / cosine
    size = (key.across, key.across, math.sqrt(far_corner**2 - half**2))
    return manifold3d.Manifold.cube(size).translate((-key.in_socket, -half, 0.0))


def _rod(x0: float, x1: float, radius: float) -> manifold3d.Manifold:
    """A round rod along x, its polygon drawn around the circle."""
    around = radius / math.cos(math.pi / _SEGMENTS)
    upright = manifold3d.Manifold.cylinder(x1 - x0, around, circular_segments=_SEGMENTS)
    return upright.rotate((0.0, 90.0, 0.0)).translate((x0, 0.0, 0.0))


def _meet(first: manifold3d.Manifold, second: manifold3d.Manifold) -> bool:
    a, b = np.asarray(first.bounding_box()), np.asarray(second.bounding_box())
    return bool((a[:3] < b[3:]).all() and (b[:3] < a[3:]).all())
