"""The strength of one neck. Every figure is an estimate with its range, for handbook wood itself varies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.errors import DesignError, Problem
from neckmodel.layout.wood.strips import strips_over
from neckmodel.limits import LOAD_DURATION, SHEAR_FREE
from neckmodel.strength.bending.beam import CREEP_HIGH, CREEP_LIKELY, CREEP_LOW
from neckmodel.strength.bending.bending import bending_of
from neckmodel.strength.bending.calibration import calibrated_rod, corners_of
from neckmodel.strength.bending.weakest import Weakest, Woods, weakest_section
from neckmodel.strength.materials.metals import bar_modulus
from neckmodel.strength.materials.own import woods_of
from neckmodel.strength.materials.woods import OWN, Wood
from neckmodel.strength.rod.compression import compression_rod
from neckmodel.strength.rod.reach import RodEstimate, reach_of
from neckmodel.strength.rod.rod import two_way_rod
from neckmodel.strength.strings.load import HeadSide, Load, head_side, load_of
from neckmodel.strength.strings.pull import Pull, pull_of

if TYPE_CHECKING:
    from neckmodel.layout import Layout

BASIS = f"estimate: Wood Handbook FPL-GTR-282 (2021), moduli x {SHEAR_FREE:.2f}"
COUNTED = "fretboard counted whole and below its fret slots"
COUNTED_WHOLE = "fretboard counted whole, for it has no fret slots"
SIDE_BY_SIDE = (
    "each strip counted with its own wood; that strips of unlike wood on the two sides also bend the neck sideways is "
    "neglected"
)
LASTING = f"x {LOAD_DURATION} for load that lasts ten years (page 5-40)"


@dataclass(frozen=True)
class Range:
    """An estimate: its likely value between its ends."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True)
class Strength:
    """What a neck bears and how it bends: estimates. Forces N, lengths mm, EI in N mm2.

    relief: with strings at pitch, rod slack, when new; relief_years: after years of load. relief_whole, relief_below:
    by the strings' moment on the straight neck alone, with likely moduli and the fretboard counted whole, or only below
    its fret slots. off_line: share that the strings' pull adds as the neck bends away from them. fret: where relief is
    greatest, as a number between frets. bending: EI in the middle between nut and joint. bears_as_column: the pull, N,
    under which the weakest neck of the range gives way after years, clamped at the joint and pulled through the bridge.
    measured: the readings behind the estimate, in words; empty for handbook values alone. counted: how the fretboard
    counts, in words. neck: the neck's wood; of strips, the one on which the rod presses that bears least. woods: of
    each strip, bass side first, one for a neck of one wood.
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
    bears_as_column: float
    measured: str
    counted: str = COUNTED
    woods: tuple[Wood, ...] = ()
    side_by_side: bool = False

    @property
    def basis(self) -> str:
        """What the figures are based on, in words."""
        every = tuple(dict.fromkeys((*(self.woods or (self.neck,)), self.fretboard)))
        spreads = dict.fromkeys(_spread(wood) for wood in every)
        of = [f"{_spread(wood)} of {wood.name}" for wood in every]
        says = f"{BASIS}, {next(iter(spreads)) if len(spreads) == 1 else ' and '.join(of)}; {self.counted}"
        says += f"; {SIDE_BY_SIDE}" if self.side_by_side else ""
        own = dict.fromkeys(wood.name for wood in every if wood.source.startswith(OWN))
        says += f"; own values of {' and '.join(own)}" if own else ""
        says += f"; {self.pull.estimated}" if self.pull.estimated else ""
        return says + (f"; narrowed by {self.measured}" if self.measured else "")

    @property
    def gives_way(self) -> bool:
        """Whether the strings pull harder than the weakest neck of the range bears as a column: it then bows without
        limit."""
        return not math.isfinite(self.relief_years.high)


def _spread(wood: Wood) -> str:
    return "as far as sources differ" if wood.modulus_range else f"one standard deviation of {100 * wood.spread:.0f} %"


def missing(layout: Layout) -> Problem | None:
    """The first key that the design must state, or state otherwise, before an estimate is possible; None where none is
    missing."""
    found = _woods_or_gap(layout)
    return found if isinstance(found, Problem) else None


def _woods_or_gap(layout: Layout) -> tuple[tuple[Wood, ...], Wood] | Problem:
    """The woods of neck and fretboard where an estimate is possible, or what it lacks."""
    design = layout.design
    pull = pull_of(design.strings)
    if pull.missing is not None:
        nor = ", nor its tension, wound or material" if pull.missing.endswith("mass_per_length") else ""
        return Problem(pull.missing, f"is not stated{nor}, so the strings' pull is not known")
    woods = woods_of(design)
    if isinstance(woods, Problem):
        return woods
    if design.bars is not None and bar_modulus(design.bars.material) is None:
        return Problem("bars.material", "is not in the table of materials", f'"{design.bars.material}"')
    return woods


def _bearing(layout: Layout, woods: tuple[Wood, ...]) -> Wood:
    """Of the strips round the rod's parts, the wood that bears least: of a compression rod on its end grain, of others
    across the grain, the strip behind them among it, as far as that is known. Without a rod, or of one wood, the
    first."""
    if layout.rod is None or len(woods) == 1:
        return woods[0]
    behind = [woods[-1]] if layout.back_strip is not None else []
    rod = layout.rod
    washer = 0.0 if rod.washer is None else rod.washer.diameter
    half = max(rod.diameter, washer, *(segment.width for segment in rod.segments)) / 2
    under = [woods[k] for one in layout.rods for k in strips_over(layout.strips, one.y - half, one.y + half)]
    if rod.curve is not None:
        return min(under, key=lambda wood: wood.parallel)
    return min((*under, *behind), key=lambda wood: math.inf if wood.across is None else wood.across)


def estimate(layout: Layout) -> Strength:
    """The estimate for one layout. Raises DesignError, naming the key, where `missing` finds something."""
    woods = _woods_or_gap(layout)
    if isinstance(woods, Problem):
        raise DesignError([woods])
    strips, board = woods
    neck = _bearing(layout, strips)
    pull = pull_of(layout.design.strings)
    load = load_of(layout, pull)
    rod = calibrated_rod(layout, two_way_rod(layout) or compression_rod(layout))
    bending = bending_of(layout, load, rod)
    corners = corners_of(layout, bending, strips, board)
    four = (corners.stiffest, corners.whole, corners.below, corners.weakest)
    stiffest, whole, below, weakest = bent = [bending.under(moduli) for moduli in four]
    aged = [
        bending.under(moduli, creep)
        for moduli, creep in zip(four, (CREEP_LOW, CREEP_LIKELY, CREEP_LIKELY, CREEP_HIGH), strict=True)
    ]
    years = Range(aged[0].bow, (aged[1].bow + aged[2].bow) / 2, aged[3].bow)
    ends = [bending.at_middle(case.stiffness) for case in bent]
    head = head_side(layout, load, pull)
    on_neck = None
    if rod is not None and layout.rod is not None and math.isfinite(years.high):
        on_neck = reach_of(layout, layout.rod, rod, [bending.rod_on(rod, c) for c in bent], years.high, neck)
    rod_set = None if on_neck is None else bending.rod_load(on_neck.rod, below, on_neck.likely.force)
    return Strength(
        neck=neck,
        fretboard=board,
        pull=pull,
        load=load,
        head=head,
        relief=Range(stiffest.bow, (whole.bow + below.bow) / 2, weakest.bow),
        relief_years=years,
        relief_whole=whole.straight,
        relief_below=below.straight,
        fret=-12 * math.log2(1 - whole.x / layout.frets.scale),
        bending=Range(ends[3], (ends[1] + ends[2]) / 2, ends[0]),
        off_line=(whole.off_line + below.off_line) / 2 - 1,
        rod=on_neck,
        weakest=weakest_section(layout, bending, below, corners.below, Woods(strips, board), head, rod_set),
        bears_as_column=bending.column(aged[3].stiffness).bears,
        measured=corners.basis,
        counted=COUNTED if layout.fretboard.slots else COUNTED_WHOLE,
        woods=strips,
        side_by_side=len(layout.strips) > 1,
    )
