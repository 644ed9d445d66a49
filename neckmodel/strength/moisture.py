"""What moisture does to a neck: the wood's moisture, the change of its width, the bow of parts that move differently.
Lengths mm, C, percent."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.layout.wood.strips import widths_within
from neckmodel.strength.bending.beam import relief
from neckmodel.strength.materials.metals import bar_modulus
from neckmodel.strength.sections.neck import neck_sections

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.design.tables.seasons import Season
    from neckmodel.layout import Layout
    from neckmodel.strength.materials.woods import Wood
    from neckmodel.strength.sections.neck import NeckSections
    from neckmodel.strength.sections.section import Moments

# Longitudinal shrinkage of normal wood, green to ovendry, is 0.1 to 0.2 %; over 30 % of moisture (Wood Handbook, ch. 4)
ALONG_LOW, ALONG_HIGH = 0.001 / 30, 0.002 / 30


def equilibrium(humidity: float, celsius: float) -> float:
    """Moisture that wood comes to in air of this relative humidity (0 to 1), percent of its dry mass.

    `1800/W (K h/(1 - K h) + (K1 K h + 2 K1 K2 K**2 h**2)/(1 + K1 K h + K1 K2 K**2 h**2))`, the constants following the
    temperature: Wood Handbook, FPL-GTR-282 (2021), equation 4-5 (Hailwood and Horrobin), behind its table 4-2.
    """
    t = celsius
    molar = 349 + 1.29 * t + 0.0135 * t**2
    dissolved = (0.805 + 0.000736 * t - 0.00000273 * t**2) * humidity  # K h
    first = 6.27 - 0.00938 * t - 0.000303 * t**2
    second = 1.91 + 0.0407 * t - 0.000293 * t**2
    one, two = first * dissolved, first * second * dissolved**2
    return 1800 / molar * (dissolved / (1 - dissolved) + (one + 2 * two) / (1 + one + two))


def width_change(width: float, coefficient: float, change: float) -> float:
    """`dW = W C dMC`, mm. coefficient: for each percent; change: of moisture, percent."""
    return width * coefficient * change


def seasonal_bow(
    sections: NeckSections,
    moduli: tuple[Sequence[float], float],
    bars: Sequence[float],
    change: float,
    chord: tuple[float, float],
    alike: Sequence[int] = (),
    one_piece: bool = False,
) -> float:
    """The most that movement along the grain may bow the neck, off the chord between two edges of its sections, mm.

    moduli: of each strip of the neck, and of the fretboard; bars: of the glued bars, MPa; change: of moisture, percent;
    chord: (from x, to x), as relief is measured. A part that grows by e along itself turns the glued section by
    `E e A (z - z_n)/EI`, z its centroid (transformed section, Timoshenko's two layers in general), and the turns add
    up. Either wood may grow by the least or the most of normal wood, bars do not grow; the fretboard counts whole or
    only below its slots: the largest result counts. alike: a number for each strip, the same for those that grow alike
    (all do unless stated); that unlike sides also bend the neck sideways is neglected. one_piece: the fretboard grows
    as the first strip does. A slack rod is left out: once it bears on its channel it would take off 2 %.
    """
    most = 0.0
    for board, whole in ((sections.board_whole, True), (sections.board_below, False)):
        both = sections.stiffness(*moduli, bars, whole)
        groups: dict[int, list[tuple[float, Moments]]] = {}
        for group, strip in zip(alike or [0] * len(moduli[0]), zip(moduli[0], sections.wood, strict=True), strict=True):
            groups.setdefault(group, []).append(strip)
        last: list[list[tuple[float, Moments]]] = [[(moduli[1], board)]]
        if one_piece:  # the fretboard grows as the neck does
            groups[min(groups)].append((moduli[1], board))
            last = []
        turns = [
            np.sum([m * change * (p.first - p.area * both.neutral) / both.bending for m, p in parts], axis=0)
            for parts in (*groups.values(), *last)
        ]
        for growths in itertools.product((ALONG_LOW, ALONG_HIGH), repeat=len(turns)):
            bent = np.sum([grows * by for grows, by in zip(growths, turns, strict=True)], axis=0)
            most = max(most, abs(relief(sections.edges, bent, *chord)[0]))
    return most


@dataclass(frozen=True)
class MoistureEstimate:
    """The change between a dry and a damp season. dry, damp: their air; moisture: (dry, damp), percent; neck: change of
    the neck's width at the joint, mm; fretboard_quarter, fretboard_flat: of the fretboard's width at its end,
    quarter-sawn and flat-sawn, mm (None: the wood's movement is not known). bow: the most by which the woods' different
    movement along the grain may bow the neck between fret 1 and the joint, mm, either way; measured as relief is, so
    the two add up (None: a bar's modulus is not known). board: change of the width of a board of strips, mm (None: of
    one piece, or a strip's movement is not known)."""

    dry: Season
    damp: Season
    moisture: tuple[float, float]
    neck: float | None
    fretboard_quarter: float | None
    fretboard_flat: float | None
    bow: float | None
    board: float | None = None


def moistures(design: Design) -> tuple[float, float]:
    """(dry, damp) moisture, percent, that wood comes to in the design's seasons."""
    dry, damp = (equilibrium(air.humidity / 100, air.temperature) for air in (design.seasons.dry, design.seasons.damp))
    return dry, damp


MOST_APART = 6  # woods of strips taken to grow apart from each other; with more of them all grow alike


def widths_change(widths: Sequence[float], woods: Sequence[Wood], rings: str, change: float) -> float | None:
    """`sum W C dMC` of strips side by side, mm; None where the movement of one that is there is not known."""
    moved = 0.0
    for width, wood in zip(widths, woods, strict=True):
        share = wood.change(rings)
        if share is None and width > 0:
            return None
        moved += width_change(width, share or 0.0, change)
    return moved


def moisture_estimate(layout: Layout, neck: Sequence[Wood], board: Wood) -> MoistureEstimate:
    """The estimate for the layout, with the fretboard sawn either way. neck: the wood of each strip."""
    dry, damp = moistures(layout.design)
    change = damp - dry
    sides = neck[: max(len(layout.strips), 1)]  # a strip behind the rod moves within the neck's width
    rings = layout.design.board.rings if layout.design.board is not None else "quarter"
    x_joint, x_end = layout.heel.x_joint, layout.fretboard.x_end
    half, broad = layout.back.half_width(x_joint), 2 * layout.fretboard.half_width(x_end)

    def moved(size: float, share: float | None) -> float | None:
        return None if share is None else width_change(size, share, change)

    chord = (layout.frets.x(1), x_joint)
    bars = [bar_modulus(bar.material) for bar in layout.bars]
    known = [modulus for modulus in bars if modulus is not None]
    bow = None
    if len(known) == len(bars):
        moduli = [wood.modulus for wood in neck], board.modulus
        names = list(dict.fromkeys(wood.name for wood in neck))
        alike = [names.index(wood.name) if len(names) <= MOST_APART else 0 for wood in neck]
        bow = seasonal_bow(neck_sections(layout, *chord), moduli, known, change, chord, alike, layout.in_one)
    return MoistureEstimate(
        dry=layout.design.seasons.dry,
        damp=layout.design.seasons.damp,
        moisture=(dry, damp),
        neck=widths_change(widths_within(layout.strips, -half, half), sides, rings, change),
        fretboard_quarter=moved(broad, board.change("quarter")),
        fretboard_flat=moved(broad, board.change("flat")),
        bow=bow,
        board=widths_change([s.width for s in layout.strips], sides, rings, change) if layout.strips else None,
    )
