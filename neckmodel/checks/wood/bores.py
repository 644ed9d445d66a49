"""head/bores and head/ramp: the holes bored into a slotted head, and the strings' way down into its slots. Lengths
mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.cutter import tool_mesh
from neckmodel.checks.measure.holes import hole_to_skin
from neckmodel.checks.measure.neck import in_openings
from neckmodel.checks.measure.triangles import unit_normals
from neckmodel.checks.remedies.slots import bored_elsewhere, gentler_way
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.checks.wood.holes import roller_as_hole
from neckmodel.findings import FAIL, WARN, Finding, limit_finding, skipped_finding
from neckmodel.layout.hardware.slots import BoreWall, between, on_head

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.geometry.types import Floats, Point3
    from neckmodel.layout.hardware.descent import Descent
    from neckmodel.layout.hardware.slots import SlotPair

FACING = 0.7  # least cosine between a hole's axis and the normal of skin that it may be bored through
ROUND = 0.02  # mm by which a slot's rounded end may be off in its mesh
WORDS = {"face": "the head's face", "back": "the head's back or side", "slot": "its slot's end"}


@dataclass(frozen=True)
class _Found:
    """The least wood of one bore: bounds, mm, what it lies beside, and where."""

    wall: BoreWall
    hi: float
    at: Point3


def check_bores(bench: Bench) -> list[Finding]:
    """Both findings; none for a head without slots."""
    pair = bench.layout.slots
    if pair is None:
        return []
    if not pair.rollers:
        says = "no tuners are stated: list them in head.tuners"
        return [skipped_finding(check=name, part="neck", says=says) for name in ("head/bores", "head/ramp")]
    return [_bores(bench, pair), _ramp(bench)]


def _bores(bench: Bench, pair: SlotPair) -> Finding:
    limit, tolerances = bench.design.limits.head_bores, bench.design.workshop.tolerances
    found = [*_to_outside(bench, pair), *_to_slot_end(bench, pair)]
    for a, b in combinations(pair.rollers, 2):
        wood = between(a, b)
        found.append(_Found(BoreWall(a.name, b.name, wood), wood, a.end))
    least = min(found, key=lambda one: one.wall.wood)
    wood, to = least.wall.wood, WORDS.get(least.wall.to, least.wall.to)
    worst = wood - tolerances.sideways - tolerances.measuring
    verdict = at_least(wood, limit, worst)
    says = f"the hole of {least.wall.tuner} keeps {wood:.2f} mm to {to}"
    if wood <= 0:
        says = f"the hole of {least.wall.tuner} runs into {to}"
    elif verdict == FAIL:
        says += f", {short_by(wood, limit)}"
    elif verdict == WARN:
        says += f", but with every tolerance at its worst only {worst:.2f} mm"
    return limit_finding(
        check="head/bores",
        part=least.wall.tuner,
        verdict=verdict,
        says=says,
        measured=wood,
        error=max(least.hi - wood, 0.0),
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(bench.layout, least.at),
        remedy=bored_elsewhere(bench.layout, [one.wall for one in found], limit, wood - worst)
        if verdict == FAIL
        else None,
    )


def _to_outside(bench: Bench, pair: SlotPair) -> list[_Found]:
    """From each bore to the head's face, and to its finished skin other than what it is bored through."""
    neck = bench.neck
    faces = [opening for opening in neck.openings if opening.name == "head face"]
    face = replace(neck, skin=np.flatnonzero(in_openings(neck.mesh.triangles, faces)))
    beside = replace(neck, skin=neck.skin[np.abs(unit_normals(neck.skin_triangles)[:, 1]) < FACING])
    found = []
    for roller in pair.rollers:
        hole = roller_as_hole(roller)
        for name, prepared in (("face", face), ("back", beside)):
            wall = hole_to_skin(hole, prepared)
            if wall is not None:
                found.append(_Found(BoreWall(roller.name, name, wall.lo), wall.hi, wall.at_hole))
    return found


def _to_slot_end(bench: Bench, pair: SlotPair) -> list[_Found]:
    """From each bore to the nearer end of its slot, along the face; the slot as its tool is, its ramp left out."""
    head, found = bench.layout.head, []
    for roller in pair.rollers:
        number = 1 if roller.sign < 0 else 2
        tool = next(hole for hole in bench.parts.holes if hole.step == f"head-slot-{number}")
        corners = np.asarray(tool_mesh(tool.solid).vertices)
        told = np.array([on_head(head, (float(x), float(y), float(z))) for x, y, z in corners])
        under = told[told[:, 2] < -pair.thickness, 0]  # below the head there is no ramp
        room = min(float(under.max()) - roller.along, roller.along - float(under.min())) - roller.hole / 2
        found.append(_Found(BoreWall(roller.name, "slot", room), room, roller.middle))
    return found


def _ramp(bench: Bench) -> Finding:
    layout, limit = bench.layout, bench.design.limits.head_ramp
    if not layout.descents:
        says = "no string has a tuner"
        return skipped_finding(check="head/ramp", part="neck", says=says)
    rooms = [(_room(bench, descent), descent) for descent in layout.descents]
    (room, at), descent = min(rooms, key=lambda one: one[0][0])
    tolerances = bench.design.workshop.tolerances
    worst = room - tolerances.sideways - tolerances.measuring
    verdict = at_least(room, limit, worst)
    where, string = descent.least.where, f"string {descent.string}"
    if room <= 0:
        says = f"{string}, on its way to {descent.tuner}, would have to go {-room:.2f} mm deep through the wood"
    else:
        says = f"{string}, on its way to {descent.tuner}, clears the wood by {room:.2f} mm"
    says += {"slot's side": " beside its slot", "near end": " at its slot's near end"}.get(where, f" at the {where}")
    if verdict == FAIL and room > 0:
        says += f", {short_by(room, limit)}"
    elif verdict == WARN:
        says += f", but with every tolerance at its worst only by {worst:.2f} mm"
    return limit_finding(
        check="head/ramp",
        part="neck",
        verdict=verdict,
        says=says,
        measured=room,
        error=ROUND,
        limit=limit,
        worst_case=worst,
        basis=COMMON,
        at=place(layout, at),
        remedy=gentler_way(layout, limit, room - worst) if verdict == FAIL else None,
        more={f"string_{one.string}": round(found, 3) for (found, _), one in rooms},
    )


def _room(bench: Bench, descent: Descent) -> tuple[float, Point3]:
    """(least room between a string's under side and the drilled wood, square to the head's face; where), mm: on the
    wood's section in the plane of the string and the face's normal."""
    layout = bench.layout
    line = next(string for string in layout.frets.strings if string.number == descent.string)
    roller = next(one for one in layout.rollers if one.name == descent.tuner)
    start = np.array(on_head(layout.head, (line.x_nut, line.y_nut, line.z_nut)))
    end = np.array([roller.along, roller.y, roller.top])
    reach = float(np.hypot(*(end - start)[:2]))
    ahead = (end - start)[:2] / reach
    turn = math.radians(layout.head.angle)
    along = np.array([math.cos(turn), 0.0, math.sin(turn)])
    up = np.array([-math.sin(turn), 0.0, math.cos(turn)])
    foot = np.array([layout.head.x_line, 0.0, -layout.head.drop])
    run = ahead[0] * along + ahead[1] * np.array([0.0, 1.0, 0.0])
    # the mesh library cuts level sections: the plane is turned level, so that its x is the way and its y the height
    turned = np.vstack([run, up, np.cross(run, up)])
    from_nut = foot + start[0] * along + np.array([0.0, start[1], 0.0])
    section = bench.drilled.transform(np.column_stack([turned, -turned @ from_nut])).slice(0.0).to_polygons()
    fall = (start[2] - end[2]) / reach
    best, best_at = math.inf, (0.0, 0.0)
    for ring in section:
        for a, b in _clipped(np.asarray(ring, float), reach):
            for way, height in (a, b):
                room = start[2] - fall * way - height
                if room < best:
                    best, best_at = room, (way, height)
    x, y, z = (from_nut + best_at[0] * run + best_at[1] * up).tolist()
    return best, (x, y, z)


def _clipped(ring: Floats, reach: float) -> list[tuple[Floats, Floats]]:
    """The edges of a ring (n, 2), cut off at both ends of the way from 0 to `reach`."""
    found = []
    for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        low, high = (a, b) if a[0] <= b[0] else (b, a)
        if high[0] < 0 or low[0] > reach:
            continue
        span = high[0] - low[0]
        shares = [0.0, 1.0] if span <= SLACK else [max(-low[0] / span, 0.0), min((reach - low[0]) / span, 1.0)]
        found.append((low + shares[0] * (high - low), low + shares[1] * (high - low)))
    return found
