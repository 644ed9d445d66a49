"""The strips of a neck's mesh, parted along the seams: to show each in its wood's colour, and to weigh it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Floats
from neckmodel.layout.wood.strips import reaches
from neckmodel.layout.wood.tints import tints_of

if TYPE_CHECKING:
    import trimesh

    from neckmodel.layout import Layout
    from neckmodel.meshes.weld import Ints
    from neckmodel.solids.parts import Part

OF_STRIPS = ("neck", "head-piece")  # what is sawn from the board
LEAST = 1e-3  # mm3; less is no wood


@dataclass(frozen=True)
class StripMesh:
    """One strip of a part. part: named and coloured as the strip; wood: its name; vertices: (n, 3) mm, triangles: (m,
    3); volume: mm3."""

    part: Part
    wood: str
    vertices: Floats
    triangles: Ints
    volume: float


def strip_meshes(layout: Layout, part: Part, mesh: trimesh.Trimesh) -> Iterator[StripMesh]:
    """Every strip that reaches into the part, from the bass side. mesh: of the whole part, closed, as it lies on the
    finished neck."""
    from neckmodel.meshes.manifold import manifold_arrays, to_manifold

    whole, colours = to_manifold(mesh, part.name), tints_of(layout.strips)
    for strip, (low, high) in zip(layout.strips, reaches(layout.strips), strict=True):
        y_from, y_to = sorted((layout.across(low), layout.across(high)))
        piece = whole
        for normal, bound in ((1.0, y_from), (-1.0, -y_to)):
            if math.isfinite(bound):
                piece = piece.trim_by_plane((0.0, normal, 0.0), bound)
        if piece.volume() > LEAST:
            named = replace(part, name=f"{part.name}-strip-{strip.number}", colour=colours[strip.wood])
            yield StripMesh(named, strip.wood, *manifold_arrays(piece), piece.volume())
