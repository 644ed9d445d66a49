"""Sections of carved solids against exact superellipses, by the curve's textbook parameters rather than the package's
own. Lengths mm."""

from __future__ import annotations

from math import pi

import cadquery as cq
import numpy as np
from numpy.typing import NDArray
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from scipy.spatial import cKDTree

from neckmodel.solids.neck.skin import BackLaw

Array = NDArray[np.float64]

GLUE_PLANE = 1e-4  # points nearer to it belong to the flat top
PER_EDGE = 200  # points along each edge of a section


def exact(exponent: float) -> Array:
    """The quarter of |u|**p + |v|**p = 1 by its textbook parameters, (cos t)**(2/p) and (sin t)**(2/p)."""
    t = np.linspace(0, pi / 2, 8001)
    t = pi / 2 * (t / (pi / 2)) ** 2 * (3 - 2 * t / (pi / 2))
    return np.column_stack([np.abs(np.cos(t)) ** (2 / exponent), np.sin(t) ** (2 / exponent)])


def farthest(points: Array, line: Array) -> float:
    """Largest distance of the points from the polyline: each against the two pieces at its nearest corner."""
    nearest = cKDTree(line).query(points)[1]
    least = np.full(len(points), np.inf)
    for start in (np.maximum(nearest - 1, 0), np.minimum(nearest, len(line) - 2)):
        a, along = line[start], line[start + 1] - line[start]
        share = np.clip(((points - a) * along).sum(axis=1) / (along**2).sum(axis=1), 0, 1)
        least = np.minimum(least, np.linalg.norm(points - a - share[:, None] * along, axis=1))
    return float(least.max())


def exact_section(law: BackLaw, x: float) -> Array:
    """(n, 2) points (y, z) of the law's superellipse at x, from the bass edge to the treble's."""
    laws = (law.half_width, law.depth, law.exponent, law.apex)
    half, depth, exponent, apex = (float(np.ravel(f(np.array([x])))[0]) for f in laws)
    quarter = exact(exponent)
    bass = np.column_stack([apex - (half + apex) * quarter[:, 0], -depth * quarter[:, 1]])
    treble = np.column_stack([apex + (half - apex) * quarter[:, 0], -depth * quarter[:, 1]])
    return np.concatenate([bass, treble[-2::-1]])


def section_points(solid: cq.Solid, x: float) -> Array:
    """(n, 2) points (y, z) on the solid's skin in the plane x = const, those on the glue plane left out."""
    section = BRepAlgoAPI_Section(solid.wrapped, gp_Pln(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)))
    found = []
    for edge in cq.Shape.cast(section.Shape()).Edges():
        line = BRepAdaptor_Curve(edge.wrapped)
        spots = [line.Value(t) for t in np.linspace(line.FirstParameter(), line.LastParameter(), PER_EDGE)]
        found += [(spot.Y(), spot.Z()) for spot in spots if spot.Z() < -GLUE_PLANE]
    assert found, f"no skin at x {x}"
    return np.array(found)


def deviation_from_law(solid: cq.Solid, law: BackLaw, count: int, seed: int = 1) -> float:
    """Largest distance between the solid's sections and the law's, in `count` of them at random x (the same for the
    same seed) where the section is the superellipse itself: no transition into head or heel, no volute."""
    picks = np.random.default_rng(seed).uniform(law.x_from, law.x_to, 50 * count)
    added = [np.broadcast_to(f(picks), picks.shape) for f in (law.head_blend, law.heel_blend, law.swelling)]
    plain = picks[np.logical_and.reduce([values == 0 for values in added])][:count]
    assert len(plain) == count, "hardly any section is free of the transitions"
    return max(farthest(section_points(solid, float(x)), exact_section(law, float(x))) for x in plain)
