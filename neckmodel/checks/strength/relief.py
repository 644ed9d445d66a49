"""strength/relief and strength/section; calls the other checks of strength. All are estimates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.relief import stiffer
from neckmodel.checks.strength import moisture
from neckmodel.checks.strength.rod import check_rod
from neckmodel.checks.strength.washer import check_washer
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place
from neckmodel.design.defaults.by_instrument import relief_range
from neckmodel.design.values.keys import Facts
from neckmodel.errors import Problem
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, range_finding, skipped_finding
from neckmodel.limits import LARGE_BOW
from neckmodel.strength.estimate import BASIS, LASTING, Strength, estimate, missing

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout import Layout


def check_strength(bench: Bench) -> list[Finding]:
    """strength/relief and strength/section; with a rod strength/rod, with a compression rod strength/washer; all
    skipped where a string's mass or a wood's strength is not known. strength/moisture needs no strings."""
    layout = bench.layout
    dried = moisture.check_moisture(layout)
    if isinstance(dried, Problem):
        dried = _skipped(moisture.CHECK, dried)
    return [*_under_load(layout), dried]


def _under_load(layout: Layout) -> list[Finding]:
    topics = ["relief", "section"]
    if layout.rod is not None:
        topics += ["rod"] if layout.rod.curve is None else ["rod", "washer"]
    problem = missing(layout)
    if problem is not None:
        return [_skipped(f"strength/{topic}", problem) for topic in topics]
    strength = estimate(layout)
    if strength.gives_way:
        unset = Problem("strings.each", "pull more than the neck bears: see strength/relief")
        rest = [_skipped(f"strength/{topic}", unset) for topic in topics[2:]]
        return [_gives_way(layout, strength), _section(layout, strength), *rest]
    found = [_relief(layout, strength), _section(layout, strength)]
    if layout.rod is not None:
        found.append(check_rod(layout, layout.rod, strength))
    if layout.rod is not None and layout.rod.curve is not None:
        found.append(check_washer(layout, layout.rod, strength))
    return found


def _skipped(check: str, problem: Problem) -> Finding:
    given = problem.key if problem.value is None else f"{problem.key} = {problem.value}"
    tail = f"; {problem.attempt}" if problem.attempt else ""
    return skipped_finding(
        check=check,
        part="neck",
        says=f"{given} {problem.says}{tail}",
        unit="",
        basis=BASIS,
    )


def _gives_way(layout: Layout, strength: Strength) -> Finding:
    """A failure: the strings pull harder than the neck bears as a column, so it has no relief that could be stated."""
    bears = strength.bears_as_column
    says = (
        f"an estimate: the strings pull with {strength.load.pull:.0f} N, and a neck of weak wood bears no more than "
        f"{bears:.0f} N after years: it bows without end. Are the notes and masses of the strings right?"
    )
    at = place(layout, (layout.heel.x_joint / 2, 0.0, layout.fretboard.thickness))
    spare = round(bears / strength.load.pull, 4)
    bare = not (layout.rod or layout.bars)
    return limit_finding(
        check="strength/relief",
        part="neck",
        verdict=FAIL,
        says=says,
        measured=spare,
        error=0.0,
        limit=1.0,
        unit="times",
        basis=strength.basis,
        at=at,
        remedy=stiffer(layout, layout.design.limits.strength_relief) if bare else None,
    )


def _relief(layout: Layout, strength: Strength) -> Finding:
    """The relief. Where no rod can set it, it should lie in the usual range, new and after years; a rod has its own
    check. A neck with neither rod nor bar is held to a limit: likely and new it must keep to it."""
    new, years = strength.relief, strength.relief_years
    bare = not (layout.rod or layout.bars)
    most = layout.design.limits.strength_relief if bare else relief_range(Facts(layout.design.source.raw)).high
    fixed = layout.rod is None
    high = fixed and max(new.high, years.high) > most + SLACK
    large = years.high > LARGE_BOW
    over = bare and new.likely > most + SLACK
    x = layout.frets.x(strength.fret)
    says = (
        f"an estimate: the strings pull with {strength.load.pull:.0f} N and bow the neck by {new.likely:.2f} mm "
        f"({new.low:.2f} to {new.high:.2f} mm), after years by {years.likely:.2f} mm ({years.low:.2f} to "
        f"{years.high:.2f} mm)"
    )
    says += "; no rod can set it" if fixed else ", with the rod slack"
    says += f"; that is {new.likely - most:.2f} mm too much for a neck without rod or bar" if over else ""
    says += f"; beyond {LARGE_BOW:.0f} mm an estimate of small bows no longer holds" if large else ""
    return range_finding(
        check="strength/relief",
        part="neck",
        verdict=FAIL if over else WARN if high or large else PASS,
        says=says,
        measured=round(new.likely, 4),
        error=round(max(new.likely - new.low, new.high - new.likely), 4),
        limit=most if fixed else None,
        held=(None, most) if fixed else None,
        worst_case=round(years.high, 4),
        basis=f"{strength.basis}; the limit: {COMMON}" if bare else strength.basis,
        at=place(layout, (x, 0.0, layout.fretboard.thickness)),
        remedy=stiffer(layout, most) if over else None,
        more={
            "pull": round(strength.load.pull, 2),
            **{f"pull_{k}": round(force, 2) for k, force in enumerate(strength.pull.each, 1)},
            **{f"mass_{k}": round(mass, 4) for k, mass in enumerate(strength.pull.masses, 1) if mass is not None},
            **({} if strength.head is None else {"press_on_nut": round(strength.head.press[1], 2)}),
            "relief_low": round(new.low, 4),
            "relief_high": round(new.high, 4),
            "relief_years_low": round(years.low, 4),
            "relief_years": round(years.likely, 4),
            "relief_years_high": round(years.high, 4),
            "fret": round(strength.fret, 2),
            "bending_low": round(strength.bending.low),
            "bending": round(strength.bending.likely),
            "bending_high": round(strength.bending.high),
        },
    )


def _section(layout: Layout, strength: Strength) -> Finding:
    weakest = strength.weakest
    says = (
        f"an estimate: {weakest.where} is stressed most, {weakest.stress:.1f} MPa; for years it bears "
        f"{weakest.bears:.1f} MPa ({weakest.low:.1f} MPa where the wood is weak). A knock or a fall is not covered"
    )
    return limit_finding(
        check="strength/section",
        part="neck",
        verdict=at_least(weakest.spare, 1.0, weakest.spare_low),
        says=says,
        measured=round(weakest.spare, 4),
        error=round(weakest.spare - weakest.spare_low, 4),
        limit=1.0,
        unit="times",
        worst_case=round(weakest.spare_low, 4),
        basis=f"{strength.basis}; {LASTING}; slope of grain by Hankinson's formula",
        at=place(layout, (weakest.x, 0.0, weakest.z)),
        more={"stress": round(weakest.stress, 3), "bears": round(weakest.bears, 3), "grain": round(weakest.grain, 4)},
    )
