"""Refusals caused by measured sizes: what was measured, and what can still be cut. Lengths mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from neckmodel.design.reading.measured import in_words, is_measured, numbers, off_plan
from neckmodel.errors import DesignError
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.lengths import in_unit, rounded_down, rounded_up

if TYPE_CHECKING:
    from neckmodel.design import Design
    from neckmodel.errors import Problem
    from neckmodel.layout.neck.outside import Outside

    Rest = ParamSpec("Rest")
    Refusing = Callable[Concatenate[Design, Rest], None]

FRETS = ("neck.thickness.fret_1", "neck.thickness.fret_12")
# keys outside the refused key's own section that have to do with a refusal
BEARING = {"heel": ("neck.", "fretboard."), "head": ("neck.", "fretboard."), "nut": ("neck.", "fretboard.")}
MOST_OFF_PLAN = 12.0  # mm; no carve farther off is proposed


def naming_measured(refuse: Refusing[Rest]) -> Refusing[Rest]:
    """Decorator for a function that refuses designs: each refusal also names the measured sizes that have to do with
    it."""

    @wraps(refuse)
    def refusing(design: Design, /, *args: Rest.args, **kwargs: Rest.kwargs) -> None:
        try:
            refuse(design, *args, **kwargs)
        except DesignError as error:
            if design.measured is None:
                raise
            raise DesignError([_named(design, problem) for problem in error.problems], error.file) from None

    return refusing


def _named(design: Design, problem: Problem) -> Problem:
    key = problem.key.removeprefix("measured.")
    section = key.partition(".")[0]
    bearing = (f"{section}.", *BEARING.get(section, ("fretboard.",)))
    off = off_plan(n for n in numbers(design) if n.origin == "measured" and n.key.startswith(bearing))
    if not off:
        return problem
    words = in_unit(f"; as built: {', '.join(in_words(n) for n in off)}", design.design.units)
    again = "measure it again" if key != problem.key and not problem.attempt else problem.attempt
    return replace(problem, says=problem.says + words, attempt=again)


def carved_already(design: Design) -> bool:
    """Whether the neck is carved: its thickness was measured at both frets."""
    return any(is_measured(design, key) for key in FRETS)


def carve_to(design: Design, outside: Outside, good: Callable[[Outside], bool], *, thinner: bool) -> str:
    """The least change of thickness at both frets that makes the outside good, in words; empty where `carve_by` finds
    none."""
    found = carve_by(design, outside, good, thinner=thinner)
    word = "thicker" if thinner else "thinner"
    return f"carve no {word} than {found[0]:.2f} mm at fret 1 and {found[1]:.2f} mm at fret 12" if found else ""


def carve_by(
    design: Design, outside: Outside, good: Callable[[Outside], bool], *, thinner: bool
) -> tuple[float, float] | None:
    """The thickness at fret 1 and fret 12, mm, nearest to the plan, that makes the outside good; None where the neck is
    carved, or where no thickness does.

    good: judges an outside; once true, it stays true the farther the thickness is changed that way.
    """
    back, way = outside.back, -1 if thinner else 1

    def changed(by: float) -> Outside:
        return replace(outside, back=replace(back, t_1=back.t_1 + way * by, t_12=back.t_12 + way * by))

    by = None if carved_already(design) else nearest_enough(lambda t: good(changed(t)), 0.0, MOST_OFF_PLAN)
    if by is None:
        return None
    toward = rounded_down if thinner else rounded_up
    return toward(back.t_1 + way * by), toward(back.t_12 + way * by)
