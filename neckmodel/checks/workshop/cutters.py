"""cutter/<step>: whether a cutter of the rack fits each step and reaches its floor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from neckmodel.checks.remedies.remedy import graded, possible
from neckmodel.checks.verdict import SLACK, place
from neckmodel.findings import FAIL, PASS, WARN, Finding, Place, limit_finding, range_finding, skipped_finding
from neckmodel.layout.channel.cutters import LEAST_TEMPLATE, WAYS, room_along
from neckmodel.limits import BASE_THICKNESS

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.design import Design
    from neckmodel.findings import Remedy
    from neckmodel.layout.channel.cutters import Cutting
    from neckmodel.layout.channel.step import Step

BASIS = f"geometry; a base plate {BASE_THICKNESS:.1f} mm thick by common practice, no source"


def check_cutters(bench: Bench) -> list[Finding]:
    """A finding for each step: whether a cutter fits it and reaches its floor."""
    layout = bench.layout
    if not layout.steps:
        return []
    if not bench.design.workshop.cutters:
        return [
            skipped_finding(
                check="cutter/run",
                part="blank",
                says="no cutters are stated: list them in workshop.cutters",
            )
        ]
    findings = []
    for cutting in layout.cuttings:
        step = layout.step(cutting.step)
        at = place(layout, (step.x_start, step.y, -step.depth))
        if cutting.diameter is None:
            findings.append(_none_fits(bench, step, at))
            continue
        spare = cutting.stick_out - cutting.reach
        verdict, says, remedy = PASS, _says(bench, cutting), None
        if spare < -SLACK:
            verdict = FAIL
            says = (
                f"cutter {cutting.diameter:.2f} mm can stand out {cutting.stick_out:.2f} mm, and {WAYS[cutting.way]} "
                f"it needs {cutting.reach:.2f} mm"
            )
            number = next(k for k, c in enumerate(bench.design.workshop.cutters) if c.diameter == cutting.diameter)
            key = f"workshop.cutters.{number}.stick_out"
            remedy = _sized(bench.design, key, cutting.reach, longer=True)
        elif step.depth > cutting.flute_length + SLACK:
            verdict = WARN
            says = (
                f"cutter {cutting.diameter:.2f} mm: its flutes are {cutting.flute_length:.2f} mm long and the step is "
                f"{step.depth:.2f} mm deep, so the shank must clear the wall above them"
            )
        findings.append(
            limit_finding(
                check=f"cutter/{step.name}",
                part="blank",
                verdict=verdict,
                says=says,
                measured=spare,
                error=SLACK,
                limit=0.0,
                basis=BASIS,
                at=at,
                remedy=remedy,
                more={
                    "diameter": cutting.diameter,
                    "lines": cutting.lines,
                    "passes": cutting.passes,
                    "corners_mm2": round(cutting.corners, 3),
                },
            )
        )
    return findings


def _says(bench: Bench, cutting: Cutting) -> str:
    says = f"cutter {cutting.diameter:.2f} mm, {cutting.says}, needs {cutting.reach:.2f} mm of stick-out"
    room = cutting.template_room
    if bench.design.workshop.guide_bush is not None and room is not None and room < LEAST_TEMPLATE - SLACK:
        says += "; too short for a template under the guide bush: work along the fence"
    if cutting.corners_at:
        left = ", ".join(f"{corner.area:.2f} mm² at x {corner.x:.2f} mm" for corner in cutting.corners_at)
        says += f"; corners for the chisel: {left}"
    return says


def _none_fits(bench: Bench, step: Step, at: Place) -> Finding:
    rack = [cutter.diameter for cutter in bench.design.workshop.cutters]
    smallest, number = min(rack), rack.index(min(rack))
    long = room_along(step, bench.layout.steps)
    room, way = min((step.width, " of"), (long, " is long,"))
    says = f"the smallest cutter of the rack, {smallest:.2f} mm, is wider than this step{way} {room:.2f} mm"
    return range_finding(
        check=f"cutter/{step.name}",
        part="blank",
        verdict=FAIL,
        says=says,
        measured=smallest,
        error=0.0,
        limit=room,
        held=(None, room),
        basis=BASIS,
        at=at,
        remedy=_sized(bench.design, f"workshop.cutters.{number}.diameter", room, longer=False),
    )


def _sized(design: Design, key: str, value: float, *, longer: bool) -> Remedy | None:
    """A cutter of at least, or at most, this size, mm, in sizes that are sold."""
    return graded(design, lambda aim: possible(design, {key: (aim.up if longer else aim.down)(key, value)}))
