"""The strings at pitch, from the bridge over the nut to their tuners, as solids. Lengths mm."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.geometry.types import Point3

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.strings.strings import StringLine

AROUND = 16  # corners of a string's section, drawn around its circle


def string_ways(layout: Layout, x_from: float, x_to: float) -> dict[str, manifold3d.Manifold]:
    """Every string by its name, `string-1` at the bass: from its post, or straight on from x_from, to x_to;
    one that starts later from its own start."""
    strings, head = layout.frets.strings, layout.head_ways
    held = {way.string: way.points[:0:-1] for way in head}
    ways = {}
    for string in strings:
        if string.fret and x_to <= string.x_nut:
            continue
        path = [*held.get(string.number, (_middle(string, x_from),)), _middle(string, 0.0), _middle(string, x_to)]
        if string.fret:  # its peg stands beside that place
            path = [_middle(string, string.x_nut), _middle(string, x_to)]
        pieces = [_stretch(a, b, string.diameter / 2) for a, b in pairwise(path)]
        ways[f"string-{string.number}"] = manifold3d.Manifold.batch_boolean(pieces, manifold3d.OpType.Add)
    return ways


def _middle(string: StringLine, x: float) -> Point3:
    return x, string.y(x), string.z(x) + string.diameter / 2


def _stretch(start: Point3, end: Point3, radius: float) -> manifold3d.Manifold:
    """A straight stretch of string."""
    along = np.subtract(end, start)
    along = along / np.linalg.norm(along)
    square_to = np.cross(along, (0.0, 0.0, 1.0))
    square_to = square_to / np.linalg.norm(square_to)
    turn = np.arange(AROUND) * 2 * math.pi / AROUND
    ring = np.outer(np.cos(turn), square_to) + np.outer(np.sin(turn), np.cross(along, square_to))
    ring = ring * (radius / math.cos(math.pi / AROUND))
    return manifold3d.Manifold.hull_points(np.vstack([ring + start, ring + end]))
