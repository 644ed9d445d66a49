"""access/swing, access/withdraw, access/strings: the key's whole way, swept, with all there that will be there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.measure.sweep import (
    BentKey,
    Collision,
    StraightKey,
    bent_sweep,
    collisions,
    placed,
    straight_sweep,
)
from neckmodel.checks.remedies import first_good
from neckmodel.checks.verdict import SLACK, down, place, up
from neckmodel.findings import Finding, Remedy
from neckmodel.layout.access import key_reach
from neckmodel.meshes import mesh_of, to_manifold
from neckmodel.solids.hardware import string_solids

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.layout import Layout
    from neckmodel.layout.hardware import KeyPlace

NEXT_FLAT = 60.0  # degrees from one flat of a hexagon to the next
# play of the worst key in the worst socket, degrees, from the limits of ISO 4762 sockets and JIS B 4648 keys at 4 mm
WORST_PLAY = 7.3
STRING_ON_POST = 10.0  # mm over the head's face, where a string leaves its post; common practice, no source
GAP_ERROR = 0.05  # mm, of gaps between meshes
WORDS = ("neck", "nut", "nut-strip", "fretboard")  # parts of which there is one
TELLING = 0.1  # mm3, no more decimals are told
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
    wood |= {name: to_manifold(bench.mesh(name), name) for name in WORDS[1:] if name in bench.parts}
    tuners = {t.name: to_manifold(bench.mesh(t.name), t.name) for t in bench.layout.tuners}
    turning = _way(key, key.engaged + FREE)
    leaving = _way(key, key.length + key.engaged) if key.kind == "straight" else turning
    return [
        _swing(bench, key, turning, wood | tuners),
        _withdraw(bench, key, leaving, wood | tuners),
        _strings(bench, key, turning),
    ]


def _way(key: KeyPlace, withdraw: float) -> list[manifold3d.Manifold]:
    """The key's sweep in the neck's frame: turned, and drawn out by `withdraw`, mm."""
    if key.kind == "straight":
        handle = (key.handle_diameter, key.handle_length)
        pieces = straight_sweep(StraightKey(key.corners, key.length + key.handle_length, *handle), withdraw)
    else:
        half = math.radians(max(NEXT_FLAT + WORST_PLAY, key.swing) / 2)
        pieces = bent_sweep(BentKey(key.corners, key.arm, key.rise), half, withdraw)
    return placed(pieces, (key.x_tip, 0.0, -key.axis), (-1.0, 0.0, 0.0))


def _room(pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]) -> tuple[float, str]:
    """(least gap, mm, to which solid); only for a way that meets nothing."""
    gaps = [(piece.min_gap(solid, SEARCH), name) for piece in pieces for name, solid in solids.items()]
    return min(gaps, default=(SEARCH, ""))


@dataclass(frozen=True)
class _Looked:
    """One look at the key's way: what it meets, and the finding if it meets nothing."""

    check: str
    hits: list[Collision]
    pieces: list[manifold3d.Manifold]
    solids: dict[str, manifold3d.Manifold]


def _clear(bench: Bench, key: KeyPlace, looked: _Looked, says: str) -> Finding:
    gap, name = _room(looked.pieces, looked.solids)
    return Finding(
        looked.check,
        "adjusting-key",
        "pass",
        f"{says}; the nearest is {name}" if name else says,
        gap,
        GAP_ERROR,
        0.0,
        basis=BASIS,
        at=place(bench.layout, (key.x_tip, 0.0, -key.axis)),
    )


def _blocked(bench: Bench, looked: _Looked, verdict: str, ending: str = "", remedy: Remedy | None = None) -> Finding:
    worst = looked.hits[0]
    deep = _depth(looked.pieces, looked.solids[worst.name])
    others = sorted({hit.name for hit in looked.hits[1:]} - {worst.name})
    says = f"the key meets {' and '.join([f'the {worst.name}' if worst.name in WORDS else worst.name, *others])}, "
    much = f"{worst.volume:.1f}" if worst.volume >= TELLING else f"less than {TELLING:.1f}"
    says += f"{much} mm3 of it in the way{ending}"
    return Finding(
        looked.check,
        "adjusting-key",
        verdict,
        says,
        -deep,
        GAP_ERROR,
        0.0,
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
            at=place(bench.layout, (key.x_tip - key.arm, 0.0, -key.axis)),
            remedy=Remedy("a wider slot: channel.key_swing = 75 degrees", {"channel.key_swing": 75}),
        )
    looked = _Looked("access/swing", collisions(pieces, solids), pieces, solids)
    if not looked.hits:
        return _clear(bench, key, looked, "the key turns from flat to flat")
    return _blocked(bench, looked, "fail", remedy=_freed(bench, key, looked.hits))


def _freed(bench: Bench, key: KeyPlace, hits: list[Collision]) -> Remedy | None:
    """An L-key's adjuster nearer to the nut; a longer straight key, so that its handle lies beyond the head."""
    layout, remedies = bench.layout, []
    if {hit.name for hit in hits} - set(WORDS):
        return None
    reach = key_reach(bench.design)
    corner = min((cutter.diameter for cutter in bench.design.workshop.cutters), default=0.0) / 2
    for x in (reach, reach - corner):  # the corners that a cutter leaves in the pocket may be in the way
        if layout.rod is not None and x < layout.rod.x_adjuster - SLACK:
            remedies.append(Remedy(f"start the rod at {down(x):.2f} mm from the nut", {"rod_place.from_nut": down(x)}))
    if key.kind == "straight" and key.handle_diameter > 0:
        length = up(key.x_tip - layout.head.x_far)
        remedies.append(Remedy(f"a key {length:.2f} mm long", {"adjusting_key.length": length}))
    return first_good(bench.design, remedies, _no_pocket) or first_good(bench.design, remedies[-1:])


def _no_pocket(layout: Layout) -> bool:
    return all(step.name != "key-swing" for step in layout.steps)


def _withdraw(
    bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold], solids: dict[str, manifold3d.Manifold]
) -> Finding:
    looked = _Looked("access/withdraw", collisions(pieces, solids), pieces, solids)
    if not looked.hits:
        return _clear(bench, key, looked, "the key goes in and comes out")
    return _blocked(bench, looked, "fail", remedy=_freed(bench, key, looked.hits))


def _strings(bench: Bench, key: KeyPlace, pieces: list[manifold3d.Manifold]) -> Finding:
    """With the strings at pitch, from nut to tuner. A key that only turns with them pushed aside is worth a warning."""
    layout = bench.layout
    far = min(layout.head.x_far, key.x_tip - key.length)
    strings = {
        part.name: to_manifold(mesh_of(part.solid, STRING_LINEAR), part.name)
        for part in string_solids(layout.frets, far, layout.back.x_1, posts(layout))
    }
    looked = _Looked("access/strings", collisions(pieces, strings), pieces, strings)
    if not looked.hits:
        return _clear(bench, key, looked, "the key turns with the strings at pitch")
    return _blocked(bench, looked, "warn", ": slacken or push aside " + _these(looked.hits))


def _these(hits: list[Collision]) -> str:
    return ", ".join(sorted({hit.name for hit in hits}))


def posts(layout: Layout) -> list[tuple[float, float, float]] | None:
    """Where each string comes to its tuner's post, bass side first; None where there is not one tuner for each string.

    On either side of the head the outermost string goes to the tuner nearest to the nut, so that none crosses another;
    common practice, no source.
    """
    tuners = sorted(layout.tuners, key=lambda tuner: -tuner.on_face[0])
    if len(tuners) != len(layout.frets.strings):
        return None
    bass = [tuner for tuner in tuners if tuner.on_face[1] < 0]
    treble = [tuner for tuner in tuners if tuner.on_face[1] >= 0]
    ends = [np.add(t.on_face, np.multiply(t.axis, STRING_ON_POST)).tolist() for t in (*bass, *treble[::-1])]
    return [(x, y, z) for x, y, z in ends]
