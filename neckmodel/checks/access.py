"""access/swing, access/withdraw, access/strings: the key's whole way, swept, with all there that will be there."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d

from neckmodel.checks.measure.sweep import (
    BentKey,
    Collision,
    StraightKey,
    bent_sweep,
    collisions,
    placed,
    straight_sweep,
)
from neckmodel.checks.verdict import place, up
from neckmodel.findings import Finding, Remedy
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.hardware import string_solids

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout.hardware import KeyPlace

NEXT_FLAT = 60.0  # degrees from one flat of a hexagon to the next
# play of the worst key in the worst socket, degrees, from the limits of ISO 4762 sockets and JIS B 4648 keys at 4 mm
WORST_PLAY = 7.3
FREE = 1.0  # mm beyond the socket at which a key counts as out of it
STRING_LINEAR = 0.02
SEARCH = 10.0  # mm, how far the key's way is looked around
NO_KEY = "no key is stated: add [adjusting_key]"
BASIS = "geometry"


def check_access(bench: Bench) -> list[Finding]:
    key = bench.layout.key
    if key is None:
        return [] if bench.layout.rod is None else [Finding("access/swing", "adjusting-key", "skipped", NO_KEY)]
    reach = bench.layout.back.x_1  # nothing of the key's way lies beyond fret 1
    wood = {"neck": bench.drilled.trim_by_plane((-1.0, 0.0, 0.0), -reach)}
    wood |= {name: to_manifold(bench.mesh(name), name) for name in ("nut", "fretboard")}
    tuners = {t.name: to_manifold(bench.mesh(t.name), t.name) for t in bench.layout.tuners}
    turning = _way(key, key.engaged + FREE)
    leaving = _way(key, key.length + key.engaged) if key.kind == "straight" else turning
    return [
        _swing(bench, key, turning, wood | tuners),
        _withdraw(bench, leaving, wood | tuners),
        _strings(bench, key, turning),
    ]


def _way(key: KeyPlace, withdraw: float) -> list[manifold3d.Manifold]:
    """The key's sweep in the neck's frame: turned, and drawn out by `withdraw`, mm."""
    if key.kind == "straight":
        handle = (key.handle_diameter, key.handle_length)
        pieces = straight_sweep(StraightKey(key.corners, key.length, *handle), withdraw)
    else:
        half = math.radians(max(NEXT_FLAT + WORST_PLAY, key.swing) / 2)
        pieces = bent_sweep(BentKey(key.corners, key.arm, key.rise), half, withdraw)
    return placed(pieces, (key.x_tip, 0.0, -key.axis), (-1.0, 0.0, 0.0))


def _room(pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]) -> tuple[float, str]:
    """(least gap, mm, to which solid); only for a way that meets nothing."""
    gaps = [(piece.min_gap(solid, SEARCH), name) for piece in pieces for name, solid in solids.items()]
    return min(gaps, default=(SEARCH, ""))


def _finding(
    bench: Bench,
    check: str,
    hits: list[Collision],
    pieces: list[manifold3d.Manifold],
    solids: dict[str, manifold3d.Manifold],
    free: str,
    verdict: str = "fail",
    remedy: Remedy | None = None,
) -> Finding:
    if hits:
        worst = hits[0]
        says = f"the key meets {worst.name}" + (f" and {len(hits) - 1} more" if len(hits) > 1 else "")
        says += f", {worst.volume:.1f} mm3 of it in the way"
        return Finding(
            check,
            "adjusting-key",
            verdict,
            says,
            -_depth(pieces, solids[worst.name]),
            0.05,
            0.0,
            basis=BASIS,
            at=place(bench.layout, worst.at),
            remedy=remedy,
            more={"volume": round(worst.volume, 3)},
        )
    gap, name = _room(pieces, solids)
    key = bench.layout.key
    assert key is not None  # asked for only where there is one
    return Finding(
        check,
        "adjusting-key",
        "pass",
        f"{free}; nearest is {name}" if name else free,
        gap,
        0.05,
        0.0,
        basis=BASIS,
        at=place(bench.layout, (key.x_tip, 0.0, -key.axis)),
    )


def _depth(pieces: list[manifold3d.Manifold], solid: manifold3d.Manifold) -> float:
    """Mean thickness of what the worst piece of the way shares with a solid, mm."""
    common = [piece ^ solid for piece in pieces]
    return max((2 * c.volume() / c.surface_area() for c in common if c.volume() > 0), default=0.0)


def _swing(
    bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]
) -> Finding:
    """From one flat to the next; an L-key needs the whole angle in the wood's slot."""
    need = NEXT_FLAT + WORST_PLAY
    if key.kind != "straight" and key.swing < need:
        says = f"the slot lets the key turn {key.swing:.1f} degrees; {need:.1f} are needed to set it on the next flat"
        return Finding(
            "access/swing",
            "adjusting-key",
            "fail",
            says,
            key.swing,
            0.0,
            need,
            "degrees",
            basis="ISO 4762, JIS B 4648",
            remedy=Remedy("a wider slot: channel.key_swing = 75 degrees", {"channel.key_swing": 75}),
        )
    hits = collisions(pieces, solids)
    remedy = None
    if any(hit.name == "neck" for hit in hits) and bench.layout.head.drop > 0 and key.floor > bench.layout.head.drop:
        drop = up(key.floor)
        remedy = Remedy(f"a step {drop:.2f} mm high: head.drop = {drop:.2f} mm", {"head.drop": drop})
    return _finding(bench, "access/swing", hits, pieces, solids, "the key turns from flat to flat", remedy=remedy)


def _withdraw(bench: Bench, pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]) -> Finding:
    hits = collisions(pieces, solids)
    return _finding(bench, "access/withdraw", hits, pieces, solids, "the key goes in and comes out")


def _strings(bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold]) -> Finding:
    """With the strings at pitch, from nut to tuner. A key that only turns with them pushed aside is worth a warning."""
    layout = bench.layout
    far = min(layout.head.x_far, key.x_tip - key.length)
    strings = {
        part.name: to_manifold(mesh_of(part.solid, STRING_LINEAR), part.name)
        for part in string_solids(layout.frets, far, layout.fretboard.x_end)
    }
    hits = collisions(pieces, strings)
    found = _finding(
        bench, "access/strings", hits, pieces, strings, "the key turns with the strings at pitch", verdict="warn"
    )
    if not hits:
        return found
    return Finding(**{**found.__dict__, "says": f"{found.says}: slacken the strings or push them aside to turn it"})
