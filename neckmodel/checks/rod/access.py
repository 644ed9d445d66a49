"""access/swing, access/withdraw, access/strings: the key's whole way, swept through everything that will be in place
when the key is used."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d

from neckmodel.checks.each import each_rod
from neckmodel.checks.measure.key import (
    BentKey,
    Collision,
    StraightKey,
    UprightBar,
    bar_sweep,
    bent_sweep,
    collisions,
    placed,
    straight_sweep,
)
from neckmodel.checks.measure.strings import string_ways
from neckmodel.checks.remedies.clearance import moved_off_key
from neckmodel.checks.remedies.remedy import Aim, any_of, graded, ladder, possible
from neckmodel.checks.remedies.slot import left_at_end, run_out
from neckmodel.checks.verdict import SLACK, place
from neckmodel.findings import FAIL, PASS, WARN, Finding, limit_finding, skipped_finding
from neckmodel.layout.channel.step import StepName
from neckmodel.layout.key.reach import key_reach
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy, Verdict
    from neckmodel.layout import Layout
    from neckmodel.layout.key.key import KeyPlace

NEXT = ("flat to flat", "hole to hole")  # the next place of the key in a hexagon, in a spoke wheel
# play of the worst key in the worst socket, degrees, from the limits of ISO 4762 sockets and JIS B 4648 keys at 4 mm
WORST_PLAY = 7.3
GAP_ERROR = 0.05  # mm, of gaps between meshes
WORDS = ("neck", "nut", "nut-strip", "fretboard", "clamp")  # parts that are named with "the", for there is one of each
TELLING = 0.1  # mm3: volumes are printed to this
FREE = 1.0  # mm outside the socket at which a key counts as drawn out
SEARCH = 10.0  # mm round the key's way within which gaps are measured
NO_KEY = "no key is stated: add [adjusting_key]"
BASIS = "geometry"


@each_rod
def check_access(bench: Bench) -> list[Finding]:
    """The findings on the key's way; none where no key is stated or no rod is there. A key that enters through the
    soundhole has checks of its own."""
    key = bench.layout.key
    if bench.layout.soundhole_way is not None:
        return []
    if key is None:
        return (
            []
            if bench.layout.rod is None
            else [
                skipped_finding(
                    check="access/swing",
                    part="adjusting-key",
                    says=NO_KEY,
                )
            ]
        )
    there = around(bench, key)
    turning = key_way(key, key.engaged + FREE)
    leaving = key_way(key, key.length + key.engaged) if key.kind in ("straight", "ball-end") else turning
    return [
        _swing(bench, key, turning, there),
        _withdraw(bench, key, leaving, there),
        _strings(bench, key, turning),
    ]


def around(bench: Bench, key: KeyPlace) -> dict[str, manifold3d.Manifold]:
    """The parts that may be in the key's way: wood, nut, fretboard, and tuners or clamp at the nut or screws at the
    heel."""
    layout = bench.layout
    if key.outward < 0:
        near = bench.drilled.trim_by_plane((-1.0, 0.0, 0.0), -layout.back.x_1)  # the key's way ends before fret 1
        others = [t.name for t in layout.tuners] + [one.name for one in layout.rollers]
        if key.kind == "L-key":  # a straight one goes through a hole in the clamp, which is the clamp's
            others += [] if layout.clamp is None else ["clamp"]
    else:
        near = bench.drilled.trim_by_plane((1.0, 0.0, 0.0), min(layout.heel.x_joint, key.x_tip) - SEARCH)
        others = [s.name for s in layout.screws]
    found = {"neck": near}
    there = [name for name in ("nut", "fretboard", *others) if name in bench.parts]
    there += ["fretboard"] if bench.parts.fretboard is not None else []
    return found | {name: to_manifold(bench.mesh(name), name) for name in there}


def _swing_needed(key: KeyPlace) -> float:
    """Degrees from one place in the socket to the next, plus the play of the worst key in the worst socket."""
    return key.turn + (0.0 if key.kind == "bar" else WORST_PLAY)


def key_way(key: KeyPlace, withdraw: float) -> list[manifold3d.Manifold]:
    """The key's sweep in the neck's frame: turned, and drawn out by `withdraw` mm."""
    handle = (key.handle_diameter, key.handle_length)
    if key.kind == "bar":
        bar = UprightBar(key.corners, key.tip_radius, key.length, *handle)
        pieces = bar_sweep(bar, math.radians(_swing_needed(key) / 2), withdraw)
    elif key.kind == "L-key":
        half = math.radians(max(_swing_needed(key), key.swing) / 2)
        pieces = bent_sweep(BentKey(key.corners, key.arm, key.rise), half, withdraw)
        pieces = [piece.rotate((180.0, 0.0, 0.0)) for piece in pieces] if key.hangs else pieces
    else:
        pieces = straight_sweep(StraightKey(key.corners, key.reach, *handle), withdraw)
    return placed(pieces, (key.x_tip, key.y, -key.axis), key.way_out)


@dataclass(frozen=True)
class KeyWay:
    """One way of the key: its pieces, what it meets, and the finding if it meets nothing."""

    check: str
    hits: list[Collision]
    pieces: list[manifold3d.Manifold]
    solids: dict[str, manifold3d.Manifold]


def room_round(looked: KeyWay) -> tuple[float, str]:
    """(least gap, mm; to which solid) for a way that meets nothing."""
    gaps = [(piece.min_gap(solid, SEARCH), name) for piece in looked.pieces for name, solid in looked.solids.items()]
    return min(gaps, default=(SEARCH, ""))


def _clear(bench: Bench, key: KeyPlace, looked: KeyWay, says: str) -> Finding:
    gap, name = room_round(looked)
    return limit_finding(
        check=looked.check,
        part="adjusting-key",
        verdict=PASS,
        says=f"{says}; the nearest is {name}" if name else says,
        measured=gap,
        error=GAP_ERROR,
        limit=0.0,
        basis=BASIS,
        at=place(bench.layout, (key.x_tip, key.y, -key.axis)),
    )


def blocked(bench: Bench, looked: KeyWay, verdict: Verdict, ending: str = "", remedy: Remedy | None = None) -> Finding:
    """The finding on a way of the key that meets something: the worst of what it meets first. ending: of its
    sentence."""
    worst = looked.hits[0]
    deep = _depth(looked.pieces, looked.solids[worst.name])
    others = sorted({hit.name for hit in looked.hits[1:]} - {worst.name})
    says = f"the key meets {' and '.join([f'the {worst.name}' if worst.name in WORDS else worst.name, *others])}, "
    much = f"{worst.volume:.1f}" if worst.volume >= TELLING else f"less than {TELLING:.1f}"
    says += f"{much} mm3 of it in the way{ending}"
    return limit_finding(
        check=looked.check,
        part="adjusting-key",
        verdict=verdict,
        says=says,
        measured=-deep,
        error=GAP_ERROR,
        limit=0.0,
        basis=BASIS,
        at=place(bench.layout, worst.at),
        remedy=remedy,
        more={"volume": round(worst.volume, 3)},
    )


def _depth(pieces: list[manifold3d.Manifold], solid: manifold3d.Manifold) -> float:
    """Mean thickness of what the worst piece of the way shares with a solid, mm."""
    common = [piece ^ solid for piece in pieces]
    return max((2 * c.volume() / c.surface_area() for c in common if c.volume() > 0), default=0.0)


def _swing(
    bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]
) -> Finding:
    """The key turned from one flat or hole to the next; for an L-key, by the whole angle for which its slot is cut."""
    need = _swing_needed(key)
    if key.kind == "L-key" and key.swing < need:
        says = (
            f"the slot lets the key turn {key.swing:.1f} degrees; to set it on the next flat takes {need:.1f} degrees"
        )
        return limit_finding(
            check="access/swing",
            part="adjusting-key",
            verdict=FAIL,
            says=says,
            measured=key.swing,
            error=0.0,
            limit=need,
            unit="degrees",
            basis="ISO 4762, JIS B 4648",
            at=place(bench.layout, (key.x_tip + key.outward * key.arm, key.y, -key.axis)),
            remedy=ladder(bench.design, {"channel.key_swing": 75}),
        )
    looked = KeyWay("access/swing", collisions(pieces, solids), pieces, solids)
    if not looked.hits:
        return _clear(bench, key, looked, f"the key turns from {NEXT[key.kind == 'bar']}")
    return blocked(bench, looked, FAIL, _slot_ends(bench.layout, key), _way_cleared(bench, key, looked))


def _slot_ends(layout: Layout, key: KeyPlace) -> str:
    left = left_at_end(layout) if key.outward > 0 else 0.0
    return f": its slot ends {left:.2f} mm before the wood does" if left > SLACK else ""


def _way_cleared(bench: Bench, key: KeyPlace, looked: KeyWay) -> Remedy | None:
    """Remedies: tuners or screws moved aside; an L-key's adjuster nearer to the nut, or at the heel where its slot runs
    out of the wood; a longer straight key, so that its handle lies beyond the head."""
    others = sorted({hit.name for hit in looked.hits} - set(WORDS))
    if others:
        return moved_off_key(bench, looked.pieces, others)
    loss = bench.design.workshop.tolerances.measuring
    return graded(bench.design, lambda aim: _other_way(bench.layout, key, aim), loss)


def _other_way(layout: Layout, key: KeyPlace, aim: Aim) -> Remedy | None:
    design, found, place_key, length = layout.design, [], "rod_place.from_nut", "adjusting_key.length"
    if key.outward > 0:
        found.append(run_out(layout, aim))
    elif layout.rod is not None:
        reach = key_reach(design)
        corner = min((cutter.diameter for cutter in design.workshop.cutters), default=0.0) / 2
        for x in (reach, reach - corner):  # corners that a cutter leaves in the pocket may be in the way
            if x < layout.rod.x_adjuster - SLACK:
                found.append(possible(design, {place_key: aim.down(place_key, x - aim.spare)}, _no_pocket))
    if key.kind == "straight" and key.handle_diameter > 0:
        found.append(possible(design, {length: aim.up(length, key.x_tip - layout.head.x_far)}, _no_pocket))
    return any_of(*found)


def _no_pocket(layout: Layout) -> bool:
    return all(step.kind != StepName.KEY_SWING for step in layout.steps)


def _withdraw(
    bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]
) -> Finding:
    looked = KeyWay("access/withdraw", collisions(pieces, solids), pieces, solids)
    if not looked.hits:
        return _before_tuners(bench, key) or _clear(bench, key, looked, "the key goes in and comes out")
    return blocked(bench, looked, FAIL, _slot_ends(bench.layout, key), _way_cleared(bench, key, looked))


def _before_tuners(bench: Bench, key: KeyPlace) -> Finding | None:
    """A finding where a ball-end key is not out of its slot before it reaches the first tuner; None where it is."""
    layout = bench.layout
    slot = next((step for step in layout.steps if step.name == StepName.ACCESS_SLOT), None)
    if key.kind != "ball-end" or key.outward > 0 or slot is None or not layout.tuners:
        return None
    first = max(layout.tuners, key=lambda tuner: tuner.on_face[0])
    spare = slot.x_start - first.on_face[0]
    if spare >= -SLACK:
        return None
    says = f"the key's slot comes out of the head {-spare:.2f} mm beyond {first.name}"
    at = place(layout, (slot.x_start, slot.y, -slot.depth_start))
    return limit_finding(
        check="access/withdraw",
        part="adjusting-key",
        verdict=FAIL,
        says=says,
        measured=spare,
        error=GAP_ERROR,
        limit=0.0,
        basis=BASIS,
        at=at,
    )


def _strings(bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold]) -> Finding:
    """The key with the strings at pitch, from nut to tuner. A key that turns only with strings pushed aside gets a
    warning."""
    layout = bench.layout
    far, to = min(layout.head.x_far, key.x_tip - key.reach), layout.back.x_1
    if key.outward > 0:
        to = max(key.x_tip + key.reach, layout.fretboard.x_last) + SEARCH
    strings = string_ways(layout, far, to)
    looked = KeyWay("access/strings", collisions(pieces, strings), pieces, strings)
    if not looked.hits:
        return _clear(bench, key, looked, "the key turns with the strings at pitch")
    return blocked(bench, looked, WARN, ": slacken or push aside " + _these(looked.hits))


def _these(hits: list[Collision]) -> str:
    return ", ".join(sorted({hit.name for hit in hits}))
