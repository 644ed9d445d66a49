"""A neck bent by its strings, for any choice of moduli."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.strength.along import NeckSections, neck_sections
from neckmodel.strength.beam import CELLS, amplification, off_chord, relief
from neckmodel.strength.compression import faces
from neckmodel.strength.loads import Load
from neckmodel.strength.materials import bar_modulus
from neckmodel.strength.rod import Rod, TwoWayRod
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
    """All that a neck's bending needs, its moduli apart. lying: (n,) 1.0 where the rod lies between what holds it;
    loose: (n,) EI of the slack rod, N mm2; middle: the section half way from nut to joint."""

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

    def rod_on(self, rod: Rod, bent: Bent) -> RodOnNeck:
        """What 1 N in the rod does to the bent neck, at the place where the strings' relief is greatest: relief from
        the double integral of its moment m/EI; its adjuster runs `C + INT (m**2/EI + 1/EA) dx`, the second term where
        it presses the neck together."""
        whole, lengths = bent.stiffness, np.diff(self.sections.edges)
        arm = rod.arm(self.sections.x, whole.neutral)
        below = off_chord(self.sections.edges, self.lying * arm / whole.bending, self.x_from, self.x_to)
        neck = self.lying * (arm**2 / whole.bending + rod.presses / whole.axial)
        return RodOnNeck(
            strings=bent.bow,
            per_force=float(np.interp(bent.x, self.sections.edges, below)),
            give=rod.compliance + float(np.sum(neck * lengths)),
            arm=float(np.interp(bent.x, self.sections.x, arm)),
        )

    def rod_load(self, rod: Rod, bent: Bent, force: float) -> tuple[Floats, Floats]:
        """(moment in the neck in N mm, force along it in N) by strings and rod together, the rod at this force."""
        moment = bent.moment - force * self.lying * rod.arm(self.sections.x, bent.stiffness.neutral)
        return moment, self.load.pull + force * rod.presses * self.lying


def stretch(layout: Layout, rod: Rod) -> tuple[float, float]:
    """From where to where along x the rod bends the neck: between its blocks, or between washer and anchor."""
    if not isinstance(rod, TwoWayRod):
        return faces(layout)
    assert layout.rod is not None  # there is a rod
    span = layout.rod.segment("span")
    return span.x_start, span.x_end


def bending_of(layout: Layout, load: Load, rod: Rod | None, cells: int = CELLS) -> Bending:
    """The layout's neck from the nut to the joint, or to the rod's far end where that lies farther."""
    x_joint = layout.heel.x_joint
    x_start, x_end = (0.0, 0.0) if rod is None else stretch(layout, rod)
    sections = neck_sections(layout, 0.0, max(x_joint, x_end), cells)
    lying = ((sections.x > x_start) & (sections.x < x_end)).astype(float)
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
