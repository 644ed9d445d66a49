"""Parts as compact meshes for a browser: corners as 16-bit integers within the part's box, in base64."""

from __future__ import annotations

import base64
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.report.strips import OF_STRIPS, strip_meshes
from neckmodel.writers.base import VIEWING
from neckmodel.writers.meshes.threemf import rgb255

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from neckmodel.solids.parts import Part, Parts

STEPS = 65535  # over a neck of 700 mm one step is 0.011 mm, a tenth of the mesh's own error


@dataclass(frozen=True)
class Packed:
    """One part as a compact mesh. kind: "wood", "stock" or "hardware". colour: `#rrggbb`. A corner's coordinates are
    `low + step n` mm.

    corners: base64 of n as uint16, three for each corner. triangles: base64 of corner numbers, three for each triangle,
    wound outward; uint16, or uint32 where `wide`. group: what it is switched with, where its name does not say it.
    volume: of a strip, mm3.
    """

    name: str
    kind: str
    colour: str
    low: tuple[float, float, float]
    step: tuple[float, float, float]
    corners: str
    triangles: str
    wide: bool
    group: str = ""
    volume: float = 0.0


def packed(parts: Parts, progress: Callable[[str], None] = lambda text: None) -> tuple[Packed, ...]:  # noqa: ARG005
    """Every part, in order. Raises MeshError where a mesh does not close: the faces of a cut need closed meshes."""
    from neckmodel.meshes import mesh_of

    found = []
    for part in parts.parts:
        progress(f"meshing {part.name}")
        mesh = mesh_of(part.solid, VIEWING.linear, VIEWING.angular)
        if parts.layout.strips and part.name in OF_STRIPS:
            for strip in strip_meshes(parts.layout, part, mesh):
                whole = pack(strip.part, strip.vertices, strip.triangles)
                found.append(replace(whole, group=f"{strip.wood} strip", volume=strip.volume))
            continue
        found.append(pack(part, np.asarray(mesh.vertices), np.asarray(mesh.faces)))
    return tuple(found)


def pack(part: Part, vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> Packed:
    """One part as a compact mesh. vertices: (n, 3) mm; triangles: (m, 3)."""
    low, high = np.round(vertices.min(axis=0), 4), vertices.max(axis=0)
    step = np.maximum(high - low, 1e-3) / STEPS
    whole = np.clip(np.round((vertices - low) / step), 0, STEPS).astype("<u2")
    wide = len(vertices) > STEPS + 1
    x, y, z = low.tolist()
    dx, dy, dz = step.tolist()
    return Packed(
        name=part.name,
        kind=part.kind,
        colour="#" + "".join(f"{value:02x}" for value in rgb255(part.colour)),
        low=(x, y, z),
        step=(dx, dy, dz),
        corners=_base64(whole),
        triangles=_base64(triangles.astype("<u4" if wide else "<u2")),
        wide=wide,
    )


def _base64(numbers: NDArray[np.generic]) -> str:
    return base64.b64encode(np.ascontiguousarray(numbers).tobytes()).decode("ascii")
