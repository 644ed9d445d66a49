"""Necks glued up from pieces: the board they take, and head/scarf: where the seam lies."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.bench import HARDWARE_LINEAR
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, range_finding, yes_no_finding
from neckmodel.geometry.types import Floats, Point
from neckmodel.layout.channel.step import FOR_THE_KEY
from neckmodel.layout.wood.scarf import scarf_face, scarf_projection
from neckmodel.limits import USUAL_CLEAR
from neckmodel.meshes import from_manifold, mesh_of, to_manifold

if TYPE_CHECKING:
    import manifold3d
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.layout.wood.scarf import Scarf

Seam = tuple[Point, Point]  # both its ends (x, z) in side view
ON_SEAM = 1e-3  # mm
WITHIN = (
    0.05  # mm within which the seam measured on the solids must lie where the layout puts it; a carved edge is a chord
)


def glued_size(bench: Bench) -> Floats | None:
    """(3,) length, width and thickness, mm, of one board for the shaft and the head piece. None for a blank of one
    piece.

    Heel blocks and wings come from other wood. The slanting cut of a scarf is shared: its projection counts once, its
    kerf by `kerf / sin`; a head piece with a cut of its own is parted square across.
    """
    if not bench.parts.regions:
        return None
    shaft, pieces = _parted(bench)
    (x0, y0, z0), (x1, y1, _) = np.asarray(shaft.bounds)
    length, scarf = float(x1 - x0), bench.layout.scarf
    if scarf is not None and "head-piece" in pieces:
        turn = math.radians(scarf.angle)
        along = np.asarray(pieces["head-piece"].vertices) @ np.array([math.cos(turn), 0.0, math.sin(turn)])
        cut, shared = bench.design.workshop.kerf, scarf_projection(-float(z0), scarf.angle)
        kerf = cut if scarf.apart else scarf_face(cut, scarf.angle)
        length += float(np.ptp(along)) - (0.0 if scarf.apart else shared) + kerf
    return np.array([length, float(y1 - y0), -float(z0)])


def _parted(bench: Bench) -> tuple[trimesh.Trimesh, dict[str, trimesh.Trimesh]]:
    """The part of the blank from its own board, and the pieces glued to it."""
    rest = to_manifold(bench.mesh("blank"), "blank")
    found: dict[str, manifold3d.Manifold] = {}
    for region in bench.parts.regions:
        room = to_manifold(mesh_of(region.solid, HARDWARE_LINEAR), region.step)
        found[region.step], rest = rest ^ room, rest - room
    return from_manifold(rest), {name: from_manifold(piece) for name, piece in found.items() if piece.volume() > 0}


def check_scarf(bench: Bench) -> list[Finding]:
    """The seam of the head piece's solid, which must be clear of the nut and the access slot; a seam in a volute is
    mentioned."""
    scarf = bench.layout.scarf
    if scarf is None:
        return []
    seam = _seam(bench.mesh("neck"), scarf)
    if seam is None:
        says = "the head piece has no seam with the shaft"
        return [yes_no_finding(check="head/scarf", part="head-piece", good=False, says=says)]
    return [_off_its_place(seam, scarf) or _clear(bench, seam, scarf)]


def _off_its_place(seam: Seam, scarf: Scarf) -> Finding | None:
    """A seam of the solid that is not where the layout has it; None where it is."""
    x0, x1 = sorted((seam[0][0], seam[1][0]))
    off = max(abs(x1 - max(scarf.x_top, scarf.x_keel)), abs(x0 - min(scarf.x_top, scarf.x_keel)))
    if off <= WITHIN:
        return None
    return range_finding(
        check="head/scarf",
        part="head-piece",
        verdict=FAIL,
        says=f"the seam's solid runs from x {x0:.3f} to {x1:.3f} mm, not where the layout puts it",
        measured=off,
        error=WITHIN,
        limit=WITHIN,
        held=(None, WITHIN),
        basis="geometry",
    )


def _clear(bench: Bench, seam: Seam, scarf: Scarf) -> Finding:
    """How far the seam stays clear of the nut's seat and of the steps for the key."""
    gaps = [(_to_box(seam, -bench.design.nut.thickness, 0.0, 0.0), "the nut's seat")]
    for step in bench.layout.steps:
        if step.kind in FOR_THE_KEY:
            low, high = bench.tool_mesh(step.name).bounds
            gaps.append((_to_box(seam, float(low[0]), float(high[0]), float(low[2])), f"the {step.name}"))
    measured, what = min(gaps)
    worst = measured - bench.design.workshop.tolerances.depth - bench.design.workshop.tolerances.measuring
    verdict = at_least(measured, 0.0, worst)
    x0, x1 = sorted((seam[0][0], seam[1][0]))
    says = f"the seam runs from x {x0:.2f} to {x1:.2f} mm; nearest is {what}"
    if measured < -SLACK:
        says = f"{what} cuts into the seam"
    elif verdict == PASS and measured < USUAL_CLEAR:
        verdict, says = WARN, f"{says}, and {USUAL_CLEAR:.0f} mm is usual"
    volute = bench.layout.head.volute
    if volute is not None and volute.x_start < scarf.x_keel < volute.x_end:
        says += "; it comes out below within the volute, where the grain of two pieces shows"
        verdict = WARN if verdict == PASS else verdict
    return limit_finding(
        check="head/scarf",
        part="head-piece",
        verdict=verdict,
        says=says,
        measured=measured,
        error=ON_SEAM,
        limit=0.0,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, (scarf.x_keel, 0.0, scarf.seam_end[1])),
    )


def _seam(neck: trimesh.Trimesh, scarf: Scarf) -> Seam | None:
    """Both ends (x, z) of the seam on the neck's mesh in side view, mm; None where it has none.

    The neck's own face is taken, for the head piece's may continue in the plane of the head's back.
    """
    corners = np.asarray(neck.triangles)
    height = corners[:, :, 2] - np.vectorize(scarf.seam)(corners[:, :, 0])
    near = corners[:, :, 0].max(axis=1) < max(scarf.x_top, scarf.x_keel) + BESIDE
    x = corners[(np.abs(height).max(axis=1) < ON_SEAM) & near][:, :, 0]
    if not x.size:
        return None
    first, last = float(x.min()), float(x.max())
    return (first, scarf.seam(first)), (last, scarf.seam(last))


BESIDE = 10.0  # mm; the seam of a heel block at the same height lies farther off
PLACES = 2001  # points along the seam that are tried


def _to_box(seam: Seam, x_from: float, x_to: float, floor: float) -> float:
    """Distance in side view from the seam to a cut from z = 0 (or above) down to a floor, mm; negative where the seam
    enters it."""
    points = np.linspace(seam[0], seam[1], PLACES)
    beside = np.maximum(np.maximum(x_from - points[:, 0], points[:, 0] - x_to), 0.0)
    below = np.maximum(floor - points[:, 1], 0.0)
    inside = (beside == 0) & (points[:, 1] > floor)
    if inside.any() and floor < 0:
        return -float((points[inside, 1] - floor).max())
    return float(np.hypot(beside, below).min())
