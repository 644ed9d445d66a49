"""A neck bent by its strings, for any choice of moduli."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.layout.rod.rod import Box
from neckmodel.strength.bending.beam import off_chord, relief
from neckmodel.strength.bending.column import Column
from neckmodel.strength.materials.metals import bar_modulus
from neckmodel.strength.rod.compression import faces
from neckmodel.strength.rod.reach import RodOnNeck
from neckmodel.strength.rod.rod import Rod, TwoWayRod
from neckmodel.strength.sections.cells import CELLS
from neckmodel.strength.sections.neck import NeckSections, neck_sections
from neckmodel.strength.sections.section import Stiffness
from neckmodel.strength.strings.load import Load

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.rod.rod import RodPlace


@dataclass(frozen=True)
class Moduli:
    """A choice of moduli, MPa. neck: of each strip, bass side first, one for a neck of one wood. whole: the fretboard
    counts whole, else only below its fret slots."""

    neck: tuple[float, ...]
    board: float
    whole: bool

    def times(self, factor: float) -> Moduli:
        """These moduli multiplied by a factor."""
        return Moduli(tuple(strip * factor for strip in self.neck), self.board * factor, self.whole)


@dataclass(frozen=True)
class Bent:
    """The neck under its strings for one choice of moduli, its rod slack. moment: (n,) by the strings on the bent neck,
    N mm (on the straight neck where it gives way).

    straight: relief by the strings' moment on the straight neck alone, mm. bow: relief as it will be found, mm, with
    what the strings add as the neck bends away from their line; inf where the neck gives way. x: where the relief is
    greatest, mm.
    """

    stiffness: Stiffness
    moment: Floats
    straight: float
    bow: float
    x: float

    @property
    def off_line(self) -> float:
        """The factor by which the strings' pull enlarges the bow as the neck bends away from their line."""
        return self.bow / self.straight


@dataclass(frozen=True)
class Bending:
    """Everything a neck's bending depends on, except its moduli. along_rod: (n,) 1.0 where the rod lies between the
    parts that hold it; loose: (n,) EI of the slack rods, N mm2; middle: the section half way from nut to joint. rods:
    one, or two that are turned alike."""

    sections: NeckSections
    load: Load
    bars: tuple[float, ...]
    along_rod: Floats
    loose: Floats
    x_from: float
    x_to: float
    middle: int
    rods: int = 1

    def under(self, moduli: Moduli, creep: float = 1.0) -> Bent:
        """The neck under its strings with these moduli. creep: years of load, taken as softer wood; bars and rod do not
        creep."""
        neck, board = [strip / creep for strip in moduli.neck], moduli.board / creep
        stiff = self.sections.stiffness(neck, board, self.bars, moduli.whole, self.loose)
        moment = self.load.moment(self.sections.x, stiff.neutral)
        straight, x = relief(self.sections.edges, moment / stiff.bending, self.x_from, self.x_to)
        curvature = self.curvature(stiff, moment)
        if curvature is None:
            return Bent(stiff, moment, straight, math.inf, x)
        bow, x = relief(self.sections.edges, curvature, self.x_from, self.x_to)
        return Bent(stiff, curvature * stiff.bending, straight, bow, x)

    def column(self, stiff: Stiffness) -> Column:
        """The neck from nut to joint as a column under its strings' pull."""
        edges = self.sections.edges[self.sections.edges <= self.x_to + 1e-6]
        return Column(edges, stiff.bending[: len(edges) - 1], self.load.pull, self.load.scale)

    def curvature(self, stiff: Stiffness, moment: Floats) -> Floats | None:
        """(n,) 1/mm under a moment (n,), N mm, with the strings at pitch. Up to the joint it includes what the strings'
        pull adds on the bent neck. None where the neck gives way."""
        column = self.column(stiff)
        free = len(column.bending)
        curvature = column.curvature(moment[:free])
        return None if curvature is None else np.concatenate([curvature, (moment / stiff.bending)[free:]])

    def at_middle(self, stiff: Stiffness) -> float:
        """EI half way from nut to joint, N mm2."""
        return float(stiff.bending[self.middle])

    def _by_rod(self, rod: Rod, bent: Bent) -> tuple[Floats, Floats]:
        """(n,) one rod's arm, mm (0 outside the rod), and the curvature that 1 N in each rod takes out, 1/mm.
        Raises ValueError where the neck gives way."""
        arm = self.along_rod * rod.arm(self.sections.x, bent.stiffness.neutral)
        curvature = self.curvature(bent.stiffness, self.rods * arm)
        if curvature is None:
            raise ValueError("a neck that gives way has no curvature for a rod to take out")
        return arm, curvature

    def rod_on(self, rod: Rod, bent: Bent) -> RodOnNeck:
        """The effect of 1 N in the rod, or in each of two, on the bent neck, where the strings' relief is greatest:
        relief from the double integral of the curvature k by their moment m; an adjuster runs
        `C + INT (m k + 1/EA) dx`, m of one rod, the second term where the rod presses the neck together."""
        arm, curvature = self._by_rod(rod, bent)
        below = off_chord(self.sections.edges, curvature, self.x_from, self.x_to)
        neck = arm * curvature + self.along_rod * self.rods * rod.presses / bent.stiffness.axial
        return RodOnNeck(
            strings=bent.bow,
            per_force=float(np.interp(bent.x, self.sections.edges, below)),
            give=rod.compliance + float(np.sum(neck * np.diff(self.sections.edges))),
            arm=self.rods * float(np.interp(bent.x, self.sections.x, rod.arm(self.sections.x, bent.stiffness.neutral))),
        )

    def rod_load(self, rod: Rod, bent: Bent, force: float) -> tuple[Floats, Floats]:
        """(moment in the neck in N mm, force along it in N) by strings and rod together, the rod at this force; of two
        each."""
        _, curvature = self._by_rod(rod, bent)
        moment = bent.moment - force * curvature * bent.stiffness.bending
        return moment, self.load.pull + self.rods * force * rod.presses * self.along_rod


def stretch(place: RodPlace, rod: Rod) -> tuple[float, float]:
    """(x from, x to) over which the rod bends the neck, mm: between its blocks, or between washer and anchor."""
    if not isinstance(rod, TwoWayRod):
        return faces(place)
    span = place.segment(Box.SPAN)
    return span.x_start, span.x_end


def bending_of(layout: Layout, load: Load, rod: Rod | None, cells: int = CELLS) -> Bending:
    """The layout's neck from the nut to the joint, or to the rod's far end where that lies farther."""
    x_joint = layout.heel.x_joint
    x_start, x_end = (0.0, 0.0) if rod is None or layout.rod is None else stretch(layout.rod, rod)
    sections = neck_sections(layout, 0.0, max(x_joint, x_end), cells)
    along_rod = ((sections.x > x_start) & (sections.x < x_end)).astype(float)
    return Bending(
        sections=sections,
        load=load,
        bars=tuple(bar_modulus(bar.material) or 0.0 for bar in layout.bars),
        along_rod=along_rod,
        loose=along_rod * (len(layout.rods) * rod.own_bending if rod is not None else 0.0),
        x_from=layout.frets.x(1),
        x_to=x_joint,
        middle=int(np.searchsorted(sections.x, x_joint / 2)),
        rods=max(len(layout.rods), 1),
    )
