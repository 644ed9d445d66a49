"""Subtracts the channel and the holes from the wood, and verifies that they are gone.

Where tools touch in a line or a plane the kernel sometimes leaves one of them in the wood without an error.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from neckmodel.errors import KernelError
from neckmodel.memory.remembered import remembered
from neckmodel.solids.kernel.box import box
from neckmodel.solids.kernel.gate import cut, probe, solid_bytes, unite

# isort: split
import cadquery as cq

CHIPS = 0.01  # share of the neck that may fall off where a channel breaks out; the checks report that
ALONG, ACROSS, DEEP = (0.03, 0.5, 0.97), (0.03, 0.97), (0.3,)  # shares of a tool's box at which its wood is looked for


@remembered(solid_bytes)
def take(wood: cq.Solid, tools: Sequence[cq.Solid], operation: str) -> cq.Solid:
    """The wood less every tool. Raises KernelError, naming the operation, where no way of cutting removes all of
    them."""
    if not tools:
        return wood
    failed: list[KernelError] = []
    for way in (_at_once, _united, _one_by_one):
        try:
            left = way(wood, tools, operation)
        except KernelError as error:
            failed.append(error)
            continue
        if (still := _still_there(left, tools)) is None:
            return left
        failed.append(KernelError(operation, f"tool {still + 1} of {len(tools)} is still in the wood"))
    raise failed[-1]


def _at_once(wood: cq.Solid, tools: Sequence[cq.Solid], operation: str) -> cq.Solid:
    return cut(wood, tools, operation, chips=CHIPS)


def _united(wood: cq.Solid, tools: Sequence[cq.Solid], operation: str) -> cq.Solid:
    return cut(wood, [unite(tools, operation)], operation, chips=CHIPS)


def _one_by_one(wood: cq.Solid, tools: Sequence[cq.Solid], operation: str) -> cq.Solid:
    for tool in reversed(tools):
        wood = cut(wood, [tool], operation, chips=CHIPS)
    return wood


def _still_there(left: cq.Solid, tools: Sequence[cq.Solid]) -> int | None:
    """The number of a tool inside which some wood is left; None where there is none."""
    wood = probe(left)
    for number, tool in enumerate(tools):
        inside = probe(tool)
        x0, y0, z0, x1, y1, z1 = box(tool)
        for a, b, c in product(ALONG, ACROSS, DEEP):
            place = x0 + a * (x1 - x0), y0 + b * (y1 - y0), z0 + c * (z1 - z0)
            if inside(*place) and wood(*place):
                return number
    return None
