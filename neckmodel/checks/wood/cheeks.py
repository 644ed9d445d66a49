"""head/cheek and head/core: the wood that the slots of a head leave outside them and between them. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.bracket import bracket
from neckmodel.checks.measure.cutter import TOOL_LINEAR, in_wood, tool_mesh
from neckmodel.checks.measure.pairs import least_pair
from neckmodel.checks.measure.triangles import as_point, unit_normals
from neckmodel.checks.remedies.slots import broader_cheek, broader_core
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by, step_words
from neckmodel.findings import FAIL, WARN, Finding, limit_finding
from neckmodel.layout.hardware.slots import in_frame
from neckmodel.meshes import to_manifold
from neckmodel.meshes.exact import point_to_faces
from neckmodel.solids.slots import bare_slots

if TYPE_CHECKING:
    import trimesh

    from neckmodel.checks.bench import Bench
    from neckmodel.geometry.types import Floats, Point3
    from neckmodel.layout.hardware.slots import SlotPair

LOOKING = 0.7  # least cosine between skin beside or beyond a slot and the way from the slot to it


@dataclass(frozen=True)
class _Wood:
    """Wood between two surfaces: bounds for it, mm, what it lies beside, and where."""

    lo: float
    hi: float
    beside: str
    at: Point3
    limit: float


def check_slots(bench: Bench) -> list[Finding]:
    """Both findings; none for a head without slots."""
    pair = bench.layout.slots
    if pair is None:
        return []
    slots = [tool_mesh(tool.solid) for tool in bare_slots(bench.layout)]  # beside a ramp the wood is hardly cut
    return [_cheek(bench, slots), _core(bench, pair, slots)]


def _cheek(bench: Bench, slots: list[trimesh.Trimesh]) -> Finding:
    neck, limit = bench.neck, bench.design.limits.head_cheek
    turn = math.radians(bench.layout.head.angle)
    normals = unit_normals(neck.skin_triangles)
    beyond = normals @ np.array([-math.cos(turn), 0.0, -math.sin(turn)])
    skin = neck.skin[(np.abs(normals[:, 1]) > LOOKING) | (beyond > LOOKING)]
    found = []
    for mesh in slots:
        surface = in_wood(neck, mesh).surface
        first = least_pair(surface, neck.mesh.triangles[skin])
        wall = bracket(neck.mesh, skin, surface, first.distance)
        exact, foot = point_to_faces(wall.at_tool, [neck.mesh.faces[wall.face]])
        broken = first.distance <= SLACK
        lo = 0.0 if broken else wall.lo - TOOL_LINEAR
        hi = 0.0 if broken else min(wall.hi, exact) + TOOL_LINEAR
        found.append(_Wood(lo, hi, "the head's outside", as_point(foot), limit))
    least = min(found, key=lambda one: one.lo)
    says = f"{max(least.lo, 0.0):.2f} mm of wood outside the slots of the head"
    return _finding(bench, "head/cheek", least, says)


def _core(bench: Bench, pair: SlotPair, slots: list[trimesh.Trimesh]) -> Finding:
    one, other = (to_manifold(mesh, "slot in the head") for mesh in slots)
    whole = float(one.min_gap(other, 2 * pair.core + 1.0))
    middle = in_frame(bench.layout.head, pair.near, 0.0, 0.0)
    found = [_Wood(whole, whole, "", middle, bench.design.limits.head_core)]
    within = [in_wood(bench.neck, mesh).surface for mesh in slots]
    for step in bench.layout.steps:
        cut = bench.in_wood(step.name).surface
        if step.x_start < 0 and len(cut):
            found.append(_to_step(cut, within, step_words(step.name), bench.design.limits.wall.access_slot))
    least = min(found, key=lambda one: one.lo - one.limit)
    if not least.beside:
        says = f"{least.lo:.2f} mm of wood between the slots of the head"
    else:
        says = f"{least.lo:.2f} mm of wood from a slot of the head to the {least.beside} between them"
    return _finding(bench, "head/core", least, says)


def _to_step(cut: Floats, within: list[Floats], name: str, limit: float) -> _Wood:
    pairs = [least_pair(surface, cut) for surface in within]
    least = min(pairs, key=lambda one: one.distance)
    error = 2 * TOOL_LINEAR
    return _Wood(least.distance - error, least.distance + error, name, as_point(least.on_first), limit)


def _finding(bench: Bench, check: str, least: _Wood, says: str) -> Finding:
    tolerances = bench.design.workshop.tolerances
    loss = tolerances.sideways + tolerances.measuring
    worst = least.lo - loss
    verdict = at_least(least.lo, least.limit, worst)
    if verdict == FAIL:
        says += f", {short_by(least.lo, least.limit)}"
    elif verdict == WARN:
        says += f", but with every tolerance at its worst only {worst:.2f} mm"
    remedy = None
    if verdict == FAIL:
        way = broader_cheek if check == "head/cheek" else broader_core
        remedy = way(bench.layout, least.limit, least.lo, loss, halves=bool(least.beside))
    return limit_finding(
        check=check,
        part="neck",
        verdict=verdict,
        says=says,
        measured=least.lo,
        error=least.hi - least.lo,
        limit=least.limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, least.at),
        remedy=remedy,
    )
