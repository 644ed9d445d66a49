"""The strength of one neck: every figure an estimate with its range, for handbook wood itself varies by 22 %."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.errors import DesignError, Problem
from neckmodel.strength.along import NeckSections, neck_sections
from neckmodel.strength.beam import CREEP_HIGH, CREEP_LOW, amplification, off_chord, relief
from neckmodel.strength.loads import HeadSide, Load, head_side, load_of
from neckmodel.strength.materials import bar_modulus
from neckmodel.strength.moisture import MoistureEstimate, moisture_estimate
from neckmodel.strength.rod import two_way_rod
from neckmodel.strength.rod_reach import RodEstimate, RodOnNeck, reach_of
from neckmodel.strength.section import Floats, Stiffness
from neckmodel.strength.strings import Pull, pull_of
from neckmodel.strength.weakest import Weakest, weakest_section
from neckmodel.strength.woods import Wood, find_wood, unknown_wood

if TYPE_CHECKING:
    from neckmodel.layout import Layout

BASIS = (
    "estimate: Wood Handbook FPL-GTR-282 (2021), moduli x 1.10, one standard deviation of 22 %; fretboard counted "
    "whole and below its fret slots"
)


@dataclass(frozen=True)
class Range:
    """An estimate: its likely value between its ends."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True)
class Case:
    """The neck under its strings with one choice of moduli, its rod slack. moment: (n,) by the strings, N mm. relief:
    mm, at x; the strings' pull counts where it lies on the straight neck. off_line: by what factor it grows as the neck
    bends away from the strings."""

    stiffness: Stiffness
    moment: Floats
    relief: float
    x: float
    off_line: float


@dataclass(frozen=True)
class Strength:
    """What a neck bears and how it bends: estimates. Forces N, lengths mm, EI in N mm2.

    relief: with strings at pitch, rod slack, when new; relief_years: after years of load. relief_whole, relief_below:
    with handbook moduli and the fretboard counted whole, or only below its fret slots. fret: where relief is greatest,
    as a number between frets. bending: EI in the middle between nut and joint. off_line: share by which the strings'
    pull, moving off-line as the neck bends, adds to the likely relief; it counts in the high ends only.
    """

    neck: Wood
    fretboard: Wood
    pull: Pull
    load: Load
    head: HeadSide | None
    relief: Range
    relief_years: Range
    relief_whole: float
    relief_below: float
    fret: float
    bending: Range
    off_line: float
    rod: RodEstimate | None
    weakest: Weakest
    moisture: MoistureEstimate


def missing(layout: Layout) -> Problem | None:
    """What the design would have to state for an estimate: the first key that is missing or not known."""
    design = layout.design
    pull = pull_of(design.strings)
    if pull.missing is not None:
        return Problem(pull.missing, "is not stated, so the strings' pull is not known")
    for key, name in (("neck.wood", design.neck.wood), ("fretboard.wood", design.fretboard.wood)):
        if find_wood(name) is None:
            return unknown_wood(key, name)
    if design.bars is not None and bar_modulus(design.bars.material) is None:
        return Problem("bars.material", "is not in the table of materials", f'"{design.bars.material}"')
    return None


def estimate(layout: Layout) -> Strength:
    """The estimate for one layout. Raises DesignError, naming the key, where `missing` finds something."""
    problem = missing(layout)
    if problem is not None:
        raise DesignError([problem])
    design, x_joint = layout.design, layout.heel.x_joint
    neck, board = find_wood(design.neck.wood), find_wood(design.fretboard.wood)
    assert neck is not None  # `missing` looked
    assert board is not None
    pull = pull_of(design.strings)
    load = load_of(layout, pull)
    rod = two_way_rod(layout)
    span = layout.rod.segment("span") if rod is not None and layout.rod is not None else None
    sections = neck_sections(layout, 0.0, x_joint if span is None else max(x_joint, span.x_end))
    bars = [bar_modulus(b.material) or 0.0 for b in layout.bars]
    lying = np.zeros_like(sections.x) if span is None else _inside(sections, span.x_start, span.x_end)
    loose = lying * (rod.own_bending if rod is not None else 0.0)

    middle = int(np.searchsorted(sections.x, x_joint / 2))

    def case(neck_modulus: float, board_modulus: float, whole: bool, creep: float = 1.0) -> Case:
        """creep: years of load, as a softer wood; bars and rod do not creep."""
        stiff = sections.stiffness(neck_modulus / creep, board_modulus / creep, bars, whole, loose)
        moment = load.moment(sections.x, stiff.neutral)
        found, x = relief(sections.edges, moment / stiff.bending, layout.frets.x(1), x_joint)
        return Case(stiff, moment, found, x, amplification(load.pull, float(stiff.bending[middle]), x_joint))

    def likely(creep: float = 1.0) -> tuple[Case, Case]:
        return case(neck.modulus, board.modulus, True, creep), case(neck.modulus, board.modulus, False, creep)

    def stiffest(creep: float = 1.0) -> Case:
        return case(neck.modulus_high, board.modulus_high, True, creep)

    def weakest(creep: float = 1.0) -> Case:
        return case(neck.modulus_low, board.modulus_low, False, creep)

    whole, below = likely()
    least, most, aged = stiffest(), weakest(), weakest(CREEP_HIGH)
    old_whole, old_below = likely((CREEP_LOW + CREEP_HIGH) / 2)
    new = Range(least.relief, (whole.relief + below.relief) / 2, most.relief * most.off_line)
    years = Range(stiffest(CREEP_LOW).relief, (old_whole.relief + old_below.relief) / 2, aged.relief * aged.off_line)
    ends = [float(c.stiffness.bending[middle]) for c in (most, whole, below, least)]
    reach = None
    if rod is not None:
        on_neck = [_rod_on(layout, sections, lying, c) for c in (least, whole, below, most)]
        reach = reach_of(layout, rod, on_neck, years.high, neck)
    head = head_side(layout, load)
    return Strength(
        neck=neck,
        fretboard=board,
        pull=pull,
        load=load,
        head=head,
        relief=new,
        relief_years=years,
        relief_whole=whole.relief,
        relief_below=below.relief,
        fret=-12 * math.log2(1 - whole.x / layout.frets.scale),
        bending=Range(ends[0], (ends[1] + ends[2]) / 2, ends[3]),
        off_line=(whole.off_line + below.off_line) / 2 - 1,
        rod=reach,
        weakest=weakest_section(layout, sections, below.stiffness, below.moment, load, head, neck, board),
        moisture=moisture_estimate(layout, sections, neck, board, middle),
    )


def _inside(sections: NeckSections, x_from: float, x_to: float) -> Floats:
    """1.0 for the cells between the two places, 0.0 for the rest."""
    return ((sections.x > x_from) & (sections.x < x_to)).astype(float)


def _rod_on(layout: Layout, sections: NeckSections, lying: Floats, case: Case) -> RodOnNeck:
    """What a moment of the rod does to this case's neck, at the place where the strings' relief is greatest."""
    each = lying / case.stiffness.bending
    below = off_chord(sections.edges, each, layout.frets.x(1), layout.heel.x_joint)
    return RodOnNeck(
        strings=case.relief,
        per_moment=float(np.interp(case.x, sections.edges, below)),
        angle_each=float(np.sum(each * np.diff(sections.edges))),
    )
