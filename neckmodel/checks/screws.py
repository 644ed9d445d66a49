"""heel/screws: how far the screws bite, and how near their points come to the fretboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies import first_good
from neckmodel.checks.verdict import COMMON, SLACK, at_least, down, place, short_by, up
from neckmodel.findings import Finding, Remedy

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.hardware import Screw

BITE_FROM, BITE_TO = 18.0, 22.0  # mm in hardwood; common practice, no source
AS_SHOWN = 0.005  # mm: no screw is known nearer, and a size that was turned into inches may be off by a third of it
BELOW_FRETBOARD = 1.0  # mm from a screw's point to the glue plane; common practice, no source
WOOD_SCREW = "wood-screw"


def check_screws(bench: Bench) -> list[Finding]:
    layout = bench.layout
    if not layout.screws:
        if layout.heel.kind != "bolted":
            return []
        return [Finding("heel/screws", "neck", "skipped", "no screws are stated: list them in heel.screws")]
    tops = [float(bench.mesh(screw.name).bounds[1][2]) for screw in layout.screws]
    highest = max(range(len(tops)), key=lambda k: tops[k])
    if tops[highest] > -BELOW_FRETBOARD + AS_SHOWN:
        return [_too_long(bench, tops, highest)]
    bites = [(top + layout.heel.depth, k) for k, top in enumerate(tops) if layout.screws[k].kind == WOOD_SCREW]
    if bites:
        return [_bite(bench, bites)]
    says = f"{layout.screws[highest].name} comes nearest to the fretboard, {-tops[highest]:.2f} mm below it"
    return [_finding(bench, layout.screws[highest], "pass", says, -tops[highest], BELOW_FRETBOARD, None)]


def _too_long(bench: Bench, tops: list[float], highest: int) -> Finding:
    limit, depth = bench.design.limits.heel_screws, bench.layout.heel.depth
    screw = bench.layout.screws[highest]
    below = -tops[highest]
    says = f"the point of {screw.name} "
    says += f"stays only {below:.2f} mm below the fretboard" if below > 0 else f"comes {-below:.2f} mm out at the top"
    remedy = None
    if depth - BELOW_FRETBOARD < limit - SLACK and screw.kind == WOOD_SCREW:
        says += f"; the heel is too shallow for a bite of {limit:.2f} mm"
    else:
        remedy = _lengths(bench, {k: -(top + BELOW_FRETBOARD) for k, top in enumerate(tops)}, longer=False)
    return _finding(bench, screw, "fail", says, below, BELOW_FRETBOARD, remedy)


def _bite(bench: Bench, bites: list[tuple[float, int]]) -> Finding:
    limit = bench.design.limits.heel_screws
    bite, k = min(bites)
    screw = bench.layout.screws[k]
    verdict, remedy = at_least(bite, limit), None
    says = f"{screw.name} bites {bite:.2f} mm into the neck"
    if verdict == "fail":
        says += f", {short_by(bite, limit)}"
        remedy = _lengths(bench, {number: limit - value for value, number in bites}, longer=True)
    elif bite < BITE_FROM - AS_SHOWN:
        verdict, says = "warn", f"{says}; {BITE_FROM:.0f} to {BITE_TO:.0f} mm is usual in hardwood"
        room = bench.layout.heel.depth - BELOW_FRETBOARD
        if room >= BITE_FROM - SLACK:
            remedy = _lengths(bench, {number: BITE_FROM - value for value, number in bites}, longer=True)
    elif max(bites)[0] > BITE_TO + AS_SHOWN:
        bite, k = max(bites)
        screw = bench.layout.screws[k]
        verdict = "warn"
        says = f"{screw.name} bites {bite:.2f} mm into the neck; {BITE_FROM:.0f} to {BITE_TO:.0f} mm is usual"
        remedy = _lengths(bench, {number: BITE_TO - value for value, number in bites}, longer=False)
    return _finding(bench, screw, verdict, says, bite, limit, remedy)


def _lengths(bench: Bench, by: dict[int, float], longer: bool) -> Remedy | None:
    """Every screw made longer (or shorter) by what it lacks (or has too much), to 0.01 mm."""
    wrong = {k: value for k, value in by.items() if (value > SLACK if longer else value < -SLACK)}
    rounded = up if longer else down
    new = {k: rounded(bench.layout.screws[k].length + value) for k, value in wrong.items()}
    said = ", ".join(f"{bench.layout.screws[k].name} {value:.2f} mm long" for k, value in new.items())
    settings: dict[str, float | str] = {f"heel.screws.{k}.length": value for k, value in new.items()}
    return first_good(bench.design, [Remedy(said, settings)])


def _finding(
    bench: Bench, screw: Screw, verdict: str, says: str, measured: float, limit: float, remedy: Remedy | None
) -> Finding:
    return Finding(
        "heel/screws",
        screw.name,
        verdict,
        says,
        measured,
        SLACK,
        limit,
        basis=COMMON,
        at=place(bench.layout, (screw.x, screw.y, screw.z_point)),
        remedy=remedy,
    )
