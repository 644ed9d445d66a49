"""place/...: where the rod and the bars lie against the interval in which they may."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.verdict import COMMON, SLACK, at_least, down, place, up
from neckmodel.findings import Finding, Remedy

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.rod import Bar, Bound, RodPlace

GEOMETRY = "geometry"
WITHIN = 0.01  # mm, the solid must lie where the layout says


def check_place(bench: Bench) -> list[Finding]:
    rod = bench.layout.rod
    if rod is None:
        return []
    low, high = bench.mesh("rod").bounds
    x0, x1 = float(low[0]), float(high[0])
    if abs(x0 - rod.x_adjuster) > WITHIN or abs(x1 - rod.x_anchor_end) > WITHIN:
        says = f"the rod's solid lies from {x0:.3f} to {x1:.3f} mm, not where the layout puts it"
        return [Finding("place/adjuster", "rod", "fail", says, x0, WITHIN, rod.x_adjuster, basis=GEOMETRY)]
    return [_adjuster(bench, rod), _anchor(bench, rod, x1), _span(bench, rod)]


def _tightest(bounds: tuple[Bound, ...], upper: bool) -> Bound:
    return (min if upper else max)(bounds, key=lambda b: b.x)


def _margin(x: float, lower: tuple[Bound, ...], upper: tuple[Bound, ...]) -> tuple[float, Bound]:
    """(how far x lies inside the interval, negative outside; the bound that is nearest)."""
    low, high = _tightest(lower, upper=False), _tightest(upper, upper=True)
    return min((x - low.x, low), (high.x - x, high), key=lambda pair: pair[0])


def _adjuster(bench: Bench, rod: RodPlace) -> Finding:
    margin, bound = _margin(rod.x_adjuster, rod.lower, rod.upper)
    where = f"the rod may start from x {rod.x_min:.2f} to {rod.x_max:.2f} mm"
    if rod.x_min > rod.x_max + SLACK:
        where = f"no place is left for this rod, {rod.x_min - rod.x_max:.2f} mm too long"
    says = f"{where}; {bound.reason} binds first" if margin >= -SLACK else f"{where}; {bound.reason} is in the way"
    worst = margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(margin, 0.0, worst)
    remedy = _move(rod, margin) if verdict == "fail" else None
    return Finding(
        "place/adjuster",
        "rod",
        verdict,
        says,
        margin,
        SLACK,
        0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (rod.x_adjuster, 0.0, -rod.axis)),
        remedy=remedy,
        more={"x_adjuster": rod.x_adjuster, "x_min": rod.x_min, "x_max": rod.x_max},
    )


def _move(rod: RodPlace, margin: float) -> Remedy:
    """Inside a real interval the rod is moved; where there is none it must be shorter or the wood longer."""
    if rod.x_min <= rod.x_max + SLACK:
        x = down(rod.x_max) if rod.x_adjuster > rod.x_max else up(rod.x_min)
        return Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x})
    low, high = _tightest(rod.lower, upper=False), _tightest(rod.upper, upper=True)
    if low.key == "rod_place.past_joint":
        need = up(rod.length + low.x - high.x)
        return Remedy(
            f"a rod {need:.2f} mm long, or less past the joint", {"rod.length": need, "rod_place.from_nut": "auto"}
        )
    length = down(rod.length + margin)
    others = ""
    if high.key == "heel.wood_ends_at":
        back = up(high.value - margin)
        others = f", or heel.wood_ends_at = {back:.2f} mm"
        if rod.stated:
            best = down(rod.length + rod.x_max - rod.x_min)
            others += f', or rod_place.from_nut = "auto" together with a rod of {best:.2f} mm'
    return Remedy(f"a rod of at most {length:.2f} mm{others}", {"rod.length": length})


def _anchor(bench: Bench, rod: RodPlace, x_end: float) -> Finding:
    stated = bench.design.rod_place
    inner = bench.design.rod.anchor.length if bench.design.rod is not None and stated.past_joint_of == "inner" else 0.0
    measured = x_end - inner - bench.layout.heel.x_joint
    worst = measured - bench.design.workshop.tolerances.measuring
    verdict = at_least(measured, stated.past_joint, worst)
    says = f"the anchor's {stated.past_joint_of} face past the joint"
    remedy = None
    if verdict == "fail":
        short = stated.past_joint - measured
        if rod.x_adjuster + short <= rod.x_max + SLACK:
            x = up(rod.x_adjuster + short)
            remedy = Remedy(f"start the rod at {x:.2f} mm from the nut", {"rod_place.from_nut": x})
        else:
            length = up(rod.length + short)
            remedy = Remedy(f"a rod at least {length:.2f} mm long", {"rod.length": length})
    return Finding(
        "place/anchor",
        "rod",
        verdict,
        says,
        measured,
        SLACK,
        stated.past_joint,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, (x_end, 0.0, -rod.axis)),
        remedy=remedy,
    )


def _span(bench: Bench, rod: RodPlace) -> Finding:
    measured = rod.x_span - rod.x_adjuster
    says = (
        "the adjuster's block ends before fret 1"
        if measured >= -SLACK
        else ("the adjuster's block ends beyond fret 1: the first frets are not straightened")
    )
    return Finding(
        "place/span",
        "rod",
        "pass" if measured >= -SLACK else "warn",
        says,
        measured,
        SLACK,
        0.0,
        basis=COMMON,
        at=place(bench.layout, (rod.x_block, 0.0, 0.0)),
    )


def check_bars(bench: Bench) -> list[Finding]:
    return [_bar(bench, bar) for bar in bench.layout.bars]


def _bar(bench: Bench, bar: Bar) -> Finding:
    margin, bound = _margin(bar.x_start, bar.lower, bar.upper)
    low, high = _tightest(bar.lower, upper=False).x, _tightest(bar.upper, upper=True).x
    worst = margin - bench.design.workshop.tolerances.measuring
    verdict = at_least(margin, 0.0, worst)
    remedy = None
    if verdict == "fail":
        length = bar.x_end - bar.x_start
        if low <= high + SLACK:
            x = down(high) if bar.x_start > high else up(low)
            remedy = Remedy(f"start the bars at {x:.2f} mm from the nut", {"bars.from_nut": x})
        elif bound.key != "rod_place.past_joint":
            fits = down(length + margin)
            remedy = Remedy(f"bars of at most {fits:.2f} mm", {"bars.length": fits})
    binds = "binds first" if margin >= -SLACK else "is in the way"
    says = f"the bar may start from x {low:.2f} to {high:.2f} mm; {bound.reason} {binds}"
    return Finding(
        f"place/{bar.name}",
        bar.name,
        verdict,
        says,
        margin,
        SLACK,
        0.0,
        worst_case=worst,
        basis=GEOMETRY,
        at=place(bench.layout, (bar.x_start, bar.y, 0.0)),
        remedy=remedy,
    )
