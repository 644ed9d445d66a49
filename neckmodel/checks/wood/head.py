"""head/tuners, head/housings and heel/end: holes against the outside of head and heel, and housings against each
other."""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.measure.holes import HoleWall, hole_to_skin
from neckmodel.checks.remedies.remedy import Aim, any_of, graded, possible
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.checks.wood.holes import tuner_as_hole
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, skipped_finding
from neckmodel.geometry.types import Floats
from neckmodel.layout.neck.edge import head_edge
from neckmodel.layout.workshop.tolerance import sideways_left
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.checks.measure.holes import RoundHole
    from neckmodel.findings import Remedy

FACING = 0.7  # least cosine between a hole's axis and the normal of skin that it may be drilled through
SEARCH = 50.0  # mm within which tuners are compared with each other
INWARD = 0.05  # mm, steps by which a hole is moved
AIMED = 0.1  # mm more than the limit, for a size measured on meshes is a lower bound
ALONG = {"head.tuners": "x", "heel.screws": "from_end"}  # the key for a place along the neck


def check_head(bench: Bench) -> list[Finding]:
    """The findings on the tuners' holes and housings; none on a neck without a head."""
    if bench.layout.head.is_none:
        return []
    if bench.layout.slots is not None:
        return []  # its tuners are looked at by head/bores
    if not bench.layout.tuners:
        return [
            skipped_finding(
                check="head/tuners",
                part="neck",
                says="no tuners are stated: list them in head.tuners",
            )
        ]
    holes = [tuner_as_hole(tuner) for tuner in bench.layout.tuners]
    names = [tuner.name for tuner in bench.layout.tuners]
    limit = bench.design.limits.wall.tuner
    return _skin(bench, "head/tuners", "head.tuners", names, holes, limit) + _housings(bench, names)


def _skin(
    bench: Bench, check: str, where: str, names: list[str], holes: list[RoundHole], limit: float
) -> list[Finding]:
    walls = [(hole_to_skin(hole, bench.neck, FACING), k) for k, hole in enumerate(holes)]
    found = [(wall, k) for wall, k in walls if wall is not None]
    if not found:
        return []
    wall, k = min(found, key=lambda w: w[0].lo)
    tolerances = bench.design.workshop.tolerances
    worst = wall.lo - sideways_left(tolerances, bench.layout, f"{where}[{k}]") - tolerances.measuring
    verdict = at_least(wall.lo, limit, worst)
    outside = f"the {check.partition('/')[0]}'s outside"
    says = f"wood between {names[k]} and {outside}"
    if wall.lo <= 0:
        says = f"{names[k]} comes out through {outside}"
    elif verdict == FAIL:
        says += f": {wall.lo:.2f} mm, {short_by(wall.lo, limit)}"
    elif verdict == WARN:
        says += f": {wall.lo:.2f} mm, but with every tolerance at its worst only {worst:.2f} mm"
    return [
        limit_finding(
            check=check,
            part=names[k],
            verdict=verdict,
            says=says,
            measured=wall.lo,
            error=max(wall.hi - wall.lo, 0.0),
            limit=limit,
            worst_case=worst,
            basis=COMMON,
            at=place(bench.layout, wall.at_hole),
            remedy=graded(
                bench.design, lambda aim: _inward(bench, where, found, limit + aim.spare, aim), wall.lo - worst
            )
            if verdict != PASS
            else None,
        )
    ]


def _inward(bench: Bench, where: str, found: list[tuple[HoleWall, int]], limit: float, aim: Aim) -> Remedy | None:
    """Every hole that is too near to the outside moved away from it: across the neck if the outside lies beside it,
    else along.

    A tuner's hole that has come out is moved toward the centre line, as far as the head's outline requires. None where
    a hole of the heel has come out, for its axis no longer tells how far.
    """
    settings: dict[str, float | str] = {}
    for wall, k in found:
        if wall.lo >= limit - SLACK:
            continue
        across = np.subtract(wall.at_other, wall.at_hole)
        distance = float(np.linalg.norm(across))
        if wall.lo <= 0 or distance == 0:
            y = _within_outline(bench, k, limit, aim) if where == "head.tuners" else None
            if y is None:
                return None
            settings[f"{where}.{k}.y"] = y
            continue
        by = (limit - wall.lo) / float(np.abs(across[:2]).max() / distance) + 2 * (wall.hi - wall.lo)
        stated = bench.design.head.posts[k] if where == "head.tuners" else bench.design.heel.screws[k]
        key = "y" if abs(across[1]) >= abs(across[0]) else ALONG[where]
        toward = float(np.sign(across[1]) if key == "y" else np.sign(across[0]))
        if key == "from_end":  # from_end counts the other way than x
            toward = -toward
        name, value = f"{where}.{k}.{key}", getattr(stated, key)
        settings[name] = aim.down(name, value - by) if toward > 0 else aim.up(name, value + by)
    return possible(bench.design, settings)


def _within_outline(bench: Bench, k: int, limit: float, aim: Aim) -> float | None:
    """The y nearest to a tuner's own at which its hole keeps the limit to the head's outline, mm; None where none
    does."""
    tuner, edge = bench.design.head.posts[k], head_edge(bench.layout.outside)
    need = tuner.hole / 2 + limit + AIMED
    y = 0.0
    while y < abs(tuner.y) and edge.hole_rim(tuner.x, y) >= need:
        y += INWARD
    key = f"head.tuners.{k}.y"
    return None if y == 0 else math.copysign(aim.down(key, y - INWARD), tuner.y)


def _housings(bench: Bench, names: list[str]) -> list[Finding]:
    solids = {name: to_manifold(bench.mesh(name), name) for name in names}
    boxes = {name: np.asarray(solid.bounding_box()).reshape(2, 3) for name, solid in solids.items()}
    apart = sorted((_between(boxes[a], boxes[b]), a, b) for a, b in combinations(solids, 2))
    gaps: list[tuple[float, str, str]] = []
    for least, a, b in apart:  # pairs whose boxes are farther apart than the nearest two solids need no measuring
        if not gaps or least <= min(gaps)[0]:
            gaps.append((solids[a].min_gap(solids[b], SEARCH), a, b))
    if not gaps:
        return []
    gap, a, b = min(gaps)
    meeting = [(first, second) for distance, first, second in gaps if distance <= 0]
    on_face = next(tuner.on_face for tuner in bench.layout.tuners if tuner.name == a)
    return [
        limit_finding(
            check="head/housings",
            part=a,
            verdict=PASS if gap > 0 else FAIL,
            says=f"the nearest two tuners, {a} and {b}" if gap > 0 else f"{a} and {b} are in each other's way",
            measured=gap,
            error=0.02,
            limit=0.0,
            basis="geometry",
            at=place(bench.layout, on_face),
            remedy=_apart(bench, *meeting[0]) if meeting else None,
        )
    ]


def _between(first: Floats, second: Floats) -> float:
    """Distance between two boxes (2, 3), mm."""
    return float(np.linalg.norm(np.maximum(np.maximum(first[0] - second[1], second[0] - first[1]), 0.0)))


def _apart(bench: Bench, first: str, second: str) -> Remedy | None:
    """Two housings moved apart along the head: the nearer one back toward the nut, or the farther one away with all
    that follow it in its row. Either hole may be off by the tolerance of its place."""
    tuners = {tuner.name: k for k, tuner in enumerate(bench.layout.tuners)}
    stated = bench.design.head.posts
    near, far = sorted((tuners[first], tuners[second]), key=lambda k: -stated[k].x)
    apart = (stated[near].housing.length + stated[far].housing.length) / 2
    by = apart - (stated[near].x - stated[far].x)
    row = [k for k, t in enumerate(stated) if t.y * stated[far].y >= 0 and t.x <= stated[far].x and k != near]

    def moved(aim: Aim) -> Remedy | None:
        more, ways = by + max(aim.spare, SLACK), []
        for way in ({near: more}, {far: -more}, dict.fromkeys(row, -more)) if more > 0 else ():
            keys = {k: f"head.tuners.{k}.x" for k in way}
            to = {keys[k]: (aim.up if m > 0 else aim.down)(keys[k], stated[k].x + m) for k, m in way.items()}
            ways += [to] if to not in ways else []
        return any_of(*(possible(bench.design, to) for to in ways))

    return graded(bench.design, moved, 2 * bench.design.workshop.tolerances.sideways)
