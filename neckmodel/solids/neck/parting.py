"""Divides the finished wood along a seam, and verifies both sides.

Where a seam meets carved skin the kernel sometimes splits the wood correctly and then confuses the two sides, so that a
piece comes back empty, or whole and uncut.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from neckmodel.errors import KernelError
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.gate import common, cut, gate, probe, solid_bytes, split, volume

# isort: split
import cadquery as cq

SPLINTER = 1e-4  # share of the neck that a seam may cut loose where it runs along the skin; it falls off
PARTING = 1e-5 + SPLINTER  # relative; what the two sides of a seam may differ from the whole

Sides = tuple[cq.Solid, cq.Solid]


@remembered(lambda sides: sum(map(solid_bytes, sides)))
def part(wood: cq.Solid, region: cq.Solid, name: str) -> Sides:
    """(the wood inside the region, the rest), each one solid, their volumes together the whole.

    Raises KernelError, naming the piece, where no method gives that.
    """
    operation, whole = f"parting {name}", volume(wood)
    failed: list[KernelError] = []
    for way in (_by_booleans, _by_splitting):
        try:
            piece, rest = way(wood, region, operation)
        except KernelError as error:
            failed.append(error)
            continue
        both = volume(piece) + volume(rest)
        if abs(both - whole) <= PARTING * whole:
            return piece, rest
        failed.append(KernelError(operation, "the two sides are not the whole", volume=both, expected=whole))
    raise failed[0]


def _by_booleans(wood: cq.Solid, region: cq.Solid, operation: str) -> Sides:
    return (
        common(wood, [region], operation, chips=SPLINTER),
        cut(wood, [region], operation, chips=SPLINTER),
    )


def _by_splitting(wood: cq.Solid, region: cq.Solid, operation: str) -> Sides:
    """The two sides, split by the kernel; on which side each solid lies is asked of the region itself, a plain
    prism."""
    inside, outside = probe(region), probe(region, outside=True)
    piece: list[cq.Solid] = []
    rest: list[cq.Solid] = []
    for solid in split(wood, [region], operation):
        places = [point for edge in solid.Edges() for point in (edge.startPoint(), edge.positionAt(0.5))]
        within, without = _holds(inside, places), _holds(outside, places)
        if within == without:
            raise KernelError(operation, "a solid lies on both sides of the seam" if within else "a solid of no side")
        (piece if within else rest).append(solid)
    return gate(_together(piece), operation, chips=SPLINTER), gate(_together(rest), operation, chips=SPLINTER)


def _holds(test: Callable[[float, float, float], bool], places: Sequence[cq.Vector]) -> bool:
    return any(test(*place.toTuple()) for place in places)


def _together(solids: Sequence[cq.Solid]) -> cq.Compound:
    return cq.Compound.makeCompound(solids)
