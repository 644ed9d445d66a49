"""wall/top, cover/back-strip, and the fit of a bent rod: what only a channel cut from the back has."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.measure.section import EXACT, extent, extent_at, tidy
from neckmodel.checks.measure.wall import least_wall
from neckmodel.checks.remedies.remedy import any_of, graded, possible
from neckmodel.checks.remedies.thickness import Short, more_wood
from neckmodel.checks.rod.adjuster import as_cut_words, reset
from neckmodel.checks.verdict import COMMON, SKIN_ERROR, SLACK, at_least, place, short_by, step_words
from neckmodel.checks.wood.slots import MESH_ERROR
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, range_finding
from neckmodel.layout.channel.behind import GROOVE, over_channel
from neckmodel.layout.channel.step import StepName
from neckmodel.layout.measured.shims import void_under
from neckmodel.layout.workshop.tolerance import contributions, settled, worst_loss
from neckmodel.limits import MOST_BELOW
from neckmodel.meshes import from_manifold, to_manifold

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.checks.remedies.remedy import Aim
    from neckmodel.findings import Remedy
    from neckmodel.geometry.types import Floats
    from neckmodel.layout import Layout
    from neckmodel.layout.channel.step import Step
    from neckmodel.layout.rod.rod import RodPlace

LAYER = 0.05  # mm, the lowest layer of the rod's room, whose distance to the skin is the strip's cover
PLACES = 41  # places looked at along a step where no fret slot lies
BENT_ERROR = 0.03  # mm by which the meshes of a bent round bar and of its channel may be off
SLICE = 0.02  # mm of x measured at each place
ALONG_X = np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]])  # turns x up, so that a slice is a section


def check_behind(bench: Bench) -> list[Finding]:
    """The wood over the channel and behind the rod; [] for a channel cut from the front."""
    steps = [step for step in bench.layout.steps if step.behind]
    if not steps:
        return []
    return [_top(bench, steps), *_cover(bench, steps)]


def _heights(board: manifold3d.Manifold, x: float, half: float, slope: float = 0.0) -> list[tuple[float, float]]:
    """(z, y) of the upper side of the fretboard at both edges and the corners between, within `half` of the centre
    line, on the line of a slope through (x, 0)."""
    turned = board.transform(np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, -slope, 0, 0]]))
    rings = [np.asarray(ring) for ring in turned.slice(x).to_polygons()]
    if not rings:
        return []
    corners = np.concatenate(rings)
    upper = corners[corners[:, 1] > SLACK]
    upper = upper[np.argsort(upper[:, 0])]
    at = np.array([-half, half])
    found = [(float(z), float(y)) for y, z in zip(at, np.interp(at, upper[:, 0], upper[:, 1]), strict=True)]
    return found + [(float(z), float(y)) for y, z in upper if abs(y) <= half]


def _top(bench: Bench, steps: list[Step]) -> Finding:
    """wall/top: the wood between the channel's floor and the fret slots over it, or the crown where there are none."""
    layout, board = bench.layout, bench.layout.fretboard
    whole = to_manifold(bench.mesh("fretboard"), "the fretboard")
    found: list[tuple[float, float, float, Step]] = []
    for step in steps:
        tool = to_manifold(bench.tool_mesh(step.name), step.name)
        low, high = (float(v) for v in np.asarray(bench.tool_mesh(step.name).bounds)[:, 0])
        over = [(slot.x, slot.slope) for slot in board.slots if low < slot.x < high]
        over += [(float(x), 0.0) for x in np.linspace(low + SLICE, high - SLICE, PLACES)]
        for x, slope in over:
            top = float(extent(tool, max(x - SLICE, low), min(x + SLICE, high))[1, 2])
            heights = _heights(whole, x, step.width / 2, slope) or [(0.0, 0.0)]
            found += [(z - top, x, y, step) for z, y in heights]
    measured, x, y, step = min(found, key=lambda one: one[0])
    walls = bench.design.limits.wall
    limit = walls.run if walls.top is None else walls.top
    tolerances, done = bench.design.workshop.tolerances, settled(layout, step.name)
    takes = contributions(tolerances, 0.0, 1.0, 0.0, done)
    worst = measured - math.fsum(value for name, value in takes.items() if name != "carve")
    verdict = at_least(measured, limit, worst)
    crown = min(tidy(layout.fretboard.thickness + each.top) for each in steps)
    slotted = any(abs(slot.x - x) <= board.slot_width for slot in board.slots)
    what = "up to a fret slot" if slotted else "up to the crown"
    says = f"wood from the floor of the {step_words(step.name)} {what}; up to the crown {crown:.2f} mm"
    if verdict == FAIL:
        says = f"{measured:.2f} mm of {says}: {short_by(measured, limit)}"
    elif verdict == WARN:
        says = f"enough as designed, but with every tolerance at its worst only {worst:.2f} mm: {says}"
    remedy = graded(bench.design, lambda aim: _lower(layout, limit + aim.spare, measured, aim), measured - worst)
    return limit_finding(
        check="wall/top",
        part="neck",
        verdict=verdict,
        says=says,
        measured=measured,
        error=MESH_ERROR,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(layout, (x, y, -step.top_at(min(max(x, step.x_start), step.x_end)))),
        remedy=remedy if verdict == FAIL else None,
        more={"to_crown": round(crown, 4)},
    )


def _lower(layout: Layout, wanted: float, measured: float, aim: Aim) -> Remedy | None:
    """A rod that lies deeper, shallower fret slots, or a thicker fretboard with as thick a neck more."""
    design = layout.design
    by, off = wanted - measured, over_channel(layout.steps, layout.fretboard).wall - measured

    def good(new: Layout) -> bool:
        return over_channel(new.steps, new.fretboard).wall - off >= wanted - SLACK

    depths = None if design.rod is None else design.rod.axis_depth
    if depths is None:
        key = "channel.deeper_by"
        deeper = {key: aim.up(key, design.channel.deeper_by + by)}
    else:
        deeper = {
            f"rod.axis_depth.{name}": aim.up(f"rod.axis_depth.{name}", getattr(depths, name) + by)
            for name in ("adjuster", "middle", "anchor")
        }
    slot, thick, neck = "fretboard.fret_slot.depth", "fretboard.thickness", "neck.thickness."
    board, stated = design.fretboard, design.neck.thickness
    more = aim.up(thick, board.thickness + by)
    thicker = {thick: more}
    for fret in ("fret_1", "fret_12"):
        thicker[neck + fret] = aim.up(neck + fret, getattr(stated, fret) + more - board.thickness)
    shallower = {slot: aim.down(slot, board.fret_slot.depth - by)} if board.fret_slot.depth - by > 1.0 else {}
    return any_of(*(possible(design, dict(way), good) for way in (deeper, shallower, thicker)))


def _cover(bench: Bench, steps: list[Step]) -> list[Finding]:
    """cover/back-strip: from the rod's underside to the carved skin, and how deep the strip is glued at its sides."""
    layout, strip = bench.layout, bench.layout.back_strip
    if strip is None:
        return []
    limit = bench.design.limits.cover_back_strip
    walls = [(wall, step) for step in steps if (wall := least_wall(bench.neck, _lowest(bench, step))) is not None]
    if not walls:
        return []
    wall, step = min(walls, key=lambda one: one[0].lo)
    measured, error = wall.lo, max(wall.hi - wall.lo, 0.0) + SKIN_ERROR
    short = Short(step, wall, measured, limit)
    tolerances, (_, ny, nz) = bench.design.workshop.tolerances, short.normal
    worst = measured - worst_loss(tolerances, ny, nz, step.depth, settled(layout, step.name))
    verdict = at_least(measured, limit, worst)
    cheek = _cheek(bench)
    glued = f"; its sides are glued {cheek:.2f} mm deep where that is least"
    says = f"wood between the rod's underside and the carved back, the strip among it{glued}"
    if verdict == FAIL:
        says = f"only {measured:.2f} mm of wood stay behind the rod once the back is carved"
        says += f", {short_by(measured, limit)}{glued}"
    elif verdict == WARN:
        says = f"enough behind the rod as designed, but with every tolerance at its worst only {worst:.2f} mm{glued}"
    remedy = graded(
        bench.design,
        lambda aim: more_wood(layout, Short(step, wall, measured, limit + aim.spare), aim),
        measured - worst,
    )
    return [
        limit_finding(
            check="cover/back-strip",
            part=GROOVE,
            verdict=verdict,
            says=says,
            measured=measured,
            error=error,
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(layout, wall.at_skin),
            remedy=remedy if verdict == FAIL else None,
            more={"cheek": round(cheek, 4)},
        )
    ]


def _lowest(bench: Bench, step: Step) -> trimesh.Trimesh:
    """The lowest layer of a step's room; all of it where the underside is not level, for there its lowest corners
    decide as well."""
    tool = bench.wall_tool(step.name)
    if not step.is_level:
        return tool
    return from_manifold(to_manifold(tool, step.name).trim_by_plane((0.0, 0.0, -1.0), step.depth - LAYER))


def _cheek(bench: Bench) -> float:
    """Least depth of the strip's upright sides where the layout has it least, mm, measured on the strip's solid."""
    strip = bench.layout.back_strip
    if strip is None:
        return 0.0
    solid = to_manifold(bench.mesh(GROOVE), "the back strip").transform(ALONG_X)
    corners = np.concatenate([np.asarray(ring) for ring in solid.slice(strip.x_cheek + SLICE).to_polygons()])
    sides = [corners[np.abs(corners[:, 0] - y) < EXACT] for y in (corners[:, 0].min(), corners[:, 0].max())]
    return min(float(np.ptp(side[:, 1])) for side in sides)


def check_bent_run(bench: Bench, placed: RodPlace, rod: manifold3d.Manifold, step: Step) -> Finding:
    """fit/run of a bent rod put in from the back: its play in width, and its gap to the floor over it."""
    ends = sorted((placed.x_block, placed.x_anchor_end))
    x0, x1 = max(ends[0], step.x_start) + 1.0, min(ends[1], step.x_end) - 1.0
    if placed.segments:
        anchor = placed.segments[0]
        x0, x1 = (max(x0, anchor.x_end), x1) if placed.at_heel else (x0, min(x1, anchor.x_start))
    if placed.washer is not None:
        x0, x1 = (x0, min(x1, placed.washer.x_start)) if placed.at_heel else (max(x0, placed.washer.x_end), x1)
    tool, bar = to_manifold(bench.tool_mesh(step.name), step.name), bench.parts["rod"].solid
    xs = np.linspace(x0 + SLICE, x1 - SLICE, PLACES)
    over = np.array([_between(tool, x)[1, 2] - _between(rod, x)[1, 2] for x in xs])
    play = min(
        tidy(float(np.ptp(_between(tool, x)[:, 1]) - np.ptp(extent_at(bar, float(x))[:, 1])), 4)
        for x in (xs[0], xs[PLACES // 2], xs[-1])
    )
    k, most = int(over.argmin()), bench.design.limits.fit_run
    least, void = float(over[k]), void_under(bench.layout, step.name)
    verdict, measured, limit, remedy, error, held = PASS, play, most, None, EXACT, (0.0, most)
    says = f"{play:.2f} mm of play in width; tightened, the rod presses on the floor toward the frets"
    if play < -EXACT:
        verdict, limit, says = FAIL, 0.0, f"the rod is {-play:.2f} mm wider than its run"
        remedy = reset(bench.design, "channel.wider_by", bench.design.channel.wider_by - play)
    elif least < -BENT_ERROR:
        verdict, measured, limit, error, held = FAIL, least, 0.0, BENT_ERROR, (0.0, MOST_BELOW)
        says = f"the curved floor stands {-least:.2f} mm in the rod's way"
    elif play > most + EXACT:
        verdict, says = WARN, f"{says}; at most {most:.2f} mm in width is usual"
        remedy = reset(bench.design, "channel.wider_by", bench.design.channel.wider_by - play)
    elif void > MOST_BELOW + SLACK:
        verdict, measured, limit, error, held = WARN, void, MOST_BELOW, BENT_ERROR, (0.0, MOST_BELOW)
        says += f"; {void:.2f} mm of void over it: lay a {void:.2f} mm shim on the floor"
    if verdict == PASS:
        says += as_cut_words(bench, step, placed.diameter)
    x = float(xs[k])
    return range_finding(
        check=f"fit/{StepName.RUN}",
        part="rod",
        verdict=verdict,
        says=says,
        measured=measured,
        error=error,
        limit=limit,
        held=held,
        basis=COMMON,
        at=place(bench.layout, (x, 0.0, -step.top_at(x))),
        remedy=remedy,
        more={"play": round(play, 4), "over_rod": round(least, 4)},
    )


def _between(solid: manifold3d.Manifold, x: float) -> Floats:
    return extent(solid, float(x) - SLICE / 2, float(x) + SLICE / 2)
