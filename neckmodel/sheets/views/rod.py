"""The rod in the drawings, from the side and from above. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Point
from neckmodel.layout.rod.rod import Box
from neckmodel.strength.rod.rod import bar_and_thread

if TYPE_CHECKING:
    from neckmodel.layout.rod.rod import RodPlace

ALONG = 60  # stretches that a bent bar is drawn in


def adjuster_rounds(rod: RodPlace) -> list[tuple[float, float, float]]:
    """(x from, x to, radius) of the adjuster, and of the collar of one with a wheel, mm."""
    out, radius = rod.outward, rod.adjuster_diameter / 2
    if not 0 < rod.wheel < rod.adjuster_length:
        return [(*_sorted(rod.x_adjuster, rod.x_block), radius)]
    inner = rod.x_adjuster - out * rod.wheel
    return [(*_sorted(rod.x_adjuster, inner), radius), (*_sorted(inner, rod.x_block), rod.collar / 2)]


def bar_span(rod: RodPlace) -> Point:
    """x from which to which the round bar of a compression rod runs, from adjuster to anchor."""
    anchor = next(iter(rod.segments), None)
    far = rod.x_anchor_end if anchor is None else anchor.x_end if rod.at_heel else anchor.x_start
    return _sorted(rod.x_block, far)


def bar_outline(rod: RodPlace) -> list[Point]:
    """(x, z) round the bar of a compression rod from the side; () for a straight rod."""
    if rod.curve is None:
        return []
    xs = [float(x) for x in np.linspace(*bar_span(rod), ALONG + 1)]
    upper = [(x, -rod.axis_at(x) + rod.diameter / 2) for x in xs]
    return upper + [(x, -rod.axis_at(x) - rod.diameter / 2) for x in reversed(xs)]


@dataclass(frozen=True)
class TwoBars:
    """The flat bar and the thread of a two-way rod between its blocks. x from, x to; half: half the bar's width; low,
    high: z of the bar; axis: z of the thread's; radius: of the thread. mm."""

    x_from: float
    x_to: float
    half: float
    low: float
    high: float
    axis: float
    radius: float


def two_bars(rod: RodPlace | None) -> TwoBars | None:
    """The two as they lie, where the design says which way; their sizes are those that its strength counts with."""
    if rod is None or rod.bar is None:
        return None
    flat, thread, _ = bar_and_thread(rod.table.width, rod.table.height)
    span = rod.segment(Box.SPAN)
    top = -rod.below - span.top
    high = top if rod.bar == "up" else top - span.height + flat
    return TwoBars(span.x_start, span.x_end, span.width / 2, high - flat, high, -rod.axis, thread / 2)


def _sorted(a: float, b: float) -> Point:
    return (a, b) if a <= b else (b, a)
