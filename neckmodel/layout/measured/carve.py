"""The least thickness to which the neck may still be carved, once something was measured. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.design import changed
from neckmodel.design.reading.measured import is_measured
from neckmodel.errors import DesignError
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.types import Floats
from neckmodel.layout.channel.steps import step_words
from neckmodel.layout.channel.walls import limit_of, opening, stations
from neckmodel.layout.lay_out import lay_out
from neckmodel.layout.measured.next import Cut, most_depth, needed_cuts, with_cuts
from neckmodel.layout.measured.operations import not_yet
from neckmodel.layout.measured.uncut import undone
from neckmodel.layout.neck.outside import LEAST_STEP
from neckmodel.layout.neck.section import section_walls
from neckmodel.layout.refusals.head import LEAST_DEPTH, MOST_THICKNESS, least_thickness, runs_out
from neckmodel.layout.refusals.measured import MOST_OFF_PLAN
from neckmodel.layout.refusals.step import holds_head
from neckmodel.lengths import no_less, rounded_down, rounded_up

if TYPE_CHECKING:
    from collections.abc import Callable

    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.layout import Layout
    from neckmodel.layout.neck.back import Back

FRET_1, FRET_12 = "neck.thickness.fret_1", "neck.thickness.fret_12"
HEEL = "heel.depth"
HEAD_STEP = "head/step"  # the check of the wood under a stepped head's face, which bounds the carve too
COARSE, FINE = 1.0, 0.25  # mm: steps of the search for the carve that leaves most wood over
BESIDE = 1.0  # mm along the neck, over which the growth of a wall is taken


@dataclass(frozen=True)
class Carve:
    """The least thickness to carve to, fretboard included, mm; None at a fret where the neck is carved already.

    step: the step whose wall then just meets its limit, or HEAD_STEP. ends: least sizes of head and heel for such a
    neck (key, mm), where the present ones are less. first: cuts to make before carving. only_if: work that must not be
    done yet, in words. no_thicker: the most at the fret not carved yet; with more there, the line through both frets
    would thin the neck beyond the carved one.
    """

    fret_1: float | None
    fret_12: float | None
    step: str
    ends: tuple[tuple[str, float], ...] = ()
    first: tuple[Cut, ...] = ()
    only_if: str = ""
    no_thicker: float | None = None

    @property
    def settings(self) -> dict[str, float]:
        """The sizes that will be measured once the work is done as told."""
        told = {FRET_1: self.fret_1, FRET_12: self.fret_12} | dict(self.ends)
        return {f"measured.{key}": value for key, value in told.items() if value is not None}

    @property
    def needed_by(self) -> str:
        """The step or head step that needs this thickness, in words."""
        return "head's step" if self.step == HEAD_STEP else step_words(self.step)

    @property
    def says(self) -> str:
        """The whole instruction in words."""
        said = f"carve no thinner than {self._thickness}"
        ends = " and ".join(f"{key} no less than {no_less(least)}" for key, least in self.ends)
        said = f"{said} with {ends}" if ends else said
        said = said if self.no_thicker is None else f"{said}, and no thicker than {self.no_thicker:.2f} mm there"
        return f"if {self.only_if}, {said}" if self.only_if else said

    @property
    def _thickness(self) -> str:
        frets = ((self.fret_1, "fret 1"), (self.fret_12, "fret 12"))
        return " and ".join(f"{t:.2f} mm at {fret}" for t, fret in frets if t is not None)

    def beside(self, whole: Carve) -> str:
        """This carve, asked for one step alone, beside the carve of the whole neck: the words for both."""
        if (self.fret_1, self.fret_12) == (whole.fret_1, whole.fret_12):
            return whole.says
        return f"{whole.says}, which the {whole.needed_by} needs; the {self.needed_by} alone needs {self._thickness}"


def least_carve(layout: Layout, only: str | None = None) -> Carve | None:
    """How thin the neck may still be carved: every wall round the channel (or round the step `only`) meets its limit, a
    stepped head is held, and fret 12 stays thicker than fret 1 by what is planned.

    None where the neck is carved, where no thickness near the plan will do, or where head or heel are cut too shallow.
    """
    free = [key for key in (FRET_1, FRET_12) if not is_measured(layout.design, key)]
    if not free:
        return None
    first = needed_cuts(layout)
    try:
        after = with_cuts(layout, first)
    except DesignError:
        return None
    back, bounds = after.back, _bounds(after, only)

    def carved(by: float) -> Back:
        return replace(
            back, t_1=back.t_1 + (by if FRET_1 in free else 0.0), t_12=back.t_12 + (by if FRET_12 in free else 0.0)
        )

    def enough(by: float) -> bool:
        return bounds.spare(carved(by))[0] >= 0

    # with one fret carved, more thickness at the other means less beyond the carved one
    best = MOST_OFF_PLAN if len(free) > 1 else _most_to_spare(lambda by: bounds.spare(carved(by))[0])
    by = nearest_enough(enough, -MOST_OFF_PLAN, best)
    if by is None:
        return None
    found = carved(by)
    _, step = bounds.spare(found)
    ends = [rounded_up(t) if key in free else None for key, t in ((FRET_1, found.t_1), (FRET_12, found.t_12))]
    told = replace(
        found, t_1=found.t_1 if ends[0] is None else ends[0], t_12=found.t_12 if ends[1] is None else ends[1]
    )
    deeper = _deeper_ends(after, told)
    if any(is_measured(layout.design, key) for key, _ in deeper):
        return None
    most = None
    if len(free) == 1 and not enough(layout.design.allowance.back):  # more is sawn off already
        back_from = nearest_enough(lambda t: enough(-t), -MOST_OFF_PLAN, -best)
        most = None if back_from is None else rounded_down((back.t_1 if FRET_1 in free else back.t_12) - back_from)
    return _with_conditions(after, Carve(ends[0], ends[1], step, deeper, first, no_thicker=most))


def _most_to_spare(spare: Callable[[float], float]) -> float:
    """The change of thickness, within MOST_OFF_PLAN, that leaves most wood over. Along it each wall only grows or only
    shrinks, so their least rises once and falls once."""
    coarse = max(_from_to(-MOST_OFF_PLAN, MOST_OFF_PLAN, COARSE), key=spare)
    if math.isinf(spare(coarse)):  # if any thickness gives a shaft, it lies between two coarse steps
        return max(_from_to(-MOST_OFF_PLAN, MOST_OFF_PLAN, FINE), key=spare)
    return max(_from_to(max(coarse - COARSE, -MOST_OFF_PLAN), min(coarse + COARSE, MOST_OFF_PLAN), FINE), key=spare)


def _from_to(low: float, high: float, step: float) -> list[float]:
    return [low + k * step for k in range(round((high - low) / step) + 1)]


def _with_conditions(layout: Layout, carve: Carve) -> Carve | None:
    """The carve with the work that must not be done yet for it; None where work that is done rules it out."""
    settings = {key.removeprefix("measured."): f"{value} mm" for key, value in carve.settings.items()}
    try:
        against, likely = undone(layout, lay_out(changed(layout.design, settings)))
    except DesignError:
        return None
    return None if against else replace(carve, only_if=not_yet(layout, likely))


def _deeper_ends(layout: Layout, back: Back) -> tuple[tuple[str, float], ...]:
    """How deep the heel and how thick the head must be for this back to run out into them (key, mm), where they are
    less."""
    outside, found = replace(layout.outside, back=back), []
    heel = outside.heel
    need = max(back.depth(heel.x_joint), back.depth(heel.x_swell)) + LEAST_STEP
    if need > heel.depth:
        found.append((HEEL, rounded_up(need)))
        outside = replace(outside, heel=replace(heel, depth=need))
    if not runs_out(replace(outside, head=replace(outside.head, volute=None))):
        least = least_thickness(replace(outside, head=replace(outside.head, volute=None)))
        found += [(layout.design.head.wood[0], least)] if least < MOST_THICKNESS else []
    return tuple(found)


@dataclass(frozen=True)
class _Bounds:
    """The least wood, mm, that a carved back must leave in the section at each of these places of these steps."""

    layout: Layout
    places: tuple[tuple[Step, float], ...]
    least: Floats
    head: bool

    def spare(self, back: Back) -> tuple[float, str]:
        """(how much wood is left over the limits, mm; which step has least of it). -inf where such a back is no shaft
        at all."""
        ends = (self.layout.head.x_swell, self.layout.heel.x_joint)
        if min(back.depth(x) for x in ends) < LEAST_DEPTH:
            return -math.inf, self.places[0][0].name if self.places else HEAD_STEP
        if self.head and not holds_head(replace(self.layout.outside, back=back)):
            return -math.inf, HEAD_STEP
        if not self.places:
            return math.inf, HEAD_STEP
        left = _walls(back, self.places) - self.least
        return float(left.min()), self.places[int(left.argmin())][0].name


def _bounds(layout: Layout, only: str | None) -> _Bounds:
    steps = [step for step in layout.steps if step.x_end > 0 and only in (None, step.name)]
    along = [(step, x) for step in steps for x in stations(step, layout.heel, layout.back.is_blended)]
    places = tuple((step, x) for step, x in along if x <= layout.heel.x_joint)
    least = np.array([limit_of(layout.design.limits, step.name) for step, _ in places])
    if places:  # the skin is not square to the section: where it rises by r for each mm, it is nearer by sqrt(1 + r r)
        rise = (_walls(layout.back, places, BESIDE) - _walls(layout.back, places)) / BESIDE
        least = least * np.hypot(1.0, rise)
    return _Bounds(layout, places, least, only is None and layout.head.drop > 0)


def _walls(back: Back, places: tuple[tuple[Step, float], ...], beside: float = 0.0) -> Floats:
    """(n,) float, mm: the wall at each place in its own section, or in the section `beside` mm farther along."""
    return section_walls([back.section(x + beside) for _, x in places], [opening(*at) for at in places])


@dataclass(frozen=True)
class NextCuts:
    """All instructions for the next work, in order: cuts, steps not to be cut deeper than (step, mm), the carve."""

    cuts: tuple[Cut, ...]
    no_deeper: tuple[tuple[str, float], ...]
    carve: Carve | None


def next_cuts(layout: Layout) -> NextCuts:
    """The instructions for the next work on a neck of which something was measured."""
    depths = ((step.name, most_depth(layout, step)) for step in layout.steps)
    no_deeper = tuple((name, depth) for name, depth in depths if depth is not None)
    return NextCuts(needed_cuts(layout), no_deeper, least_carve(layout))
