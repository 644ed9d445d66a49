"""The place where the stress comes nearest to what the wood bears for years."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from neckmodel.geometry.types import Floats
from neckmodel.limits import LOAD_DURATION
from neckmodel.strength.bending.bending import Bending, Bent, Moduli
from neckmodel.strength.bending.stress import COMPRESSION_EXPONENT, COMPRESSION_RATIO, hankinson, slope_angle, stress
from neckmodel.strength.materials.metals import bar_modulus
from neckmodel.strength.materials.woods import SPREAD_BENDING, SPREAD_COMPRESSION, Wood
from neckmodel.strength.sections.neck import neck_sections
from neckmodel.strength.sections.section import Stiffness
from neckmodel.strength.strings.load import HeadSide, Load

if TYPE_CHECKING:
    from neckmodel.layout import Layout

HEAD_CELLS = 12
Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Weakest:
    """The place with the least to spare. where: in words; x, z mm; stress and what the wood bears there for years, MPa
    (both positive); low: what it bears one standard deviation down. grain: share of its strength that the slope of
    grain leaves."""

    where: str
    x: float
    z: float
    stress: float
    bears: float
    low: float
    grain: float

    @property
    def spare(self) -> float:
        """How many times the stress the wood bears."""
        return self.bears / self.stress if self.stress > 0 else math.inf

    @property
    def spare_low(self) -> float:
        """The same with wood one standard deviation weaker."""
        return self.low / self.stress if self.stress > 0 else math.inf


def bears(wood: Wood, pulled: bool, degrees: float) -> tuple[float, float, float]:
    """(strength held for years at this angle to the grain, the same one standard deviation down, share left by the
    grain), MPa. Pulled: modulus of rupture; pressed: compression along the grain; both x 0.6 x Hankinson's share."""
    if pulled:
        share, strength, spread = hankinson(degrees), wood.rupture, SPREAD_BENDING
    else:
        share = hankinson(degrees, COMPRESSION_EXPONENT, COMPRESSION_RATIO)
        strength, spread = wood.parallel, SPREAD_COMPRESSION
    held = strength * LOAD_DURATION * share
    return held, held * (1 - spread), share


def _worst(where: str, wood: Wood, degrees: float, x: Floats, z: Floats, found: Floats) -> list[Weakest]:
    """The greatest tension and the greatest compression along a line of fibres, where there are such."""
    out = []
    for pulled in (True, False):
        k = int(np.argmax(found if pulled else -found))
        size = float(found[k]) if pulled else -float(found[k])
        if size > 0:
            out.append(Weakest(where, float(x[k]), float(z[k]), size, *bears(wood, pulled, degrees)))
    return out


@dataclass(frozen=True)
class Woods:
    """The woods of the neck, one for each strip, and of its fretboard."""

    neck: tuple[Wood, ...]
    fretboard: Wood


def weakest_section(
    layout: Layout,
    bending: Bending,
    bent: Bent,
    moduli: Moduli,
    woods: Woods,
    head: HeadSide | None,
    rod_set: tuple[Floats, Floats] | None = None,
) -> Weakest:
    """The place with the least to spare of four: the neck's back, its wood under the fretboard, the fretboard's top,
    the head line. Of strips each is looked at, with its own stiffness and strength.

    bent: the neck under its strings with these moduli, its rod slack. rod_set: moment and force along the neck with the
    rod at its likely setting, which is looked at too.
    """
    slope = layout.design.board.grain_slope if layout.design.board is not None else None
    grain = slope_angle(slope or 0.0)
    sections, load = bending.sections, bending.load
    x = sections.x
    keep = x < layout.heel.x_joint

    loads = [(bent.moment, np.full_like(x, load.pull), "")]
    if rod_set is not None:
        loads.append((*rod_set, ", the rod set"))

    def line(where: str, wood: Wood, modulus: float, degrees: float, z: Floats, there: Mask) -> list[Weakest]:
        places: list[Weakest] = []
        if not there.any():  # a strip that lies outside the carved neck all along
            return places
        for moment, force, added in loads:
            found = stress(modulus, moment, z, bent.stiffness, force)
            places += _worst(where + added, wood, degrees, x[there], z[there], found[there])
        return places

    places = []
    for k, (wood, modulus) in enumerate(zip(woods.neck, moduli.neck, strict=True)):
        of, there = _of_strip(layout, k), keep & (sections.wood[k].area > 0)
        places += line(f"the back{of}", wood, modulus, grain, sections.keels[k], there)
        places += line(f"the wood under the fretboard{of}", wood, modulus, grain, np.zeros_like(x), there)
    places += line("the fretboard's top", woods.fretboard, moduli.board, 0.0, sections.crown_below, keep)
    places += _head_line(layout, load, head, woods.neck, grain)
    return min(places, key=lambda p: p.spare)


def _of_strip(layout: Layout, k: int) -> str:
    """Which strip it is, in words; empty for a neck of one wood."""
    if layout.back_strip is not None and k == max(len(layout.strips), 1):
        return ", in the back strip,"
    return f", in strip {layout.strips[k].number} of {layout.strips[k].wood}," if layout.strips else ""


def _head_line(layout: Layout, load: Load, side: HeadSide | None, neck: Sequence[Wood], grain: float) -> list[Weakest]:
    """The section at the head line, which the strings bend between nut and tuners; behind the nut where there is no
    head. The grain of a one-piece inclined head lies at the head's angle. Where the tuners are not known, or a clamp
    holds the strings, they count as running straight on."""
    head = layout.head
    behind, where = (layout.nut.x_start, "the wood behind the nut") if head.is_none else (head.x_line, "the head line")
    sections = neck_sections(layout, behind, 0.0, HEAD_CELLS)
    bars = [bar_modulus(b.material) or 0.0 for b in layout.bars]
    at_line = Stiffness(*(a[:1] for a in _parts(sections.stiffness([w.modulus for w in neck], 0.0, bars))))
    x, angle = float(sections.x[0]), 0.0 if side is None else side.fall
    z_string = load.z_nut if side is None else side.height(load.z_nut, x)
    moment = load.at_nut * (z_string - at_line.neutral) * math.cos(math.radians(angle))
    degrees = grain + (head.angle if head.kind == "angled" else 0.0)
    places = []
    for k, wood in enumerate(neck):
        if sections.wood[k].area[0] > 0:
            for z in (sections.keels[k][:1], np.zeros(1)):
                found = stress(wood.modulus, moment, z, at_line, load.at_nut)
                places += _worst(f"{where}{_of_strip(layout, k)}", wood, degrees, sections.x[:1], z, found)
    return places


def _parts(whole: Stiffness) -> tuple[Floats, Floats, Floats]:
    return whole.axial, whole.neutral, whole.bending
