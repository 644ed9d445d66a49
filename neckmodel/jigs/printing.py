"""How a piece prints, measured on its mesh on the bed: contact, overhangs, bridges, thin walls and slots."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import trimesh

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Floats
from neckmodel.jigs.bridges import spans
from neckmodel.jigs.regions import region
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

ON_BED = 1e-3  # mm, a facet this near to the bed lies on it
LEVEL = 1e-6  # of a normal's z; facets flatter than this look straight down
# What a disc of radius r leaves in a corner of 45 degrees reaches 1.61 r beyond the disc, is 2.41 r long along its
# sides and 1.24 r**2 large; anything larger is a thin wall, not a corner.
CORNER, CORNER_SPAN, CORNER_AREA = 1.8, 2.6, 1.3
SIZING = 0.03  # mm to which thin walls and slots are measured
MOST = 3.0  # mm; a thicker wall need not be measured exactly
LAYER = 0.4  # mm; a level that lasts for less is a groove's floor or a rounding, not a wall of its own
ARC = 4  # chords a quarter circle, where a section is shrunk and grown
GROWN = 0.08  # of a radius: a circle of these chords is smaller by up to 0.02 of it, once shrunk and once grown
SPECK = 1e-5  # mm2, left over by the rounding of coordinates


@dataclass(frozen=True)
class Overhang:
    """steepest: of all facets that look down and rest on nothing, degrees from the vertical; 90 where a level ceiling
    is not held at both ends. bridge: the widest span of the ceilings that are, mm."""

    steepest: float
    bridge: float


def contact_area(mesh: trimesh.Trimesh) -> float:
    """Area that lies flat on the bed, z = 0, mm2."""
    corners, areas = _corners(mesh), _areas(mesh)
    return float(areas[(corners[:, :, 2] < ON_BED).all(axis=1)].sum())


def overhang(mesh: trimesh.Trimesh) -> Overhang:
    """The facets that hang over nothing. A level ceiling held at both ends is a bridge; all else hangs."""
    corners = _corners(mesh)
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.maximum(np.linalg.norm(normal, axis=1), 1e-300)
    down = -normal[:, 2] / length
    free = (down > LEVEL) & ~(corners[:, :, 2] < ON_BED).all(axis=1)
    level = free & (down > 1 - LEVEL)
    leaning = free & ~level
    steepest = float(np.degrees(np.arcsin(np.clip(down[leaning], 0, 1))).max(initial=0.0))
    bridge, hangs = spans(corners[level], to_manifold(mesh))
    return Overhang(90.0 if hangs else steepest, bridge)


def least_features(mesh: trimesh.Trimesh, most: float = MOST) -> tuple[float, float]:
    """(thinnest wall, narrowest slot) over the level sections of a mesh, mm; `most` where there is none so thin.

    A wall is thinner than w where a disc of that diameter, moved about inside the section, leaves more than a corner.
    """
    wall = slot = most
    for section in level_sections(mesh):
        low_x, low_y, high_x, high_y = section.bounds
        frame = _box(low_x - most, low_y - most, high_x + most, high_y + most)
        wall = _thinnest(section, wall)
        slot = _thinnest(frame.difference(section), slot)
    return wall, slot


def level_sections(mesh: trimesh.Trimesh) -> list[BaseGeometry]:
    """A section half way between every two neighbouring heights of the mesh's corners."""
    heights = np.unique(np.round(np.asarray(mesh.vertices)[:, 2], 4))
    solid = to_manifold(mesh)
    middles = [(a + b) / 2 for a, b in pairwise(heights) if b - a > LAYER]
    if len(middles) > 8:  # a sculpted piece: evenly spaced sections are as good
        middles = list(np.linspace(heights[0], heights[-1], 10)[1:-1])
    sections = [region(solid.slice(float(z)).to_polygons()) for z in middles]
    return [section for section in sections if not section.is_empty]


def _thinnest(section: BaseGeometry, most: float) -> float:
    """To SIZING, and never more than the true value."""
    if not _leaves_more_than_corners(section, most):
        return most
    return nearest_enough(lambda width: not _leaves_more_than_corners(section, width), most, 0.0, SIZING) or 0.0


def _leaves_more_than_corners(section: BaseGeometry, width: float) -> bool:
    """Whether a disc of that diameter, moved about inside a section, leaves more of it than corners of 45 degrees and
    more."""
    radius = width / 2
    opened = section.buffer(-radius, quad_segs=ARC).buffer(radius * (1 + GROWN), quad_segs=ARC)
    lost = section.difference(opened)
    return any(_is_thin(part, opened, radius) for part in getattr(lost, "geoms", [lost]) if part.area > SPECK)


def _is_thin(part: BaseGeometry, opened: BaseGeometry, radius: float) -> bool:
    low_x, low_y, high_x, high_y = part.bounds
    if part.area <= CORNER_AREA * radius**2 and math.hypot(high_x - low_x, high_y - low_y) <= CORNER_SPAN * radius:
        return False
    beside = opened.intersection(part.buffer(GROWN * radius, quad_segs=1))
    return bool(beside.is_empty or part.difference(beside.buffer(CORNER * radius, quad_segs=ARC)).area > SPECK)


def _corners(mesh: trimesh.Trimesh) -> Floats:
    corners: Floats = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
    return corners


def _areas(mesh: trimesh.Trimesh) -> Floats:
    corners = _corners(mesh)
    areas: Floats = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2
    return areas


def _box(x0: float, y0: float, x1: float, y1: float) -> BaseGeometry:
    from shapely.geometry import box

    return box(x0, y0, x1, y1)
