"""place/...: where the rod lies against the interval in which it may."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.each import each_rod
from neckmodel.checks.remedies.place import (
    Room,
    before_fret_1,
    clear_of_fretboard,
    move_rod,
    reach_joint,
    room_of,
)
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, range_finding
from neckmodel.layout.rod.boxes import held_past_joint
from neckmodel.layout.rod.lengths import too_long_or_short

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.rod.rod import RodPlace

GEOMETRY = "geometry"
WITHIN = 0.01  # mm within which the solid must lie where the layout puts it


@each_rod
def check_place(bench: Bench) -> list[Finding]:
    """The findings on the rod's place; none without a rod."""
    rod = bench.layout.rod
    if rod is None:
        return []
    low, high = bench.mesh("rod").bounds
    x0, x1 = float(low[0]), float(high[0])
    if abs(x0 - rod.x_start) > WITHIN or abs(x1 - rod.x_end) > WITHIN:
        says = f"the rod's solid lies from {x0:.3f} to {x1:.3f} mm, not where the layout puts it"
        return [
            range_finding(
                check="place/adjuster",
                part="rod",
                verdict=FAIL,
                says=says,
                measured=x0,
                error=WITHIN,
                limit=rod.x_start,
                held=(rod.x_start - WITHIN, rod.x_start + WITHIN),
                basis=GEOMETRY,
            )
        ]
    found = [_adjuster(bench, rod), _anchor(bench, rod, x1 - rod.x_end), _span(bench, rod)]
    return [*found, _wheel(bench, rod, x1)] if rod.at_heel and rod.proud > 0 else found


def room_says(what: str, room: Room, worst: float) -> str:
    """Where a rod or bar may lie, and how far inside that it lies, in words."""
    if room.short > SLACK:
        wrong = too_long_or_short(room.low, room.high)
        told = f"this {what}, it is {wrong}" if wrong else f"a {what} of any length, {room.short:.2f} mm are lacking"
        reasons = f"{room.low.reason} and {room.high.reason} leave no room between them"
        return f"no place is left for {told}: {reasons}"
    where = f"the {what} may start from x {room.low.x:.2f} to {room.high.x:.2f} mm"
    if room.margin < -SLACK:
        return f"{where} and starts at {room.x:.2f} mm: {room.nearest.reason} is in the way"
    if worst < -SLACK:
        off = room.margin - worst
        return f"{where} and starts at {room.x:.2f} mm: measured {off:.2f} mm wrong, {room.nearest.reason} is missed"
    return f"{where}; {room.nearest.reason} binds first"


def _lengths(rod: RodPlace) -> str:
    """Which lengths of rod fit, in words, for a rod that does not."""
    if rod.fitting_from > rod.fitting_to:
        return "; no rod of any length has a place between them"
    return f"; rods {rod.fitting_from:.2f} to {rod.fitting_to:.2f} mm long have a place in this neck"


def _adjuster(bench: Bench, rod: RodPlace) -> Finding:
    room = room_of(rod)
    worst = room.margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(room.margin, 0.0, worst)
    says = room_says("rod", room, worst)
    if verdict == FAIL and not (room.short <= SLACK and room.nearest.key == "rod_place.from_nut"):
        says += _lengths(rod)
    return limit_finding(
        check="place/adjuster",
        part="rod",
        verdict=verdict,
        says=says,
        measured=room.margin,
        error=SLACK,
        limit=0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (rod.x_adjuster, rod.y, -rod.axis)),
        remedy=move_rod(bench.design, rod, room.margin - worst) if verdict != PASS else None,
        more={
            "x_adjuster": rod.x_adjuster,
            "x_min": room.low.x,
            "x_max": room.high.x,
            "fitting_length_from": round(rod.fitting_from, 4),
            "fitting_length_to": round(rod.fitting_to, 4),
        },
    )


def _anchor(bench: Bench, rod: RodPlace, off: float) -> Finding:
    """The anchor past the joint. off: how far the rod's solid lies from its place, mm."""
    stated = bench.design.rod_place
    measured = off + held_past_joint(bench.design, rod)
    worst = measured - bench.design.workshop.tolerances.measuring
    verdict = at_least(measured, stated.past_joint, worst)
    what = "block" if rod.at_heel else "anchor"
    past = f"{measured:.2f} mm past the joint" if measured >= 0 else f"{-measured:.2f} mm before the joint"
    says = f"the {what}'s {stated.past_joint_of} face lies {past}"
    if verdict == FAIL:
        says += f", {short_by(measured, stated.past_joint)} of the {stated.past_joint:.2f} mm past it that are wanted"
    elif verdict == WARN:
        says += f": measured {measured - worst:.2f} mm wrong, it misses the {stated.past_joint:.2f} mm that are wanted"
    return limit_finding(
        check="place/anchor",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=SLACK,
        limit=stated.past_joint,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, (rod.x_past_joint + off, rod.y, -rod.axis)),
        remedy=reach_joint(bench.design, rod, stated.past_joint - measured, measured - worst)
        if verdict != PASS
        else None,
    )


def _span(bench: Bench, rod: RodPlace) -> Finding:
    measured = rod.x_span - rod.x_start
    what = "the rod begins" if rod.at_heel else "the adjuster's block ends"
    says = (
        f"{what} {measured:.2f} mm before fret 1"
        if measured >= -SLACK
        else f"{what} {-measured:.2f} mm beyond fret 1: the first frets are not straightened"
    )
    return limit_finding(
        check="place/span",
        part="rod",
        verdict=PASS if measured >= -SLACK else WARN,
        says=says,
        measured=measured,
        error=SLACK,
        limit=0.0,
        basis=COMMON,
        at=place(bench.layout, (rod.x_start if rod.at_heel else rod.x_block, rod.y, 0.0)),
        remedy=None if measured >= -SLACK else before_fret_1(bench.design, rod),
    )


def _wheel(bench: Bench, rod: RodPlace, x_end: float) -> Finding:
    """Whether a wheel that stands above the glue plane lies wholly beyond the fretboard. x_end: the rod solid's end,
    mm."""
    measured = x_end - rod.x_end + rod.x_start - rod.x_wheel
    worst = measured - bench.design.workshop.tolerances.measuring
    verdict = at_least(measured, 0.0, worst)
    says = f"the adjuster stands {rod.proud:.2f} mm above the glue plane, "
    says += f"{measured:.2f} mm past the fretboard" if measured >= 0 else f"{-measured:.2f} mm of it in the fretboard"
    says += f": measured {measured - worst:.2f} mm wrong, they touch" if verdict == WARN else ""
    return limit_finding(
        check="place/wheel",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=SLACK,
        limit=0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (rod.x_adjuster - (rod.wheel or rod.adjuster_length), rod.y, rod.proud)),
        remedy=clear_of_fretboard(bench.layout, rod, measured, measured - worst) if verdict != PASS else None,
        more={"above_glue_plane": round(rod.proud, 4)},
    )
