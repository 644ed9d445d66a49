"""heel/dovetail and heel/shoulder: the wood of a dovetail at its root, and the heel's shoulders beside it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.rows import rings_at, row
from neckmodel.checks.remedies.dovetail import broader_shoulder, stouter
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.layout.channel.root import RootWood, steps_at_root
from neckmodel.layout.heel.dovetail import Dovetail

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

BESIDE = 1e-3  # mm off a plane face at which a section is taken
OVER = 0.01  # mm over a floor, and over the bottom, at which wood is measured
ROWS = 121  # level lines along which the shoulders are measured


def check_dovetail(bench: Bench) -> list[Finding]:
    """The findings on root and shoulders; none without a dovetail."""
    tenon = bench.layout.heel.tenon
    if not isinstance(tenon, Dovetail):
        return []
    return [_root(bench, tenon), _shoulder(bench, tenon)]


def _root(bench: Bench, tenon: Dovetail) -> Finding:
    layout, limit = bench.layout, bench.design.limits.heel_dovetail
    tolerances = bench.design.workshop.tolerances
    found = _measured(bench, tenon)
    error = (BESIDE * tenon.slope[0] + OVER * tenon.slope[1]) + SLACK
    loss = tolerances.stock + (0.0 if found.step is None else tolerances.sideways)
    worst = found.wood - loss
    verdict = at_least(found.wood, limit, worst)
    says = f"at its root, x {tenon.x_root:.2f} mm, the dovetail keeps {found.wood:.2f} mm of wood: {found.where}"
    if verdict == FAIL:
        says += f"; {short_by(found.wood, limit)}"
    elif verdict == WARN:
        says += f"; with every tolerance at its worst {worst:.2f} mm"
    return limit_finding(
        check="heel/dovetail",
        part="neck",
        verdict=verdict,
        says=says,
        measured=found.wood,
        error=error,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(layout, (tenon.x_root, 0.0, -found.depth)),
        remedy=stouter(layout, tenon, found, loss) if verdict == FAIL else None,
    )


def _measured(bench: Bench, tenon: Dovetail) -> RootWood:
    """The least wood at the root, on the solids: the section lies BESIDE the root, and what the cheeks gain on the way
    there is taken off again."""
    gained = BESIDE * tenon.slope[0]
    whole = rings_at(bench.neck.wood, tenon.x_root + BESIDE)
    bottom = row(whole, OVER - tenon.depth)
    found = [RootWood((bottom[-1] - bottom[0]) / 2 - gained - OVER * tenon.slope[1], tenon.depth, None)]
    cut = rings_at(bench.cut_wood, tenon.x_root + BESIDE)
    for step, depth in steps_at_root(tenon, bench.layout.steps):
        met = row(cut, OVER - depth)
        beside = min(met[1] - met[0], met[-1] - met[-2]) if len(met) > 2 else 0.0
        found.append(RootWood(beside - gained - OVER * tenon.slope[1], depth, step.name))
    return min(found, key=lambda one: one.wood)


def _shoulder(bench: Bench, tenon: Dovetail) -> Finding:
    """The heel's section just before the joint against the dovetail's end face, row by row."""
    layout, limit = bench.layout, bench.design.limits.heel_shoulder
    heel = rings_at(bench.neck.wood, tenon.x_root - BESIDE)
    end = rings_at(bench.neck.wood, tenon.x_end - BESIDE)
    measured, down = math.inf, 0.0
    for depth in np.linspace(OVER, tenon.depth - OVER, ROWS).tolist():
        outer, inner = row(heel, -depth), row(end, -depth)
        least = min(inner[0] - outer[0], outer[-1] - inner[-1])
        if least < measured:
            measured, down = least, depth
    says = f"{measured:.2f} mm of shoulder at each side of the dovetail, {down:.0f} mm below the glue plane"
    narrow = measured < limit - SLACK
    if narrow:
        says += f", {short_by(measured, limit)}: so narrow an edge breaks out when it is pared, and hides no gap"
    return limit_finding(
        check="heel/shoulder",
        part="neck",
        verdict=WARN if narrow else PASS,
        says=says,
        measured=measured,
        error=SKIN_ERROR + BESIDE,
        limit=limit,
        basis=COMMON,
        at=place(layout, (tenon.x_root, tenon.half_at(tenon.x_end, down) + measured, -down)),
        remedy=broader_shoulder(layout, tenon, measured) if narrow else None,
    )
