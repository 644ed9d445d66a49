"""The end grain under a compression rod's washer and anchor, less the channel that runs through it. mm, N, MPa."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.layout.channel.step import StepName
from neckmodel.strength.rod.compression import faces

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace, Segment

SLICES = 4000
Span = tuple[Floats, Floats]  # (n,) lower and upper z of a shape in each slice; upper below lower: nothing there


@dataclass(frozen=True)
class Face:
    """A face that presses on end grain, in the plane x. key: the key that makes it larger; size: its size now. area: of
    wood behind it, mm2."""

    name: str
    key: str
    size: float
    x: float
    z: float
    area: float

    def pressure(self, force: float) -> float:
        """Pressure on the end grain, MPa."""
        return force / self.area if self.area > 0 else math.inf


def disc(y: Floats, diameter: float, axis: float) -> Span:
    """The lower and upper z of a disc whose middle lies `axis` below z = 0."""
    half = np.sqrt(np.maximum((diameter / 2) ** 2 - y**2, 0.0))
    return -axis - half, -axis + half


def box(y: Floats, width: float, low: float, high: float) -> Span:
    """The lower and upper z of a rectangle over the centre line."""
    return np.full_like(y, low), np.where(abs(y) < width / 2, high, low)


def wood_behind(width: float, shape: Callable[[Floats], Span], *openings: Callable[[Floats], Span]) -> float:
    """Area of the wood that a face presses on, mm2: the part of the face below z = 0, less the (at most two) openings
    in the wood behind it, which may overlap. width: of the face, mm. By 4000 slices: within 1e-4 of itself."""
    edges = np.linspace(-width / 2, width / 2, SLICES + 1)
    y = (edges[1:] + edges[:-1]) / 2
    low, high = shape(y)
    high = np.minimum(high, 0.0)
    gone: list[Span] = []
    for opening in openings:
        below, above = opening(y)
        gone.append((np.maximum(below, low), np.minimum(above, high)))
    lengths = [np.maximum(above - below, 0.0) for below, above in gone]
    free = np.maximum(high - low, 0.0) - sum(lengths)
    if len(gone) == 2:
        both = np.minimum(gone[0][1], gone[1][1]) - np.maximum(gone[0][0], gone[1][0])
        free = free + np.clip(both, 0.0, None)
    return float(np.sum(free) * width / SLICES)


def bearing_faces(layout: Layout, sizes: Mapping[str, float] = MappingProxyType({})) -> tuple[Face, ...]:
    """The faces of washer (or adjuster) and anchor that a compression rod pulls together, with the wood behind each:
    the neck less the run, in which the glued strip counts as wood. No anchor's face where the file states no anchor.

    sizes: other sizes by a face's key, mm, to see what wood a larger face would have behind it.
    """
    place, stated = layout.rod, layout.design.rod
    if place is None or stated is None or place.curve is None:
        return ()
    ends = faces(place)
    x = ends[1] if place.at_heel else ends[0]
    if place.washer is not None:
        size, hole, key, name = place.washer.diameter, place.washer.hole, "rod.washer.diameter", "washer"
    else:
        size, hole, key, name = place.adjuster_diameter, place.diameter, "rod.adjuster.diameter", "adjuster"
    size = sizes.get(key, size)
    axis, run = place.axis_at(x), _run(layout, place, x)
    area = wood_behind(size, lambda y: disc(y, size, axis), lambda y: disc(y, hole, axis), run)
    x_anchor = ends[0] if place.at_heel else ends[1]
    return Face(name, key, size, x, -axis, area), *(_anchor(layout, place, a, x_anchor, sizes) for a in place.segments)


def _anchor(layout: Layout, place: RodPlace, anchor: Segment, x: float, sizes: Mapping[str, float]) -> Face:
    key, top, bottom = "rod.anchor.width", -anchor.top, -anchor.top - anchor.height
    width = sizes.get(key, anchor.width)
    area = wood_behind(width, lambda y: box(y, width, bottom, top), _run(layout, place, x))
    return Face("anchor", key, width, x, (top + bottom) / 2, area)


def _run(layout: Layout, place: RodPlace, x: float) -> Callable[[Floats], Span]:
    """The run where it ends at x, open from its floor up to the strip, or to the glue plane where there is none; of one
    cut from the back only the rod's room, for the strip closes the rest."""
    run = next(step for step in layout.steps if step.kind == StepName.RUN)
    top = -run.top_at(x)
    if place.strip is not None:
        top = -min(place.strip.underside.at(x), place.strip.thickness)
    floor = -run.depth_at(x)
    return lambda y: box(y, run.width, floor, top)
