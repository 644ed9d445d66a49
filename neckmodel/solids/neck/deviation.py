"""How far a carved solid differs from the shape it was carved to: its sections against exact superellipses."""

from __future__ import annotations

import numpy as np
from scipy.spatial import cKDTree

from neckmodel.errors import KernelError
from neckmodel.solids.kernel.gate import guarded
from neckmodel.solids.neck.skin import Array, BackLaw, at
from neckmodel.solids.neck.superellipse import quarter_points

# isort: split
import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt

GLUE_PLANE = 1e-4  # mm; points nearer to it belong to the flat top


def deviation_from_law(solid: cq.Solid, law: BackLaw, count: int = 20, seed: int = 1) -> float:
    """Largest distance, mm, within a section's plane, between the solid's sections and the law's.

    count: sections at random x (the same for the same seed) where the law is a plain superellipse. Raises KernelError
    where the solid has no skin in one of them.
    """
    picks = np.random.default_rng(seed).uniform(law.x_from, law.x_to, 50 * count)
    plain = picks[law.is_plain(picks)][:count]
    if len(plain) < count:
        raise KernelError("deviation", "hardly any section is free of the transitions", found=len(plain))
    return max(_apart(section_points(solid, float(x)), exact_section(law, float(x))) for x in plain)


def exact_section(law: BackLaw, x: float, count: int = 4001) -> Array:
    """(2 count, 2) points (y, z) of the law's superellipse at x, from the bass edge to the treble's."""
    where = np.array([x])
    half, depth, exponent, apex = (float(at(f, where)[0]) for f in (law.half_width, law.depth, law.exponent, law.apex))
    quarter = quarter_points(exponent, count)
    bass = np.column_stack([apex - (half + apex) * quarter[:, 0], -depth * quarter[:, 1]])
    treble = np.column_stack([apex + (half - apex) * quarter[:, 0], -depth * quarter[:, 1]])
    return np.concatenate([bass, treble[::-1]])


def section_points(solid: cq.Solid, x: float, per_edge: int = 200) -> Array:
    """(n, 2) points (y, z) on the solid's skin in the plane x = const, those on the glue plane left out."""
    with guarded("section", x=x):
        section = BRepAlgoAPI_Section(solid.wrapped, gp_Pln(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)))
        edges = cq.Shape.cast(section.Shape()).Edges()
        points = [p for edge in edges for p in _along(edge, per_edge) if p[1] < -GLUE_PLANE]
    if not points:
        raise KernelError("section", "the solid has no skin here", x=x)
    return np.array(points)


def _along(edge: cq.Edge, count: int) -> list[tuple[float, float]]:
    curve = BRepAdaptor_Curve(edge.wrapped)
    spots = (curve.Value(t) for t in np.linspace(curve.FirstParameter(), curve.LastParameter(), count))
    return [(spot.Y(), spot.Z()) for spot in spots]


def _apart(points: Array, line: Array) -> float:
    """Largest distance from the points to the polyline, mm; each is compared with the pieces at its nearest vertex."""
    nearest = cKDTree(line).query(points)[1]
    least = np.full(len(points), np.inf)
    for shift in (-1, 0):
        start = np.clip(nearest + shift, 0, len(line) - 2)
        a, along = line[start], line[start + 1] - line[start]
        length = np.maximum(np.einsum("ij,ij->i", along, along), 1e-300)
        t = np.clip(np.einsum("ij,ij->i", points - a, along) / length, 0, 1)
        least = np.minimum(least, np.linalg.norm(points - a - t[:, None] * along, axis=1))
    return float(least.max())
