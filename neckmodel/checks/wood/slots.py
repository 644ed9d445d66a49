"""fret-slots/wood and fret-slots/edge: measured on sections of the fretboard through its fret slots."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.remedies.remedy import Aim, any_of, graded, ladder, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.design.defaults.defaults import RANGES, default
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding
from neckmodel.limits import LEAST_UNDER_SLOT
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy
    from neckmodel.layout.fretboard.slots import FretSlot

MESH_ERROR = 0.02  # mm by which the fretboard's mesh may differ from its crown


def check_slots(bench: Bench) -> list[Finding]:
    """The findings on the fret slots: the least wood under one, and the least seat at an edge."""
    board = bench.layout.fretboard
    if not board.slots:
        return []
    whole = to_manifold(bench.mesh("fretboard"), "the fretboard")

    def top(x: float, slope: float) -> np.ndarray:
        """(n, 2) corners (y, z), mm, of the upper side of the section along the line of a slope through (x, 0), bass to
        treble; of each upright side only its upper end. A shear makes the line square."""
        turned = whole.transform(np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, -slope, 0, 0]]))
        corners = np.concatenate([np.asarray(ring) for ring in turned.slice(x).to_polygons()])
        bass, treble = corners[:, 0].min(), corners[:, 0].max()
        edges = [corners[np.abs(corners[:, 0] - y) < SLACK] for y in (bass, treble)]
        between = (corners[:, 1] > SLACK) & (corners[:, 0] > bass + SLACK) & (corners[:, 0] < treble - SLACK)
        return np.vstack([corners[between], *(edge[np.argmax(edge[:, 1])] for edge in edges)])

    wood, seat = [], []
    for slot in board.slots:
        past = (board.slot_width / 2 + 0.02) * math.hypot(1.0, slot.slope)
        inside, beside = top(slot.x, slot.slope), top(slot.x + past, slot.slope)
        low = inside[np.argmin(inside[:, 1])]
        wood.append((float(low[1]), slot, float(low[0])))
        seat += [(float(beside[k][1] - inside[k][1]), slot, float(inside[k][0])) for k in (-1, -2)]
    return [_wood(bench, *min(wood, key=lambda w: w[0])), _edge(bench, *min(seat, key=lambda s: s[0]))]


def _wood(bench: Bench, measured: float, slot: FretSlot, y: float) -> Finding:
    """The wood under a fret slot. The mesh lies below crown and curved floor, so it never shows more wood than there
    is."""
    if measured <= SLACK:  # the slot cuts through; how far is known only from the stated sizes
        slot = min(bench.layout.fretboard.slots, key=lambda each: each.wood_below)
        measured = min(slot.wood_below, 0.0)
    verdict = at_least(measured, LEAST_UNDER_SLOT)
    says = f"least wood under a fret slot, at fret {slot.fret}"
    return limit_finding(
        check="fret-slots/wood",
        part="fretboard",
        verdict=verdict,
        says=_how_thin(says, measured) if verdict == FAIL else says,
        measured=measured,
        error=MESH_ERROR,
        limit=LEAST_UNDER_SLOT,
        basis=COMMON,
        at=place(bench.layout, (slot.x + slot.slope * y, y, measured)),
        remedy=_shallower(bench, LEAST_UNDER_SLOT - measured) if verdict == FAIL else None,
    )


def _how_thin(says: str, measured: float) -> str:
    if measured <= 0:
        return f"a fret slot comes out through the underside: {says}, {-measured:.2f} mm too deep to leave any"
    return f"{says}: {measured:.2f} mm, {short_by(measured, LEAST_UNDER_SLOT)}"


def _edge(bench: Bench, measured: float, slot: FretSlot, y: float) -> Finding:
    limit = bench.design.limits.fret_slots_edge
    short = measured < limit - MESH_ERROR
    says = f"depth of the shallowest fret slot at the fretboard's edge, at fret {slot.fret}"
    flat = bench.layout.fretboard.slot_floor == "flat"
    return limit_finding(
        check="fret-slots/edge",
        part="fretboard",
        verdict=WARN if short else PASS,
        says=says + ("; the tang has no seat there" if short else ""),
        measured=measured,
        error=MESH_ERROR,
        limit=limit,
        basis=COMMON,
        at=place(bench.layout, (slot.x, y, 0.0)),
        remedy=ladder(bench.design, {"fretboard.fret_slot.floor": "curved"}) if short and flat else None,
    )


def _shallower(bench: Bench, by: float) -> Remedy | None:
    """Shallower fret slots, of the usual depth where that is enough; else a thicker fretboard."""
    design, board, depth, thick = (
        bench.design,
        bench.layout.fretboard,
        "fretboard.fret_slot.depth",
        "fretboard.thickness",
    )
    least, usual, deepest = RANGES[depth].low, default(depth), RANGES[depth].high

    def less(aim: Aim) -> Remedy | None:
        most = min(aim.down(depth, board.slot_depth - by), usual if aim.grade == "usual" else deepest)
        ways = [{depth: most}] if most >= least else []
        ways.append({thick: aim.up(thick, board.thickness + by)})
        return any_of(*(possible(design, way) for way in ways))

    return graded(design, less)
