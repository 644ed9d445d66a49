"""How many necks would pass, and which of the workshop's tolerances matters most. By sections, lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.layout.channel.walls import limit_of
from neckmodel.layout.workshop.tolerance import contributions, settled
from neckmodel.variants.tolerance.errors import NECKS, SEED, Errors, draw, places_of, share_of
from neckmodel.variants.tolerance.linear import linear_checks
from neckmodel.variants.tolerance.slots import slot_checks

if TYPE_CHECKING:
    from neckmodel.design import Tolerances
    from neckmodel.layout import Layout
    from neckmodel.variants.tolerance.errors import Flags

NAMES = ("depth", "sideways", "glue_plane", "carve", "tilt", "stock", "measuring")


@dataclass(frozen=True)
class Sure:
    """One check over many necks. value: as designed; worst: with every tolerance at its worst; low: the value below
    which 1 neck in 100 falls. share: of necks that pass, 0 to 1; error: its standard error. takes: what each tolerance
    takes from the value at its worst, by name."""

    check: str
    value: float
    limit: float
    worst: float
    low: float
    share: float
    error: float
    takes: dict[str, float]

    @property
    def largest(self) -> str:
        """The tolerance that takes most."""
        return max(self.takes, key=lambda name: self.takes[name])


@dataclass(frozen=True)
class ToleranceReport:
    """Every check that the tolerances affect, the least sure first. every: the share of necks that pass all of them.

    gains: by how much that share grows if one tolerance is halved, by name, the most useful first.
    """

    checks: tuple[Sure, ...]
    every: float
    error: float
    necks: int
    seed: int
    gains: tuple[tuple[str, float], ...]


def vary_tolerance(layout: Layout, necks: int = NECKS, seed: int = SEED) -> ToleranceReport:
    """The report for this many necks, their errors drawn from the workshop's tolerances. The same seed gives the same
    numbers.

    It covers walls by section and every check that is a sum of errors. Checks that need solids (holes beside the
    channel, access) are left to `check`.
    """
    tolerances = layout.design.workshop.tolerances
    checks, every = _drawn(layout, tolerances, necks, seed)
    gains = []
    for name in NAMES:
        halved = getattr(tolerances, name) / 2
        if halved > 0:  # the same necks again, so that the difference is not one of chance
            better = _drawn(layout, tolerances.model_copy(update={name: halved}), necks, seed)[1]
            gains.append((name, better - every))
    ordered = tuple(sorted(checks, key=lambda sure: (sure.share, sure.worst - sure.limit)))
    error = math.sqrt(every * (1 - every) / necks)
    return ToleranceReport(ordered, every, error, necks, seed, tuple(sorted(gains, key=lambda gain: -gain[1])))


def _drawn(layout: Layout, tolerances: Tolerances, necks: int, seed: int) -> tuple[list[Sure], float]:
    """(each check, the share of necks that pass all)."""
    generator = np.random.Generator(np.random.PCG64(seed))
    every: Flags = np.ones(necks, dtype=bool)
    found: list[Sure] = []
    errors: dict[str, Errors] = {}
    last: Errors | None = None  # holds each neck's own errors, which all its steps share
    for step in layout.steps:
        if step.x_end <= 0:
            continue
        errors[step.name] = last = draw(tolerances, necks, generator, last)
        places = places_of(layout, step)
        limit, done = limit_of(layout.design.limits, step.name), settled(layout, step.name)
        share, kept = share_of(step.name, places, limit, tolerances, last, done)
        k = int(places.walls.argmin())
        across, down = places.normals[k].tolist()
        takes = contributions(tolerances, across, down, float(places.depths[k]), done)
        found.append(
            Sure(
                check=f"wall/{step.name}",
                value=share.wall,
                limit=share.limit,
                worst=share.worst,
                low=share.low,
                share=share.share,
                error=share.error,
                takes=takes,
            )
        )
        every &= kept
    by_layout = (
        *linear_checks(layout, tolerances, errors, necks, generator),
        *slot_checks(layout, tolerances, necks, generator),
    )
    for one in by_layout:
        kept = one.drawn >= one.limit
        share_kept = float(kept.mean())
        worst, low = one.value - math.fsum(one.takes.values()), float(np.quantile(one.drawn, 0.01))
        error = math.sqrt(share_kept * (1 - share_kept) / necks)
        found.append(
            Sure(
                check=one.check,
                value=one.value,
                limit=one.limit,
                worst=worst,
                low=low,
                share=share_kept,
                error=error,
                takes=one.takes,
            )
        )
        every &= kept
    return found, float(every.mean())
