"""Which rods fit a design, where each sits best, and what limits it there. By layout and cross-sections, lengths mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from neckmodel.design import Design, changed
from neckmodel.design.rods import OwnRod
from neckmodel.errors import DesignError, Problem
from neckmodel.layout import Layout, lay_out
from neckmodel.layout.rod.rod import together
from neckmodel.variants.limits import SLACK, WALL, Margin, Room
from neckmodel.variants.rods.margins import least, margins_at, room_of
from neckmodel.variants.rods.places import laid_at, places_in, where_it_goes_in

AS_GOOD = 0.05  # mm: walls this near to the best are as good, and the place farthest from its bounds is taken


@dataclass(frozen=True)
class Fit:
    """One rod in the design. x_start: best place of its nut-side end, None where it has none; x_from, x_to: where it
    may lie.

    margins: at that place, the least first; margin: the least of place and walls, negative by how much the rod does not
    fit. length_from, length_to: over-all lengths with these ends and blocks that would fit. says: what limits it, or
    why it does not fit; warns: what is unusual about a rod that fits; wrong: `8.76 mm too long`, where another length
    would fit.
    """

    name: str
    fits: bool
    says: str
    kind: str | None = None
    length: float | None = None
    x_start: float | None = None
    x_from: float | None = None
    x_to: float | None = None
    margin: float | None = None
    margins: tuple[Margin, ...] = ()
    length_from: float | None = None
    length_to: float | None = None
    warns: str = ""
    wrong: str = ""


def fit_rods(design: Design, rods: Sequence[OwnRod]) -> tuple[Fit, ...]:
    """Each rod tried in the design, the best first. The place of the design's own rod does not matter.

    Raises DesignError with every mistake in the rods themselves.
    """
    mistakes: list[Problem] = []
    found: list[Fit] = []
    for rod in rods:
        try:
            with_rod = _with(design, rod)
        except DesignError as error:
            own = [p for p in (rod.problem(problem) for problem in error.problems) if p is not None]
            mistakes += own
            if not own:
                found.append(_refused(rod, error))
            continue
        found.append(_fit(with_rod, rod))
    if mistakes:
        raise DesignError(mistakes, rods[0].file)
    return tuple(sorted(found, key=_rank))


def _rank(fit: Fit) -> tuple[bool, bool, float]:
    return not fit.fits, bool(fit.warns), math.inf if fit.margin is None else -fit.margin


def _with(design: Design, rod: OwnRod) -> Design:
    over: dict[str, object] = {**rod.tables, "rod_place.from_nut": "auto"}
    own, stated = rod.tables["rod"], design.rod
    if isinstance(own, dict) and stated is not None and stated.count > 1:  # where two lie, two of the list's are tried
        over["rod"] = {"count": stated.count, "offset": f"{stated.offset} mm", **own}
    if any(key.startswith("rod.") for key, _ in design.measured or ()):
        over["measured.rod"] = {}  # the measured sizes are of the design's own rod
    if design.calibration is not None and design.calibration.rod_bow_per_turn is not None:
        over["calibration"] = {}
    return changed(design, over)


def _refused(rod: OwnRod, error: DesignError) -> Fit:
    problem = error.problems[0]
    return Fit(rod.name, False, f"{problem.key} {problem.says}")


def _fit(design: Design, rod: OwnRod) -> Fit:
    try:
        layout = lay_out(changed(design, {"measured.channel": {}}) if design.measured else design)
    except DesignError as error:
        return _refused(rod, error)
    placed = together(layout.rods)
    assert placed is not None  # every rod of the list is one
    room = room_of(layout, placed)
    known = Fit(
        rod.name,
        False,
        f"{room.low} and {room.high} leave no place, {room.short:.2f} mm are lacking",
        wrong=room.wrong,
        kind=placed.kind,
        length=placed.length,
        x_from=room.x_from,
        x_to=room.x_to,
        margin=-room.short,
        length_from=placed.fitting_from,
        length_to=min(placed.fitting_to, placed.fitting_to_well_covered),
    )
    if room.short > SLACK:
        return known
    room, lack = where_it_goes_in(design, room)
    known = replace(known, x_from=room.x_from, x_to=room.x_to)
    if lack is not None:
        return replace(known, says=f"{lack.what} is {-lack.value:.2f} mm short", margin=lack.value)
    best = _best(design, room)
    if best is None or best.rod is None:
        return replace(known, says="no place of it can be laid out", margin=None)
    margins = margins_at(best, room)
    # a fit does not depend on the place or on the carve, so it is no margin to compare
    first = next(m for m in margins if m.kind != "fit" or m.value < -SLACK)
    fits = first.value >= -SLACK
    says = f"{first.what} binds first" if fits else f"{first.what} is {-first.value:.2f} mm short"
    if not math.isfinite(first.value):
        says = f"there is no {first.what.removeprefix('a ')}"
    margin = first.value if math.isfinite(first.value) else None
    beyond = best.rod.x_start - min(rod.x_span for rod in best.rods)
    warns = f"its block ends {beyond:.2f} mm beyond fret 1: the first frets are not straightened"
    return replace(
        known,
        fits=fits,
        says=says,
        x_start=best.rod.x_start,
        margin=margin,
        margins=margins,
        warns=warns if fits and beyond > SLACK else "",
    )


def _best(design: Design, room: Room) -> Layout | None:
    """The place with the largest least margin; of places with walls as good, the one farthest from its bounds."""
    layouts = [layout for layout in (laid_at(design, x) for x in places_in(room)) if layout is not None]
    if not layouts:
        return None
    margins = [least(layout, room) for layout in layouts]
    good = [layout for layout, margin in zip(layouts, margins, strict=True) if margin >= max(margins) - AS_GOOD]
    return max(good, key=lambda layout: (least(layout, room, ("place",)), least(layout, room, (WALL,))))
