"""Remedies where the key meets tuners or screws: they are moved aside, out of the key's whole way. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.checks.verdict import up
from neckmodel.findings import Remedy

if TYPE_CHECKING:
    import manifold3d

    from neckmodel.checks.bench import Bench

CLEAR = 0.1  # mm between the key's way and what is moved out of it: more than the gap's own error


def moved_aside(bench: Bench, way: list[manifold3d.Manifold], names: Iterable[str]) -> Remedy | None:
    """Each of these tuners or screws farther from the centre line, until all of it lies beside the key's way.

    None where one of them is none of these, or does not lie to one side.
    """
    layout = bench.layout
    stated = {t.name: (f"head.tuners.{k}.y", t.on_face[1]) for k, t in enumerate(layout.tuners)}
    stated |= {s.name: (f"heel.screws.{k}.y", s.y) for k, s in enumerate(layout.screws)}
    settings: dict[str, float | str] = {}
    for name in names:
        if name not in stated or stated[name][1] == 0:
            return None
        key, y = stated[name]
        side = 1 if y > 0 else -1
        (x0, y0, _), (x1, y1, _) = np.asarray(bench.mesh(name).bounds).tolist()
        by = _reach(way, x0, x1, side) - min(side * y0, side * y1) + CLEAR
        settings[key] = round(side * up(side * y + by), 6)
    said = " and ".join(f"{key} = {value:.2f} mm" for key, value in settings.items())
    return Remedy(f"out of the key's way: {said}", settings) if settings else None


def _reach(way: list[manifold3d.Manifold], x_from: float, x_to: float, side: int) -> float:
    """How far the key's way reaches to one side between two x."""
    reach = 0.0
    for piece in way:
        part = piece.trim_by_plane((1.0, 0.0, 0.0), x_from).trim_by_plane((-1.0, 0.0, 0.0), -x_to)
        if not part.is_empty():
            _, low, _, _, high, _ = part.bounding_box()
            reach = max(reach, side * low, side * high)
    return reach
