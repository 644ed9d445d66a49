"""Rods of two bars: what a turn of the adjuster does to the neck, and the force it takes. Lengths mm, forces N."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.layout.rod.rod import Box
from neckmodel.strength.materials.metals import COARSE_THREADS, MOST_THREAD, STEEL_MODULUS, STEEL_PROOF, stress_area

if TYPE_CHECKING:
    from neckmodel.layout import Layout

FLAT_BAR = 3.0  # mm, thickness of a two-way rod's flat bar where the file cannot state it; common practice, no source


class Rod(Protocol):
    """What every kind of rod tells about itself."""

    @property
    def pitch(self) -> float:
        """mm for a turn, of its thread, or as its measured bow gives it."""

    @property
    def thread(self) -> float:
        """mm that its adjuster runs for a turn."""

    @property
    def area_core(self) -> float:
        """Area of its thread's core, mm2."""

    @property
    def compliance(self) -> float:
        """How far the rod itself stretches, mm/N."""

    @property
    def own_bending(self) -> float:
        """Its own EI while slack, N mm2."""

    @property
    def dead_turns(self) -> float:
        """Turns before it bears on the neck."""

    @property
    def greatest_force(self) -> float:
        """Force at which its thread's core reaches its proof stress, N."""

    @property
    def adds(self) -> bool:
        """Whether it can also add relief."""

    @property
    def presses(self) -> float:
        """1.0 if its pull presses the neck together along its length, 0.0 if the rod itself bears the pull."""

    def arm(self, x: Floats, neutral: Floats) -> Floats:
        """Moment in the neck at x for 1 N in the rod, N mm; neutral: z of the neck's neutral axis."""


@dataclass(frozen=True)
class TwoWayRod:
    """Two bars joined by a block at each end; the adjuster makes one longer or shorter than the other.

    length: between the blocks' inner faces. spacing s: between the bars' axes. area_bar, area_core: mm2. own_bending:
    sum of the bars' own EI, N mm2. thread: its pitch, mm for a turn. block: length of the block that holds an end.
    play: of the rod in its channel's depth, both sides together. adds: False for a one-way rod, which is counted as
    such a pair that only takes relief out.
    """

    length: float
    spacing: float
    area_bar: float
    area_core: float
    own_bending: float
    thread: float
    block: float
    play: float = 0.0
    modulus: float = STEEL_MODULUS
    adds: bool = True
    presses: float = 0.0
    fitted: float | None = None  # the pitch that gives the bow measured on it

    @property
    def pitch(self) -> float:
        """mm for a turn: the thread's, or the one fitted to the measured bow."""
        return self.thread if self.fitted is None else self.fitted

    def arm(self, x: Floats, neutral: Floats) -> Floats:  # noqa: ARG002
        """The pair's moment `F s`, the same all along the neck, for 1 N."""
        return np.full_like(x, self.spacing)

    @property
    def compliance(self) -> float:
        """How far the bars themselves stretch, mm/N: `l/(E A1) + l/(E A2)`."""
        return self.length / self.modulus * (1 / self.area_bar + 1 / self.area_core)

    def force(self, turns: float, angle_each: float) -> float:
        """Force in each bar, N: `F = D/(C + s**2 INT dx/EI)`, D = turns x pitch.

        angle_each: INT dx/EI of the neck between the blocks, the rod's own EI included, 1/(N mm).
        """
        return turns * self.pitch / (self.compliance + self.spacing**2 * angle_each)

    def turns(self, moment: float, angle_each: float) -> float:
        """Turns for this moment F s, counted after the play is taken up."""
        return moment / self.spacing * (self.compliance + self.spacing**2 * angle_each) / self.pitch

    @property
    def dead_turns(self) -> float:
        """Turns either way that only bend the bare rod, until its bow takes up half the play and it bears on its
        channel."""
        return self.spacing * (8 * self.play / 2 / self.length**2) * self.length / self.pitch

    @property
    def bare_bow_per_turn(self) -> float:
        """Bow of the bare rod for one turn, mm: `kappa l**2/8` with `D = s kappa l + F C`, `F s = EI_bars kappa`."""
        bow = self.pitch / (self.spacing * self.length + self.own_bending / self.spacing * self.compliance)
        return bow * self.length**2 / 8

    def calibrated(self, bow_per_turn: float) -> TwoWayRod:
        """The same rod with the pitch that gives the measured bow for each turn."""
        return replace(self, fitted=self.pitch * bow_per_turn / self.bare_bow_per_turn)

    def lever(self, moment: float) -> float:
        """Length over which an end hands its moment to the neck, mm: `max(block, sqrt(8 g EI_bars/M))`, g the play."""
        if moment == 0:
            return self.block
        return max(self.block, math.sqrt(8 * self.play * self.own_bending / abs(moment)))

    def end_force(self, moment: float) -> float:
        """The two forces at each end, N: one presses on the fretboard (its glue line), one on the channel's floor: `V =
        M/lever`."""
        return abs(moment) / self.lever(moment)

    @property
    def greatest_force(self) -> float:
        """Force at which the thread's core reaches its proof stress, N."""
        return STEEL_PROOF * self.area_core


def bar_and_thread(width: float, height: float) -> tuple[float, float, float]:
    """(thickness of the flat bar, diameter of the threaded bar, pitch of its thread) taken for a rod of two bars, mm.
    width, height: of the rod between its blocks."""
    flat = min(FLAT_BAR, height / 3)
    room = min(width, height - flat)
    fitting = [t for t in COARSE_THREADS if t[0] <= min(room, MOST_THREAD) + 1e-9]
    thread, pitch = max(fitting, default=(room, 0.17 * room))
    return flat, thread, pitch


def two_way_rod(layout: Layout) -> TwoWayRod | None:
    """The layout's rod of two bars; None where it has none.

    What the design file does not state is taken as common practice (no source): a flat bar 3 mm thick and as wide as
    the rod, and over or under it a threaded bar of the largest coarse thread (ISO 261) up to M5 that fits. A one-way
    rod is counted as such a pair, bent one way only.
    """
    stated, place = layout.design.rod, layout.rod
    if stated is None or place is None or stated.kind == "compression":
        return None
    flat, thread, pitch = bar_and_thread(stated.width, stated.height)
    core = stress_area(thread, pitch)
    inertia = stated.width * flat**3 / 12 + core**2 / (4 * math.pi)
    inner = place.segment(Box.SPAN)
    return TwoWayRod(
        length=inner.x_end - inner.x_start,
        spacing=stated.height - flat / 2 - thread / 2,
        area_bar=stated.width * flat,
        area_core=core,
        own_bending=STEEL_MODULUS * inertia,
        thread=pitch,
        block=min(stated.block.length, stated.anchor.length) or stated.height,
        play=max(place.below, 0.0),
        adds=stated.kind == "two-way",
    )
