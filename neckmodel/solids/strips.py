"""The neck of a board of strips, parted along its seams into one solid for each strip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from neckmodel.errors import KernelError
from neckmodel.layout import Layout
from neckmodel.layout.wood.strips import reaches, strips_over
from neckmodel.layout.wood.tints import tints_of
from neckmodel.solids.kernel.box import box
from neckmodel.solids.kernel.gate import gate, split, volume
from neckmodel.solids.kernel.shapes import sideways
from neckmodel.solids.parts import Part, Parts

# isort: split
import cadquery as cq

OF_STRIPS = ("neck", "head-piece")  # what is sawn from the board
PAST = 5.0  # mm by which the outermost regions reach past the wood
AGREES = 1e-5  # of the whole; what the strips together may differ from it
ON_SEAM = 1e-3  # mm by which a strip may seem to reach over its seam


def in_strips(parts: Parts) -> Parts:
    """The parts, with every part sawn from the board replaced by its strips; the same parts where the board is of one
    piece. A strip that a hole or the channel cuts through comes in several parts, numbered from the head.

    Raises KernelError where the strips are not together the whole.
    """
    layout = parts.layout
    if not layout.strips:
        return parts
    found: list[Part] = []
    for part in parts.parts:
        found += _parted(layout, part) if part.name in OF_STRIPS else [part]
    return replace(parts, parts=tuple(found))


def _parted(layout: Layout, part: Part) -> list[Part]:
    """The strips of one part, from the bass side."""
    operation, (x0, y0, z0, x1, y1, z1) = f"parting {part.name} into its strips", box(part.solid)
    side = [(x0 - PAST, z0 - PAST), (x1 + PAST, z0 - PAST), (x1 + PAST, z1 + PAST), (x0 - PAST, z1 + PAST)]
    low, high = sorted((layout.across(y0), layout.across(y1)))
    colours, found = tints_of(layout.strips), []
    bounds = [(max(a, low - PAST), min(b, high + PAST)) for a, b in reaches(layout.strips)]
    there = strips_over(layout.strips, low, high)
    regions = []
    for k in there:
        y_from, y_to = sorted((layout.across(bounds[k][0]), layout.across(bounds[k][1])))
        regions.append(sideways(side, y_from, y_to, f"region of strip {k + 1}"))
    pieces = [gate(piece, operation) for piece in split(part.solid, regions, operation)]
    if abs(sum(map(volume, pieces)) - volume(part.solid)) > AGREES * volume(part.solid):
        raise KernelError(operation, "the strips are not the whole", expected=volume(part.solid))
    for k in there:
        strip, name = layout.strips[k], f"{part.name}-strip-{k + 1}"
        mine = [piece for piece in pieces if _within(layout, piece, bounds[k])]
        names = [name] if len(mine) == 1 else [f"{name}-{n}" for n in range(1, len(mine) + 1)]
        ordered = sorted(mine, key=lambda piece: box(piece)[0])
        found += [
            replace(part, name=n, solid=s, colour=colours[strip.wood]) for n, s in zip(names, ordered, strict=True)
        ]
    if len(found) != len(pieces):
        raise KernelError(operation, "a piece lies in no strip, or in two", pieces=len(pieces), found=len(found))
    return found


def _within(layout: Layout, piece: cq.Solid, bounds: Sequence[float]) -> bool:
    _, y0, _, _, y1, _ = box(piece)
    low, high = sorted((layout.across(y0), layout.across(y1)))
    return bounds[0] - ON_SEAM <= low and high <= bounds[1] + ON_SEAM
