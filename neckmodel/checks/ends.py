"""head/... and heel/...: tuners in the head, screws in the heel."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from neckmodel.checks.holes import screw_as_hole, tuner_as_hole
from neckmodel.checks.measure.holes import hole_to_skin
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, up
from neckmodel.findings import Finding, Remedy
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.measure.holes import RoundHole

BITE_FROM, BITE_TO = 18.0, 22.0  # mm in hardwood; common practice, no source
BELOW_FRETBOARD = 1.0  # mm from a screw's point to the glue plane; common practice, no source
SEARCH = 50.0  # mm, how far apart tuners are looked at


def check_head(bench: Bench) -> list[Finding]:
    layout = bench.layout
    if not layout.tuners:
        return [Finding("head/tuners", "neck", "skipped", "no tuners are stated: list them in head.tuners")]
    holes = {t.name: tuner_as_hole(t) for t in layout.tuners}
    findings = _skin(bench, "head/tuners", holes, bench.design.limits.wall.tuner, "the head's outside")
    solids = {name: to_manifold(bench.mesh(name), name) for name in holes}
    gaps = [(solids[a].min_gap(solids[b], SEARCH), a, b) for a, b in combinations(solids, 2)]
    if gaps:
        gap, a, b = min(gaps)
        says = f"the nearest two tuners, {a} and {b}" if gap > 0 else f"{a} and {b} are in each other's way"
        findings.append(
            Finding(
                "head/housings", a, at_least(gap, 0.0) if gap > 0 else "fail", says, gap, 0.02, 0.0, basis="geometry"
            )
        )
    return findings


def _skin(bench: Bench, check: str, holes: dict[str, RoundHole], limit: float, outside: str) -> list[Finding]:
    walls = [(wall, name) for name, hole in holes.items() if (wall := hole_to_skin(hole, bench.neck)) is not None]
    if not walls:
        return []
    wall, name = min(walls, key=lambda w: w[0].lo)
    worst = wall.lo - bench.design.workshop.tolerances.sideways - bench.design.workshop.tolerances.measuring
    verdict = at_least(wall.lo, limit, worst)
    says = f"wood between {name} and {outside}" if wall.lo > 0 else f"{name} comes out through {outside}"
    return [
        Finding(
            check,
            name,
            verdict,
            says,
            wall.lo,
            max(wall.hi - wall.lo, 0.0),
            limit,
            worst_case=worst,
            basis=COMMON,
            at=place(bench.layout, wall.at_hole),
        )
    ]


def check_heel(bench: Bench) -> list[Finding]:
    layout = bench.layout
    if not layout.screws:
        if layout.heel.kind != "bolted":
            return []
        return [Finding("heel/screws", "neck", "skipped", "no screws are stated: list them in heel.screws")]
    holes = {s.name: screw_as_hole(s) for s in layout.screws}
    findings = _skin(bench, "heel/end", holes, bench.design.limits.wall.screw, "the heel's outside")
    bites = [s for s in layout.screws if s.kind == "wood-screw"]
    tops = {s.name: float(bench.mesh(s.name).bounds[1][2]) for s in layout.screws}
    highest = max(tops, key=lambda name: tops[name])
    if tops[highest] > -BELOW_FRETBOARD + SLACK:
        screw = next(s for s in layout.screws if s.name == highest)
        shorter = round(screw.length - (tops[highest] + BELOW_FRETBOARD) - 0.005, 2)
        number = next(k for k, s in enumerate(layout.screws) if s.name == highest)
        key = f"heel.screws.{number}.length"
        findings.append(
            Finding(
                "heel/screws",
                highest,
                "fail",
                f"its point comes within {-tops[highest]:.2f} mm of the fretboard",
                -tops[highest],
                SLACK,
                BELOW_FRETBOARD,
                basis=COMMON,
                at=place(layout, (screw.x, screw.y, tops[highest])),
                remedy=Remedy(f"a screw {shorter:.2f} mm long", {key: shorter}),
            )
        )
        return findings
    if bites:
        findings.append(_bite(bench, {s.name: tops[s.name] + layout.heel.depth for s in bites}))
    return findings


def _bite(bench: Bench, bites: dict[str, float]) -> Finding:
    layout, limit = bench.layout, bench.design.limits.heel_screws
    name = min(bites, key=lambda n: bites[n])
    bite = bites[name]
    screw = next(s for s in layout.screws if s.name == name)
    verdict, remedy = at_least(bite, limit), None
    says = f"{name} bites {bite:.2f} mm into the neck"
    if verdict == "fail":
        number = next(k for k, s in enumerate(layout.screws) if s.name == name)
        longer = up(screw.length + limit - bite)
        remedy = Remedy(f"a screw {longer:.2f} mm long", {f"heel.screws.{number}.length": longer})
    elif min(bites.values()) < BITE_FROM - SLACK or max(bites.values()) > BITE_TO + SLACK:
        verdict, says = "warn", f"{says}; {BITE_FROM:.0f} to {BITE_TO:.0f} mm is usual in hardwood"
    return Finding(
        "heel/screws",
        name,
        verdict,
        says,
        bite,
        SLACK,
        limit,
        basis=COMMON,
        at=place(layout, (screw.x, screw.y, screw.z_point)),
        remedy=remedy,
    )
