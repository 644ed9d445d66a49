"""wall/<step> and wall/rod-end: the least wood between the channel and the finished outside."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.exact import exact_wall
from neckmodel.checks.measure.wall import Wall, least_wall
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, at_least, place, up, wall_loss
from neckmodel.findings import Finding, Remedy
from neckmodel.layout.back import Section, section_wall

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout import Layout
    from neckmodel.layout.channel import Step

NEAR = 0.05  # mm from the limit within which the exact distance decides
AIM = 4.0  # mm, a wall most makers would rather have; common practice, no source
MOST_THICKER = 12.0  # mm, no remedy asks for more


def limit_of(layout: Layout, step: str) -> float:
    walls = layout.design.limits.wall
    field = {"access-slot": "access_slot", "key-swing": "access_slot"}.get(
        step, "bar" if step.startswith("bar-") else step
    )
    return float(getattr(walls, field))


def check_walls(bench: Bench) -> list[Finding]:
    return [finding for step in bench.layout.steps if (finding := _wall(bench, step)) is not None]


def _wall(bench: Bench, step: Step) -> Finding | None:
    limit = limit_of(bench.layout, step.name)
    wall = least_wall(bench.neck, bench.tool_mesh(step.name))
    if wall is None:
        return None
    measured, error = _decide(bench, step, wall, limit)
    across = np.subtract(wall.at_skin, wall.at_tool)
    length = float(np.linalg.norm(across)) or 1.0
    normal = (float(across[0]) / length, float(across[1]) / length, float(across[2]) / length)
    worst = measured - wall_loss(bench.design.workshop.tolerances, normal, step.depth)
    verdict = at_least(measured, limit, worst)
    return Finding(
        check=f"wall/{step.name}",
        part="neck",
        verdict=verdict,
        says=_says(step, wall, measured, limit, worst),
        measured=measured,
        error=error,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, wall.at_skin),
        remedy=_thicker(bench.layout, step, wall, limit) if verdict == "fail" else None,
    )


def _decide(bench: Bench, step: Step, wall: Wall, limit: float) -> tuple[float, float]:
    """(value, error): the mesh's lower bound, or the exact distance where the limit is near or missed."""
    if not wall.through and wall.lo - NEAR < limit:
        exact = exact_wall(bench.tool(step.name).solid, bench.parts.carved, bench.parts.openings)
        if exact is not None:
            return exact.value, SKIN_ERROR
    return wall.lo, max(wall.hi - wall.lo, 0.0) + SKIN_ERROR


def _says(step: Step, wall: Wall, measured: float, limit: float, worst: float) -> str:
    name = step.name.replace("-", " ")
    if wall.through:
        return f"the {name} comes out through the finished neck, {-measured:.2f} mm deep"
    if measured < limit:
        return f"the {name} leaves {measured:.2f} mm of wood once the neck is carved, {limit - measured:.2f} mm short"
    if worst < limit:
        return f"enough as designed, but with every tolerance at its worst only {worst:.2f} mm is left"
    return "enough wood in every direction" + ("" if measured >= AIM else f"; most makers aim for {AIM:.1f} mm")


def _thicker(layout: Layout, step: Step, wall: Wall, limit: float) -> Remedy | None:
    """Thickness to add along the whole neck so that the wall at this place meets its limit, by the section's own law.

    What the solid reads less than the section by itself (the taper, the mesh's bound) is added to what is asked for.
    """
    x = wall.at_tool[0]
    if not 0.0 <= x <= layout.heel.x_swell:
        return None
    back, thickness = layout.back, layout.design.neck.thickness
    now = layout.wall_at(step, x)
    target = limit + max(now - wall.hi, 0.0) + 1e-4

    def wall_with(extra: float) -> float:
        s = back.section(x)
        grown = Section(s.half_width, s.depth + extra, s.exponent, s.apex)
        return section_wall(grown, abs(step.y) + step.width / 2, step.depth)

    if wall_with(MOST_THICKER) < target:
        return None
    low, high = 0.0, MOST_THICKER
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (low, middle) if wall_with(middle) >= target else (middle, high)
    both = up(high)
    share = (back.x_12 - x) / (back.x_12 - back.x_1)  # how much of a change at fret 1 arrives at x
    alone = "" if share <= 0.2 else f", or fret_1 = {up(thickness.fret_1 + high / share):.2f} mm alone"
    return Remedy(
        f"a neck thicker by {both:.2f} mm: neck.thickness.fret_1 = {thickness.fret_1 + both:.2f} mm with fret_12 = "
        f"{thickness.fret_12 + both:.2f} mm{alone}, or a {step.name.replace('-', ' ')} {both:.2f} mm shallower",
        {
            "neck.thickness.fret_1": round(thickness.fret_1 + both, 4),
            "neck.thickness.fret_12": round(thickness.fret_12 + both, 4),
        },
    )


def check_rod_end(bench: Bench) -> list[Finding]:
    """Wood beyond the channel's end, to the end of the neck's wood or the nearest cut-out of the body."""
    layout = bench.layout
    ends = [step for step in layout.steps if step.end_end != "open"]
    if not ends:
        return []
    step = max(ends, key=lambda s: s.x_end)
    limit = layout.design.limits.wall.rod_end
    wall = least_wall(bench.neck, bench.tool_mesh(step.name), toward=(1.0, 0.0, 0.0))
    reach = float(bench.tool_mesh(step.name).bounds[1][0])
    cutouts = [c.from_ - reach for c in layout.design.body.cutouts]
    if wall is None and not cutouts:
        return []
    options = cutouts + ([] if wall is None else [wall.lo])
    measured = min(options)
    t = layout.design.workshop.tolerances
    worst = measured - t.measuring - t.stock
    says = "wood beyond the end of the channel" + (
        ", to the cut-out in the body" if cutouts and measured == min(cutouts) else ""
    )
    return [
        Finding(
            "wall/rod-end",
            "neck",
            at_least(measured, limit, worst),
            says,
            measured,
            SKIN_ERROR if wall is None else wall.hi - wall.lo + SKIN_ERROR,
            limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, (reach, step.y, -step.depth)),
        )
    ]
