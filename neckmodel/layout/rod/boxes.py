"""The boxes that a rod is made of: block, span and anchor, or the stated odd segments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.layout.rod.rod import SEGMENT, Box, Segment
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from neckmodel.design import Design, Rod
    from neckmodel.geometry.curve import Curve
    from neckmodel.layout.rod.rod import RodPlace


def lay_segments(design: Design, rod: Rod, x_start: float, curve: Curve | None) -> tuple[Segment, ...]:
    """The rod's boxes in the order of x. x_start: its nut-side end; curve: a compression rod's axis.

    A compression rod has one box at most: its anchor, centred on the axis.
    """
    at_heel = rod.at_heel
    if curve is not None:
        anchor = rod.anchor
        if anchor.length <= 0:
            return ()
        x0 = x_start if at_heel else x_start + rod.length - anchor.length
        axis = curve.at(x0 + anchor.length / 2)
        if axis < anchor.height / 2:
            says = f"stands {anchor.height / 2 - axis:.2f} mm above the glue plane, on an axis {axis:.2f} mm deep"
            raise design.problem("rod.anchor.height", says, f"at most {no_more(2 * axis)}")
        top = axis - anchor.height / 2 - design.channel.deeper_by
        return (Segment(Box.ANCHOR, x0, x0 + anchor.length, anchor.width, anchor.height, top),)
    x = x_start + rod.length if at_heel else x_start
    outward = 1 if at_heel else -1
    x -= outward * rod.adjuster.length
    laid = []
    for name, length, width, height, top in _boxes(rod):
        inner = x - outward * length
        laid.append(Segment(name, min(x, inner), max(x, inner), width, height, top))
        x = inner
    return tuple(laid[::-1] if at_heel else laid)


def _boxes(rod: Rod) -> list[tuple[str, float, float, float, float]]:
    """(name, length, width, height, top) from the adjuster inward; the longest of odd segments is the span."""
    if rod.segments:
        lengths, last = [s.length for s in rod.segments], len(rod.segments) - 1
        names = [Box.BLOCK] + [f"{SEGMENT}-{k + 1}" for k in range(1, last)] + [Box.ANCHOR] * (last > 0)
        names[lengths.index(max(lengths))] = Box.SPAN
        return [(n, s.length, s.width, s.height, s.top) for n, s in zip(names, rod.segments, strict=True)]
    block, anchor = rod.block, rod.anchor
    span = rod.length - rod.adjuster.length - block.length - anchor.length
    return [
        (Box.BLOCK, block.length, block.width, block.height, 0.0),
        (Box.SPAN, span, rod.width, rod.height, 0.0),
        (Box.ANCHOR, anchor.length, anchor.width, anchor.height, 0.0),
    ]


def end_lengths(rod: Rod) -> tuple[float, float]:
    """Lengths of the rod's block and anchor, mm; 0 for one that it does not have."""
    if rod.kind == "compression":
        return (rod.washer.thickness if rod.washer is not None else 0.0), rod.anchor.length
    found = {name: length for name, length, *_ in _boxes(rod)}
    return found.get(Box.BLOCK, 0.0), found.get(Box.ANCHOR, 0.0)


def held_past_joint(design: Design, rod: RodPlace) -> float:
    """How far the block or anchor at the rod's body end reaches past the joint, mm, to the face that counts."""
    held = end_lengths(rod.table)[0 if rod.at_heel else 1]
    return rod.x_past_joint - (held if design.rod_place.past_joint_of == "inner" else 0.0) - rod.x_joint


def lowest(rod: Rod) -> float:
    """How far a rod of boxes reaches below its top, mm."""
    return max(top + height for _, length, _, height, top in _boxes(rod) if length > 0)
