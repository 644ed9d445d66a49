"""Parts that share space: which parts, how much, how deep, where, and in which direction they would have to move
apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

import manifold3d
import numpy as np
import trimesh

from neckmodel.checks.measure.triangles import as_point, volume_centroid
from neckmodel.geometry.types import Floats, Point3
from neckmodel.limits import FLAT
from neckmodel.meshes import manifold_arrays, to_manifold

CURVED_SHARE = 0.25
"""The same for round contact, as a share of the meshes' deflection: chords of two meshes differ by up to 0.23 of it."""

_SHRINK = 1e-6  # mm: boxes that only touch do not overlap


@dataclass(frozen=True)
class Fit:
    """A pair that is meant to share space: a press fit, a screw in its wood, a key in its socket.

    depth: largest mean thickness expected, mm.
    """

    first: str
    second: str
    depth: float


@dataclass(frozen=True)
class Overlap:
    """Two parts that share space.

    first, second: their names. volume: mm3. thickness: mean thickness 2V/A, mm (right for slabs and shells, low for
    wedges). allowed: the thickness up to which it counts as none. at: centroid, mm. direction: unit vector along which
    the shared space is thinnest, from the first part toward the second.
    """

    first: str
    second: str
    volume: float
    thickness: float
    allowed: float
    at: Point3
    direction: Point3


def overlaps(
    parts: Mapping[str, trimesh.Trimesh],
    *,
    linear: float,
    curved: Iterable[frozenset[str]] = (),
    fits: Iterable[Fit] = (),
) -> list[Overlap]:
    """All pairs of named closed meshes that share more space than they may, the thickest first.

    linear: deflection of the meshes, mm. curved: pairs of names that touch along a round face, where two meshes cannot
    agree better than a quarter of it. fits: pairs that are meant to share space, with how deep.
    """
    return [
        found for found in shared(parts, linear=linear, curved=curved, fits=fits) if found.thickness > found.allowed
    ]


def shared(
    parts: Mapping[str, trimesh.Trimesh],
    *,
    linear: float,
    curved: Iterable[frozenset[str]] = (),
    fits: Iterable[Fit] = (),
) -> list[Overlap]:
    """All pairs that share space, those that share no more than they may included."""
    round_pairs = set(curved)
    depths = {frozenset((fit.first, fit.second)): fit.depth for fit in fits}
    boxes = {name: np.asarray(mesh.bounds) for name, mesh in parts.items()}
    solids: dict[str, manifold3d.Manifold] = {}
    found = []
    for one, two in combinations(parts, 2):
        if not _boxes_meet(boxes[one], boxes[two]):
            continue
        for name in (one, two):
            if name not in solids:
                solids[name] = to_manifold(parts[name], name)
        pair = frozenset((one, two))
        small, large = sorted((one, two), key=lambda name: float(np.ptp(boxes[name], axis=0).prod()))
        common = _shrunk(solids[small], boxes[small]) ^ solids[large]
        if common.volume() > 0:
            allowed = max(CURVED_SHARE * linear if pair in round_pairs else FLAT, depths.get(pair, 0.0))
            toward = boxes[two].mean(axis=0) - boxes[one].mean(axis=0)
            found.append(_described(one, two, common, allowed, toward))
    return sorted(found, key=lambda overlap: -overlap.thickness)


def _shrunk(solid: manifold3d.Manifold, box: Floats) -> manifold3d.Manifold:
    """The solid a hair smaller each way, so that faces that only touch separate.

    Otherwise the space that a part shares with the floor of its close channel would include sheets of no thickness up
    the channel's walls, whose area halves the mean thickness.
    """
    centre, size = box.mean(axis=0), np.maximum(np.ptp(box, axis=0), 4 * _SHRINK)
    shrunk: manifold3d.Manifold = solid.translate(-centre).scale(1 - 2 * _SHRINK / size).translate(centre)
    return shrunk


def _described(one: str, two: str, common: manifold3d.Manifold, allowed: float, toward: Floats) -> Overlap:
    """The overlap, described by its thickest piece; the volume is that of all pieces."""
    piece = max(common.decompose(), key=_thickness)
    triangles = _triangles(piece)
    direction = _thin_direction(triangles)
    if direction @ toward < 0:
        direction = -direction
    centre = as_point(volume_centroid(triangles))
    return Overlap(one, two, common.volume(), _thickness(piece), allowed, centre, as_point(direction))


def _thickness(solid: manifold3d.Manifold) -> float:
    area = solid.surface_area()
    return 2 * solid.volume() / area if area > 0 else 0.0


def _thin_direction(triangles: Floats) -> Floats:
    """Unit vector (3,) that most of the surface faces: across a slab or a shell."""
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    areas = np.maximum(np.linalg.norm(normals, axis=1), 1e-300)
    spread = np.einsum("ki,kj,k->ij", normals, normals, 1 / areas)
    direction: Floats = np.linalg.eigh(spread)[1][:, -1]
    return direction


def _triangles(solid: manifold3d.Manifold) -> Floats:
    vertices, corners = manifold_arrays(solid)
    return vertices[corners]


def _boxes_meet(first: Floats, second: Floats) -> bool:
    return bool((first[0] + _SHRINK < second[1] - _SHRINK).all() and (second[0] + _SHRINK < first[1] - _SHRINK).all())
