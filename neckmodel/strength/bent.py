"""A neck bent by its strings, for any choice of moduli."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.strength.along import NeckSections, neck_sections
from neckmodel.strength.beam import amplification, off_chord, relief
from neckmodel.strength.loads import Load
from neckmodel.strength.materials import bar_modulus
from neckmodel.strength.rod import TwoWayRod
from neckmodel.strength.rod_reach import RodOnNeck
from neckmodel.strength.section import Floats, Stiffness

if TYPE_CHECKING:
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class Moduli:
    """A choice of moduli, MPa; whole: the fretboard counts whole, else only below its fret slots."""

    neck: float
    board: float
    whole: bool

    def times(self, factor: float) -> Moduli:
        return Moduli(self.neck * factor, self.board * factor, self.whole)


@dataclass(frozen=True)
class Bent:
    """The neck under its strings with one choice of moduli, its rod slack. moment: (n,) by the strings on the straight
    neck, N mm. relief: mm, at x, by that moment alone. off_line: by what factor it grows as the neck bends away from
    the strings."""

    stiffness: Stiffness
    moment: Floats
    relief: float
    x: float
    off_line: float

    @property
    def bow(self) -> float:
        """Relief as it will be found, mm."""
        return self.relief * self.off_line


@dataclass(frozen=True)
class Bending:
    """All that a neck's bending needs, its moduli apart. lying: (n,) 1.0 where the rod lies between its blocks; loose:
    (n,) EI of the slack rod, N mm2; middle: the section half way from nut to joint."""

    sections: NeckSections
    load: Load
    bars: tuple[float, ...]
    lying: Floats
    loose: Floats
    x_from: float
    x_to: float
    middle: int

    def under(self, moduli: Moduli, creep: float = 1.0) -> Bent:
        """creep: years of load, as softer wood; bars and rod do not creep."""
        neck, board = moduli.neck / creep, moduli.board / creep
        stiff = self.sections.stiffness(neck, board, self.bars, moduli.whole, self.loose)
        moment = self.load.moment(self.sections.x, stiff.neutral)
        found, x = relief(self.sections.edges, moment / stiff.bending, self.x_from, self.x_to)
        return Bent(stiff, moment, found, x, amplification(self.load.pull, self.at_middle(stiff), self.x_to))

    def at_middle(self, stiff: Stiffness) -> float:
        """EI half way from nut to joint, N mm2."""
        return float(stiff.bending[self.middle])

    def rod_on(self, bent: Bent) -> RodOnNeck:
        """What a moment of the rod does to the bent neck, at the place where the strings' relief is greatest."""
        each = self.lying / bent.stiffness.bending
        below = off_chord(self.sections.edges, each, self.x_from, self.x_to)
        return RodOnNeck(
            strings=bent.bow,
            per_moment=float(np.interp(bent.x, self.sections.edges, below)),
            angle_each=float(np.sum(each * np.diff(self.sections.edges))),
        )


def bending_of(layout: Layout, load: Load, rod: TwoWayRod | None) -> Bending:
    """The layout's neck from the nut to the joint, or to the rod's far block where that lies farther."""
    x_joint = layout.heel.x_joint
    span = layout.rod.segment("span") if rod is not None and layout.rod is not None else None
    sections = neck_sections(layout, 0.0, x_joint if span is None else max(x_joint, span.x_end))
    lying = np.zeros_like(sections.x)
    if span is not None:
        lying = ((sections.x > span.x_start) & (sections.x < span.x_end)).astype(float)
    return Bending(
        sections=sections,
        load=load,
        bars=tuple(bar_modulus(bar.material) or 0.0 for bar in layout.bars),
        lying=lying,
        loose=lying * (rod.own_bending if rod is not None else 0.0),
        x_from=layout.frets.x(1),
        x_to=x_joint,
        middle=int(np.searchsorted(sections.x, x_joint / 2)),
    )
