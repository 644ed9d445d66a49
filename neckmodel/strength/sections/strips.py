"""What of a neck's sections lies in each strip of a board that is glued up. Lengths mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.layout.wood.strips import reaches
from neckmodel.strength.sections.section import Moments, polygon, rectangle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.compression import CoverStrip


def outlines_within(points: Floats, low: float, high: float) -> Floats:
    """(n, m + 2, 2) the parts of outlines between two y, closed along z = 0. points: (n, m, 2), (y, z), each line from
    its bass edge along the back to its treble edge. Where the line crosses a bound it is cut there; what lies beyond
    shrinks onto the bound and has no area."""
    y = np.clip(points[..., 0], low, high)
    z = points[..., 1].copy()
    for k, row in enumerate(points):
        beyond = y[k] != row[:, 0]
        z[k, beyond] = np.interp(y[k, beyond], row[:, 0], row[:, 1])
    ends = [np.stack([y[:, i], np.zeros(len(y))], axis=-1)[:, None] for i in (0, -1)]
    return np.concatenate([ends[0], np.stack([y, z], axis=-1), ends[1]], axis=1)


def openings(
    steps: Sequence[Step],
    x: Floats,
    deepest: Floats,
    half_width: Floats,
    within: tuple[float, float] = (-np.inf, np.inf),
    bass: Floats | None = None,
) -> Moments:
    """What the channel's steps take out of each section, between two y. Where steps overlap the deepest counts, and
    of steps cut from the back the highest. A channel that breaks out of the wood ends there (`deepest`, `half_width`:
    (n,) of the finished wood, mm; bass: y of its bass side, where that is not as far from the centre line)."""
    if not steps:
        return Moments(*(np.zeros_like(x) for _ in range(3)))
    shape = (len(x), len(steps))
    there, depth, top = np.zeros(shape, dtype=bool), np.zeros(shape), np.zeros(shape)
    for k, step in enumerate(steps):
        there[:, k] = (x > step.x_start) & (x < step.x_end)
        depth[:, k] = np.minimum([step.depth_at(float(v)) for v in x], deepest)
        if step.ceiling is not None:
            top[:, k] = np.minimum([step.top_at(float(v)) for v in x], depth[:, k])
    first = -half_width if bass is None else bass
    least, most = np.maximum(first, within[0])[:, None], np.minimum(half_width, within[1])[:, None]
    low = np.clip(np.array([s.y - s.width / 2 for s in steps]), least, most)
    high = np.clip(np.array([s.y + s.width / 2 for s in steps]), least, most)
    edges = np.sort(np.concatenate([low, high], axis=1), axis=1)
    middle = (edges[:, :-1] + edges[:, 1:]) / 2
    covers = there[:, None, :] & (low[:, None, :] < middle[..., None]) & (middle[..., None] < high[:, None, :])
    cut = np.where(covers, depth[:, None, :], 0.0).max(axis=2)
    over = np.where(covers, top[:, None, :], np.inf).min(axis=2)
    return rectangle(np.diff(edges, axis=1), -cut, -np.minimum(over, cut))


def cover_moments(strip: CoverStrip, x: Floats, within: tuple[float, float], y: float = 0.0) -> Moments:
    """What of the strip glued over a compression rod lies between two y; zero beyond its ends. y: of its middle."""
    there = (x > strip.x_start) & (x < strip.x_end)
    width = min(y + strip.width / 2, within[1]) - max(y - strip.width / 2, within[0])
    depth = np.minimum([strip.underside.at(float(v)) for v in x], strip.thickness)
    return rectangle(np.where(there, max(width, 0.0), 0.0), -depth, 0.0)


def behind_moments(layout: Layout, x: Floats, points: Floats, within: tuple[float, float]) -> tuple[Moments, Floats]:
    """(moments, (n,) z of its deepest wood) of the strip behind a rod put in from the back, as far as it lies between
    two y: all wood within its width below the rod's room. Zero beyond its ends, or without one."""
    wide, under = np.zeros_like(x), np.zeros_like(x)
    groove = [] if layout.back_strip is None or layout.back_strip.groove is None else [layout.back_strip.groove]
    for step in (*(s for s in layout.steps if s.behind), *groove):
        there = (x > step.x_start) & (x < step.x_end) & (step.width >= wide)
        wide[there] = step.width
        under[there] = [step.depth_at(float(v)) for v in x[there]]
    parts, keel = [], np.zeros_like(x)
    for width in np.unique(wide[wide > 0]):
        low, high = max(-width / 2, within[0]), min(width / 2, within[1])
        if high > low:
            rows = wide == width
            outline = outlines_within(points[rows], low, high)
            keel[rows] = np.minimum(outline[..., 1].min(axis=1), -under[rows])
            found = polygon(outline) - rectangle(high - low, -np.minimum(under[rows], -keel[rows]), 0.0)
            parts.append((rows, found))
    whole = Moments(*(np.zeros_like(x) for _ in range(3)))
    for rows, found in parts:
        for name in ("area", "first", "second"):
            getattr(whole, name)[rows] = getattr(found, name)
    return whole, keel


def wood_by_strip(layout: Layout, x: Floats, points: Floats) -> tuple[tuple[Moments, ...], tuple[Floats, ...]]:
    """(moments, (n,) z of the deepest wood) of each strip in the sections at x, less the channel; a strip that does not
    reach into a section has none, and lies at z = 0. One of each for a board in one piece. points: of `back_outlines`.

    The strip glued over a compression rod counts as the wood beside it; one behind a rod put in from the back comes
    last, with the wood that is its own.
    """
    covers = [(rod.strip, rod.y) for rod in layout.rods if rod.strip is not None]
    moments, keels = [], []
    for within in reaches(layout.strips):
        outline = outlines_within(points, *within) if layout.strips else points
        keel = -outline[..., 1].min(axis=1)
        wood = polygon(outline) - openings(layout.steps, x, keel, points[:, -1, 0], within, points[:, 0, 0])
        for strip, y in covers:
            wood += cover_moments(strip, x, within, y)
        if layout.back_strip is not None:
            wood -= behind_moments(layout, x, points, within)[0]
        moments.append(wood)
        keels.append(-keel)
    if layout.back_strip is not None:
        whole, lowest = behind_moments(layout, x, points, (-np.inf, np.inf))
        moments.append(whole)
        keels.append(lowest)
    return tuple(moments), tuple(keels)
