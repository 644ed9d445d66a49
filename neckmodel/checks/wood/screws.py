"""heel/screws: how far the screws bite, and how near to the fretboard their points come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, skipped_finding
from neckmodel.limits import BELOW_FRETBOARD, BITE_FROM, BITE_TO

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy, Verdict
    from neckmodel.layout.hardware.screws import Screw

AS_SHOWN = 0.005  # mm: no screw is measured more exactly, and a size converted to inches may be off by a third of this
WOOD_SCREW = "wood-screw"


def check_screws(bench: Bench) -> list[Finding]:
    """The finding on the heel's screws; none for a heel that needs none."""
    layout = bench.layout
    if not layout.screws:
        if layout.heel.kind != "bolted":
            return []
        return [
            skipped_finding(
                check="heel/screws",
                part="neck",
                says="no screws are stated: list them in heel.screws",
            )
        ]
    tops = [float(bench.mesh(screw.name).bounds[1][2]) for screw in layout.screws]
    highest = max(range(len(tops)), key=lambda k: tops[k])
    if tops[highest] > -BELOW_FRETBOARD + AS_SHOWN:
        return [_too_long(bench, tops, highest)]
    bites = [(top + layout.heel.depth, k) for k, top in enumerate(tops) if layout.screws[k].kind == WOOD_SCREW]
    if bites:
        return [_bite(bench, bites, tops)]
    says = f"{layout.screws[highest].name} comes nearest to the fretboard, {-tops[highest]:.2f} mm below it"
    return [_finding(bench, layout.screws[highest], PASS, says, -tops[highest], BELOW_FRETBOARD, None)]


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
        remedy = _lengths(bench, tops)
    return _finding(bench, screw, FAIL, says, below, BELOW_FRETBOARD, remedy)


def _bite(bench: Bench, bites: list[tuple[float, int]], tops: list[float]) -> Finding:
    limit = bench.design.limits.heel_screws
    bite, k = min(bites)
    screw = bench.layout.screws[k]
    verdict, remedy = at_least(bite, limit), None
    says = f"{screw.name} bites {bite:.2f} mm into the neck"
    if verdict == FAIL:
        says += f", {short_by(bite, limit)}"
        remedy = _lengths(bench, tops)
    elif bite < BITE_FROM - AS_SHOWN:
        verdict, says = WARN, f"{says}; {BITE_FROM:.0f} to {BITE_TO:.0f} mm is usual in hardwood"
        remedy = _lengths(bench, tops)
        if not _sold(bench, tops, Aim(bench.design.design.units)):
            room = bench.layout.heel.depth - BELOW_FRETBOARD
            yet = "keep clear of the fretboard" if room < BITE_TO else f"no more than {BITE_TO:.0f} mm"
            says += f". No length that is sold would bite more and yet {yet}"
    elif max(bites)[0] > BITE_TO + AS_SHOWN:
        bite, k = max(bites)
        screw = bench.layout.screws[k]
        verdict = WARN
        says = f"{screw.name} bites {bite:.2f} mm into the neck; {BITE_FROM:.0f} to {BITE_TO:.0f} mm is usual"
        remedy = _lengths(bench, tops)
    return _finding(bench, screw, verdict, says, bite, limit, remedy)


def _lengths(bench: Bench, tops: list[float]) -> Remedy | None:
    """Every screw that bites too little or too much, or whose point comes too near to the fretboard, in a length that
    is sold: with the usual bite where the heel has room for it, else with at least the limit's."""
    design = bench.design
    return graded(design, lambda aim: possible(design, _sold(bench, tops, aim)))


def _sold(bench: Bench, tops: list[float], aim: Aim) -> dict[str, float | str]:
    """The new lengths by their keys. A screw stays as it is where no length sold is nearer to the wanted one."""
    screws, depth, limit = bench.layout.screws, bench.layout.heel.depth, bench.design.limits.heel_screws
    most, settings = depth - BELOW_FRETBOARD, dict[str, float | str]()
    for k, (screw, top) in enumerate(zip(screws, tops, strict=True)):
        key, bites, has = f"heel.screws.{k}.length", screw.kind == WOOD_SCREW, top + depth
        high = min(BITE_TO, most) if bites else most
        low = min(BITE_FROM, most) if bites and aim.grade == "usual" else limit if bites else 0.0
        if low - SLACK <= has <= high + SLACK:
            continue
        wanted = low if has < low else high
        length = (aim.up if has < low else aim.down)(key, screw.length + wanted - has)
        if not low - SLACK <= has + length - screw.length <= high + SLACK:  # no length is sold between
            length = aim.down(key, screw.length + high - has)
        nearer = length - screw.length if has < low else screw.length - length
        if nearer > AS_SHOWN:
            settings[key] = length
    return settings


def _finding(
    bench: Bench, screw: Screw, verdict: Verdict, says: str, measured: float, limit: float, remedy: Remedy | None
) -> Finding:
    return limit_finding(
        check="heel/screws",
        part=screw.name,
        verdict=verdict,
        says=says,
        measured=measured,
        error=SLACK,
        limit=limit,
        basis=COMMON,
        at=place(bench.layout, (screw.x, screw.y, screw.z_point)),
        remedy=remedy,
    )
