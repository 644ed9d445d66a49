"""Remedies where the key's way meets tuners or screws: they are moved sideways, out of it. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from neckmodel.checks.measure.key import collisions
from neckmodel.checks.remedies.remedy import Aim, graded, possible
from neckmodel.geometry.bounds import nearest_enough
from neckmodel.meshes import to_manifold

if TYPE_CHECKING:
    from neckmodel.checks.bench import Bench
    from neckmodel.findings import Remedy

CLEAR = 0.05  # mm left between the key's way and what is moved out of it, as much as a gap between meshes may be wrong
PARTS = 2**14  # of the way beside the key's whole way; the least distance is found to one of them


def moved_off_key(bench: Bench, way: list[manifold3d.Manifold], names: Iterable[str]) -> Remedy | None:
    """A remedy that moves each of these tuners or screws away from the centre line, just far enough to leave the key's
    way free.

    None where one of the names is no tuner or screw, or where it does not lie to one side of the key.
    """
    layout = bench.layout
    stated = {t.name: (f"head.tuners.{k}.y", t.on_face[1]) for k, t in enumerate(layout.tuners)}
    stated |= {s.name: (f"heel.screws.{k}.y", s.y) for k, s in enumerate(layout.screws)}
    clear: dict[str, tuple[int, float]] = {}
    for name in names:
        if name not in stated or stated[name][1] == 0:
            return None
        key, y = stated[name]
        side = 1 if y > 0 else -1
        clear[key] = (side, side * y + _least(way, to_manifold(bench.mesh(name), name), side) + CLEAR)

    def farther_out(aim: Aim) -> Remedy | None:
        return possible(bench.design, {key: side * aim.up(key, y + aim.spare) for key, (side, y) in clear.items()})

    return graded(bench.design, farther_out, bench.design.workshop.tolerances.sideways)


def _least(way: list[manifold3d.Manifold], solid: manifold3d.Manifold, side: int) -> float:
    """The least distance to one side that takes a solid out of the key's way, mm."""
    reach = max(float(np.abs(np.asarray(piece.bounding_box()).reshape(2, 3)[:, 1]).max()) for piece in way)
    _, low, _, _, high, _ = solid.bounding_box()
    beside = reach - float(min(side * low, side * high))  # at this distance it lies beside the whole way

    def free(by: float) -> bool:
        return not collisions(way, {"moved": solid.translate((0.0, side * by, 0.0))})

    by = nearest_enough(free, 0.0, beside, beside / PARTS)
    return beside if by is None else by
