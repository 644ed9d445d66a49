"""body/cut-outs, body/skew and body/wings: the neck against the body's template, its holes and its wings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import Aim, change, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, range_finding
from neckmodel.layout.sides import side_at
from neckmodel.limits import BEYOND_WING, USUAL_OFF

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy

DRAWN = 0.01  # mm within which a drawing's curves are followed


def check_body(bench: Bench) -> list[Finding]:
    """The findings on the body: cut-outs, skew, wings."""
    body = bench.layout.body
    findings = [_cut_outs(bench)] if body.cut_outs and bench.layout.heel.kind != "through" else []
    findings += check_wings(bench)
    return [*findings, _skew(bench)] if body.outline is not None else findings


def _cut_outs(bench: Bench) -> Finding:
    """Wood of the body between the neck's end and the first cut-out behind it, measured on the neck's solid."""
    layout, limit = bench.layout, bench.design.limits.wall.rod_end
    end, first = float(bench.mesh("neck").bounds[1][0]), layout.body.x_back
    measured = first - end
    tolerances = bench.design.workshop.tolerances
    worst = measured - tolerances.measuring - tolerances.stock
    verdict = at_least(measured, limit, worst)
    wood = f"{measured:.2f} mm of the body's wood between the neck's end and the cut-out at x {first:.2f} mm"
    says, remedy = wood, None
    if verdict == FAIL:
        says = f"the neck's wood reaches {-measured:.2f} mm into the cut-out at x {first:.2f} mm"
        says = f"{wood}, {short_by(measured, limit)}" if measured >= -SLACK else says
        key = "heel.wood_ends_at" if layout.heel.tenon is None else "heel.tenon.length"
        start = 0.0 if layout.heel.tenon is None else layout.heel.x_joint

        def shorter(aim: Aim) -> Remedy | None:
            settings = {key: aim.down(key, first - limit - aim.spare - start)}
            return possible(bench.design, settings)

        remedy = graded(bench.design, shorter, measured - worst)
    return limit_finding(
        check="body/cut-outs",
        part="neck",
        verdict=verdict,
        says=says,
        measured=measured,
        error=DRAWN,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(layout, (end, 0.0, 0.0)),
        remedy=remedy,
    )


def _skew(bench: Bench) -> Finding:
    body = bench.layout.body
    off, side = abs(body.off_at_bridge), side_at(body.off_at_bridge)
    says = "the template's joint line is square to its centre line"
    if off > SLACK:
        says = (
            f"the template's joint line is {abs(body.skew):.2f} degrees off square: set square against it, the neck "
            f"points {off:.2f} mm to the {side} side at the bridge"
        )
    return range_finding(
        check="body/skew",
        part="neck",
        verdict=WARN if off > USUAL_OFF + SLACK else PASS,
        says=says,
        measured=off,
        error=DRAWN,
        limit=USUAL_OFF,
        held=(None, USUAL_OFF),
        basis=COMMON,
        at=place(bench.layout, (bench.layout.frets.scale, body.off_at_bridge, 0.0)),
    )


def check_wings(bench: Bench) -> list[Finding]:
    """The length of a wing's inner side that lies against neither the neck nor an inner wing; the largest of all
    wings."""
    wings = bench.layout.body_wings
    if not wings:
        return []
    worst = max(wings, key=lambda wing: wing.beyond)
    over, remedy = worst.beyond, None
    if over > BEYOND_WING:
        says = f"{over:.2f} mm of {worst.name}'s inner side has nothing to be glued to"
        inmost = abs(worst.seam) == bench.layout.heel.half_width
        if inmost and worst.x_start >= bench.layout.heel.x_joint:
            key, end = "heel.wood_ends_at", worst.x_end
            remedy = graded(bench.design, lambda aim: change(bench.design, {key: aim.up(key, end)}))
    else:
        says = (
            f"{len(wings)} wings, each glued along all of its inner side, {min(w.glued for w in wings):.2f} mm or more"
        )
    z = (worst.z_low + worst.z_top) / 2
    return [
        range_finding(
            check="body/wings",
            part=worst.name,
            verdict=WARN if over > BEYOND_WING else PASS,
            says=says,
            measured=over,
            error=SLACK,
            limit=BEYOND_WING,
            held=(None, BEYOND_WING),
            basis=COMMON,
            at=place(bench.layout, ((worst.x_start + worst.x_end) / 2, worst.seam, z)),
            remedy=remedy,
        )
    ]
