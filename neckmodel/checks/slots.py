"""fret-slots/wood and fret-slots/edge: measured on the fretboard's sections through its fret slots."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.verdict import COMMON, SLACK, at_least, place
from neckmodel.findings import Finding, Remedy
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench

LEAST_WOOD = 1.0  # mm under a fret slot; common practice, no source
MESH_ERROR = 0.02  # mm, the fretboard's mesh against its crown


def check_slots(bench: Bench) -> list[Finding]:
    layout, board = bench.layout, bench.layout.fretboard
    turned = to_manifold(bench.mesh("fretboard"), "the fretboard").transform(
        np.array([[0.0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]])
    )

    def top(x: float) -> np.ndarray:
        """(n, 2) corners (y, z) of the section's upper side at x; of each upright side only its upper end."""
        corners = np.concatenate([np.asarray(ring) for ring in turned.slice(x).to_polygons()])
        edges = [corners[np.abs(corners[:, 0] - y) < SLACK] for y in (corners[:, 0].min(), corners[:, 0].max())]
        between = (corners[:, 1] > SLACK) & (np.abs(corners[:, 0]) < np.abs(corners[:, 0]).max() - SLACK)
        return np.vstack([corners[between], *(edge[np.argmax(edge[:, 1])] for edge in edges)])

    wood, seat = [], []
    for slot in board.slots:
        inside, beside = top(slot.x), top(slot.x + board.slot_width / 2 + 0.02)
        low = inside[np.argmin(inside[:, 1])]
        wood.append((float(low[1]), slot, float(low[0])))
        seat.append((float(beside[-1][1] - inside[-1][1]), slot, float(inside[-1][0])))
    limit = bench.design.limits.fret_slots_edge
    least_wood, least_seat = min(wood, key=lambda w: w[0]), min(seat, key=lambda s: s[0])
    findings = [
        Finding(
            "fret-slots/wood",
            "fretboard",
            at_least(least_wood[0], LEAST_WOOD),
            f"least wood under a fret slot, at fret {least_wood[1].fret}",
            least_wood[0],
            MESH_ERROR,
            LEAST_WOOD,
            basis=COMMON,
            at=place(layout, (least_wood[1].x, least_wood[2], least_wood[0])),
            remedy=_shallower(bench, LEAST_WOOD - least_wood[0]) if least_wood[0] < LEAST_WOOD - SLACK else None,
        )
    ]
    short = least_seat[0] < limit - MESH_ERROR
    findings.append(
        Finding(
            "fret-slots/edge",
            "fretboard",
            "warn" if short else "pass",
            f"depth of the shallowest fret slot at the fretboard's edge, at fret {least_seat[1].fret}"
            + ("; the tang has no seat there" if short else ""),
            least_seat[0],
            MESH_ERROR,
            limit,
            basis=COMMON,
            at=place(layout, (least_seat[1].x, least_seat[2], 0.0)),
        )
    )
    return findings


def _shallower(bench: Bench, by: float) -> Remedy | None:
    depth = round(bench.layout.fretboard.slot_depth - by - MESH_ERROR, 2)
    if depth < 0.3:
        return None
    return Remedy(f"fret slots {depth:.2f} mm deep", {"fretboard.fret_slot.depth": depth})
