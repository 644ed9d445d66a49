"""Left-handed necks. Everything is laid out and built right-handed, and mirrored here, once, at the end of `build`.

So whoever takes a solid takes the true one: writers, pictures, scripts. The checks measure the parts as they were laid
out, for the layout knows places by name and a mirror changes no distance. They then mirror the places of their
findings, and take volume, bounds and soundness from the true solids.
"""

from __future__ import annotations

from dataclasses import replace

from neckmodel.solids.kernel.gate import gate, volume
from neckmodel.solids.kernel.shapes import mirrored
from neckmodel.solids.parts import Opening, Part, Parts, Tool

# isort: split
import cadquery as cq


def left_handed(parts: Parts) -> Parts:
    """The parts with treble and bass side exchanged; `laid_out` holds the given, right-handed ones."""
    return replace(
        parts,
        parts=tuple(_part(part) for part in parts.parts),
        carved=_mirrored(parts.carved, "neck"),
        tools=_tools(parts.tools),
        openings=tuple(_opening(opening) for opening in parts.openings),
        holes=_tools(parts.holes),
        regions=_tools(parts.regions),
        fretboard=None if parts.fretboard is None else _mirrored(parts.fretboard, "fretboard"),
        laid_out=parts,
    )


def _part(part: Part) -> Part:
    return replace(part, solid=_mirrored(part.solid, part.name))


def _tools(tools: tuple[Tool, ...]) -> tuple[Tool, ...]:
    return tuple(replace(tool, solid=_mirrored(tool.solid, tool.step)) for tool in tools)


def _mirrored(solid: cq.Solid, name: str) -> cq.Solid:
    return gate(mirrored(solid, f"mirroring {name}"), f"mirroring {name}", volume(solid))


def _opening(opening: Opening) -> Opening:
    (x, y, z), (nx, ny, nz) = opening.point, opening.normal
    return replace(opening, point=(x, -y, z), normal=(nx, -ny, nz))
