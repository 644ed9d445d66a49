"""access/...: a key that enters through the soundhole, under the body's top and through its braces.

The body is not built. What is measured on the solids is where the adjuster's axis lies and how long the key is; the
body's own sizes are as stated.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.each import each_rod
from neckmodel.checks.measure.key import collisions
from neckmodel.checks.measure.section import extent_at
from neckmodel.checks.remedies.soundhole import (
    drawn_out,
    longer_key,
    shorter_arm,
    slimmer_handle,
    under_top,
    wood_over,
    wood_under,
)
from neckmodel.checks.rod.access import FREE, GAP_ERROR, NEXT, KeyWay, around, blocked, key_way, room_round
from neckmodel.checks.verdict import COMMON, SLACK, at_least, place, short_by
from neckmodel.findings import FAIL, PASS, WARN, Finding, Verdict, limit_finding
from neckmodel.layout.channel.step import plain
from neckmodel.layout.sides import Side

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy
    from neckmodel.layout.access.soundhole import SoundholeWay
    from neckmodel.layout.key.key import KeyPlace
    from neckmodel.layout.rod.rod import RodPlace

KEY = "adjusting-key"
GEOMETRY = "geometry"
MESH_ERROR = 0.02  # mm, round adjusters and keys are meshed this fine
INSIDE = 0.05  # mm, a section is taken this far from the adjuster's inner end
TOP_IS = "the top as stated; the back is taken to be as thick, by common practice, no source"


@each_rod
def check_way(bench: Bench) -> list[Finding]:
    """access/reach, access/top, access/brace, access/strings: for which no neck need be carved."""
    rod, key, way = bench.layout.rod, bench.layout.key, bench.layout.soundhole_way
    if rod is None or key is None or way is None:
        return []
    off = _axis_off(bench, rod)
    return [_reach(bench, key, way), _top(bench, key, way, off), *_brace(bench, way, off), _strings(bench, key, way)]


@each_rod
def check_turning(bench: Bench) -> list[Finding]:
    """access/swing and access/withdraw, with the neck's wood and all that lies in its way."""
    rod, key, way = bench.layout.rod, bench.layout.key, bench.layout.soundhole_way
    if rod is None or key is None or way is None:
        return []
    off, there = _axis_off(bench, rod), around(bench, key)
    turning = key_way(key, key.engaged + FREE)
    leaving = turning if key.kind == "L-key" else key_way(key, key.length + key.engaged)
    found = []
    for check, pieces, make in (("access/swing", turning, _swing), ("access/withdraw", leaving, _withdraw)):
        looked = KeyWay(check, collisions(pieces, there), pieces, there)
        if looked.hits:
            found.append(blocked(bench, looked, FAIL))
        else:
            found.append(make(bench, key, way, off, room_round(looked)))
    return found


def _axis_off(bench: Bench, rod: RodPlace) -> float:
    """How far the adjuster's axis, by the rod's solid, lies above its place in the layout, mm."""
    x = rod.x_block + rod.outward * INSIDE  # behind the socket
    box = extent_at(bench.part("rod").solid, x)
    lean = (x - rod.x_adjuster) * rod.outward * math.tan(math.radians(rod.tilt))
    return float(box[0, 2] + box[1, 2]) / 2 - (lean - rod.axis)


def _length(bench: Bench, key: KeyPlace) -> float:
    """The key's length with its handle, of an L-key its arm's, by its solid, mm."""
    corners = np.asarray(bench.mesh(KEY).vertices) - (key.x_tip, key.y, -key.axis)
    return float((corners @ np.asarray(key.way_out)).max())


def _found(
    bench: Bench,
    check: str,
    says: str,
    measured: float,
    at: tuple[float, float, float],
    *,
    limit: float = 0.0,
    worst: float | None = None,
    verdict: Verdict | None = None,
    error: float = MESH_ERROR,
    basis: str = GEOMETRY,
    remedy: Remedy | None = None,
    more: dict[str, float] | None = None,
) -> Finding:
    return limit_finding(
        check=check,
        part=KEY,
        verdict=verdict or at_least(measured, limit, worst),
        says=says,
        measured=measured,
        error=error,
        limit=limit,
        worst_case=worst,
        basis=basis,
        at=place(bench.layout, at),
        remedy=remedy,
        more={} if more is None else {name: round(value, 4) for name, value in more.items()},
    )


def _reach(bench: Bench, key: KeyPlace, way: SoundholeWay) -> Finding:
    """The key's length, as its solid has it, less the least that would do."""
    measured = _length(bench, key) - way.least
    loss = bench.design.workshop.tolerances.measuring
    worst = measured - loss
    verdict = at_least(measured, 0.0, worst)
    edge = "the soundhole's edge"
    what, have = ("arm in the socket", "its other arm hangs clear of") if key.hangs else ("key", "its end is held past")
    long = (
        f"the {what} is {way.length:.2f} mm long{'' if key.hangs or not key.handle_length else ', its handle counted'}"
    )
    says = f"{long}: {measured:.2f} mm more than it takes until {have} {edge}"
    if verdict == FAIL:
        says = f"{long}, {short_by(measured, 0.0)}: it takes {way.least:.2f} mm until {have} {edge}"
    elif verdict == WARN:
        says += f": measured {loss:.2f} mm wrong, it is too short"
    remedy = None if verdict == PASS else longer_key(bench.layout, -measured, loss)
    at = (way.x_from, key.y, _axis_at(key, way.x_from))
    more = {"length": way.length, "least": way.least}
    return _found(bench, "access/reach", says, measured, at, worst=worst, remedy=remedy, more=more)


def _axis_at(key: KeyPlace, x: float) -> float:
    """z of the key's axis at x."""
    return -key.axis + (x - key.x_tip) * math.tan(math.radians(key.tilt))


def _loss(bench: Bench) -> float:
    """What may bring the axis nearer to the top, or farther from it: the channel's floor, and the body's sizes."""
    tolerances = bench.design.workshop.tolerances
    return tolerances.depth + tolerances.measuring


def _top(bench: Bench, key: KeyPlace, way: SoundholeWay, off: float) -> Finding:
    room, loss = way.under_top, _loss(bench)
    measured = room.value - off
    worst = measured - loss
    verdict = at_least(measured, 0.0, worst)
    says = f"the bore passes {measured:.2f} mm under the top, nearest at x {room.x:.2f} mm"
    if verdict == FAIL:
        says = f"the bore cuts {-measured:.2f} mm into the top at x {room.x:.2f} mm"
    elif verdict == WARN:
        says += f": with depth and measuring at their worst it cuts {-worst:.2f} mm into it"
    if key.kind == "ball-end":
        says += f"; the key is tilted by {key.tilt:.0f} degrees"
    remedy = None if verdict == PASS else under_top(bench.layout, -measured, loss)
    at, more = (room.x, key.y, way.top.under(room.x)), {"diameter": way.diameter, "tilt": key.tilt}
    return _found(bench, "access/top", says, measured, at, worst=worst, remedy=remedy, more=more)


def _brace(bench: Bench, way: SoundholeWay, off: float) -> list[Finding]:
    """The brace with least wood under the bore, or over it where only that is little; none without braces."""
    over, under = way.over_braces, way.under_braces
    if over is None or under is None:
        return []
    limit, loss = bench.design.limits.access_brace, _loss(bench)
    above, below = over.value - off, under.value + off
    verdict = at_least(below, limit, below - loss)
    more: dict[str, float] = {}
    for hole in way.braces:
        if hole.over is not None and hole.under is not None:
            name = hole.name.replace("-", "_")
            more |= {f"{name}_over": hole.over.value - off, f"{name}_under": hole.under.value + off}
    wood = f"{above:.2f} mm of wood over the bore, {below:.2f} mm under it where there is least"
    remedy, measured, at_x = None, below, under.x
    if verdict == FAIL:
        cut = f"the bore comes out under {_name(way, under.x)}, {-below:.2f} mm deep"
        lack = f"{_name(way, under.x)} keeps {below:.2f} mm of wood under the bore, {short_by(below, limit)}"
        says = cut if below <= 0 else lack
        remedy = wood_under(bench.layout, way, limit - off, loss)
    elif above < limit - SLACK:
        verdict, measured, at_x = WARN, above, over.x
        cut = f"the bore comes out over {_name(way, over.x)}, {-above:.2f} mm deep: there the top is glued to it"
        lack = (
            f"{_name(way, over.x)} keeps {above:.2f} mm of wood over the bore, {short_by(above, limit)}: there the top "
            "is glued to it"
        )
        says = cut if above <= 0 else lack
        remedy = wood_over(bench.layout, way, limit + off, 0.0)
    elif verdict == WARN:
        says = f"{wood}; with depth and measuring at their worst {below - loss:.2f} mm under it"
        remedy = wood_under(bench.layout, way, limit - off, loss)
    else:
        says = wood
    z = way.top.under(at_x)
    at = (at_x, 0.0 if bench.layout.key is None else bench.layout.key.y, z)
    worst = None if measured != below else below - loss  # what is over the bore warns by itself
    return [
        _found(
            bench,
            "access/brace",
            says,
            measured,
            at,
            limit=limit,
            worst=worst,
            verdict=verdict,
            basis=COMMON,
            remedy=remedy,
            more=more,
        )
    ]


def _name(way: SoundholeWay, x: float) -> str:
    """The brace in which the bore lies at x: "brace 1"."""
    return plain(next(hole.name for hole in way.braces if hole.x_start - SLACK <= x <= hole.x_end + SLACK))


def _swing(bench: Bench, key: KeyPlace, way: SoundholeWay, off: float, gap: tuple[float, str]) -> Finding:
    """A hanging arm needs the body's inside depth; a straight key turns in its bore, its handle beyond it."""
    room, near = gap
    says, at = f"the key turns from {NEXT[0]}; the nearest is {near}", (key.x_tip, key.y, -key.axis)
    if key.hangs:
        room, loss = way.under_arm(key) + off, _loss(bench)
        worst = room - loss
        x = key.x_tip + key.arm
        verdict = at_least(room, 0.0, worst)
        says = f"its arm hangs {room:.2f} mm over the back's inner side as it turns"
        if verdict == FAIL:
            says = f"its hanging arm meets the back's inner side, {-room:.2f} mm too long"
        elif verdict == WARN:
            says += f": with depth and measuring at their worst it meets it, {-worst:.2f} mm too long"
        remedy = None if verdict == PASS else shorter_arm(bench.layout, -room, loss)
        at = (x, key.y, way.top.back(x))
        basis = f"{GEOMETRY}; {TOP_IS}"
        return _found(bench, "access/swing", says, room, at, worst=worst, basis=basis, remedy=remedy)
    handle = way.round_handle(key)
    if handle is not None and handle.value - off < room:
        room = handle.value - off
        at = (handle.x, key.y, _axis_at(key, handle.x))
        says = f"the key turns from {NEXT[0]}, its handle {room:.2f} mm clear of the body"
        if room < -SLACK:
            says = f"the key's handle is {-room:.2f} mm in the way of the body's top, block or braces"
    return _found(bench, "access/swing", says, room, at, error=GAP_ERROR)


def _withdraw(bench: Bench, key: KeyPlace, way: SoundholeWay, off: float, gap: tuple[float, str]) -> Finding:
    """Drawn back until its tip is free, its outer end lies in the soundhole, or passes under the top beyond it."""
    tolerances = bench.design.workshop.tolerances
    long = _length(bench, key) - way.length
    lengthways, upright = way.past_edge - long, way.under_far_edge(key) - off
    inside = lengthways - tolerances.measuring >= upright - _loss(bench)
    measured, loss = (lengthways, tolerances.measuring) if inside else (upright, _loss(bench))
    worst = measured - loss
    verdict = at_least(measured, 0.0, worst)
    free = f"drawn back until its tip is free at x {way.x_free:.2f} mm, "
    says = f"{free}its outer end lies {lengthways:.2f} mm before the soundhole's far edge"
    if not inside:
        says = f"{free}the key passes {upright:.2f} mm under the top beyond the soundhole"
    if verdict == FAIL:
        says = (
            f"{free}its outer end lies {-lengthways:.2f} mm past the soundhole's far edge, and it lacks "
            f"{-upright:.2f} mm to pass under the top there"
        )
    elif verdict == WARN:
        says += f": measured {loss:.2f} mm wrong, it does not"
    remedy = None if verdict == PASS else drawn_out(bench.layout, -lengthways, -upright, loss)
    at = (way.x_to, key.y, _axis_at(key, way.x_to))
    more = {"past_edge": lengthways, "under_top": upright, "in_the_neck": gap[0]}
    return _found(bench, "access/withdraw", says, measured, at, worst=worst, remedy=remedy, more=more)


def _strings(bench: Bench, key: KeyPlace, way: SoundholeWay) -> Finding:
    """Room beside the outer string for what is widest of the key; a warning where it must be slackened."""
    measured = way.beside - way.widest
    what = "its handle" if way.widest > key.corners else "the key"
    says = f"{way.beside:.2f} mm between the outer string and the soundhole's {way.side} edge; {what} takes "
    says += f"{way.widest:.2f} mm"
    if measured < -SLACK:
        says += ": slacken the strings, or push them aside"
    x = (way.x_from + way.x_to) / 2
    y = -way.width / 2 if way.side == Side.BASS else way.width / 2
    remedy = slimmer_handle(bench.layout, -measured) if measured < -SLACK else None
    verdict = PASS if measured >= -SLACK else WARN
    at = (x, y, way.top.over(x))
    return _found(bench, "access/strings", says, measured, at, verdict=verdict, basis=COMMON, remedy=remedy)
