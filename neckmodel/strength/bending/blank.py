"""How far a blank bends under a router once its side profile is sawn: the reason to rout it in the square, or to pack
it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from neckmodel.errors import Problem
from neckmodel.geometry.types import Floats
from neckmodel.layout.wood.strips import widths_within
from neckmodel.strength.bending.calibration import as_one
from neckmodel.strength.materials.own import neck_woods
from neckmodel.strength.sections.cells import cell_edges, middles

if TYPE_CHECKING:
    from neckmodel.layout import Layout
    from neckmodel.layout.neck.outside import Point

PRESS = 100.0  # N, what a router and two hands press on the wood: about 10 kg; common practice, no source
SAME = 1e-6  # mm


@dataclass(frozen=True)
class BlankSag:
    """A sawn blank that rests on head and heel, pressed in the middle of its shaft. Lengths mm.

    x_from, x_to: its supports nearest to the shaft. width; thinnest: least thickness between the supports. sag: in the
    middle of the span under `PRESS`, an estimate.
    """

    x_from: float
    x_to: float
    width: float
    thinnest: float
    sag: float

    @property
    def span(self) -> float:
        """Distance between its supports, mm."""
        return self.x_to - self.x_from


def beam_sag(force: float, modulus: float, edges: Floats, bending: ArrayLike) -> float:
    """Deflection in the middle of a beam on two supports, pressed there, mm: `integral of M m / EI`, m the moment of
    a unit force; with an even section `F L**3/(48 E I)`. edges: (m,) of cells; bending: (m-1,) I of each, mm4."""
    span, x = edges[-1] - edges[0], middles(edges) - edges[0]
    unit = np.minimum(x, span - x) / 2
    return float(np.sum(force * unit**2 / (modulus * np.asarray(bending)) * np.diff(edges)))


def blank_sag(layout: Layout) -> BlankSag | None:
    """How far the shaft sags once the side profile is sawn; None where the wood's stiffness is not known.

    The blank rests on the lowest wood of its head and of its heel. The modulus is the handbook's for bending, which
    includes the shear of a beam 14 times as long as it is thick.
    """
    woods = neck_woods(layout.design)
    if isinstance(woods, Problem):
        return None
    middle = (layout.outside.head.x_line + layout.heel.x_swell) / 2
    x_from = max(_lowest([p for p in layout.blank_profile if p[0] < middle]))
    x_to = min(_lowest([p for p in layout.blank_profile if p[0] > middle]))
    edges = cell_edges([x_from, (x_from + x_to) / 2, x_to])
    thick, width = _thickness(layout.blank_profile, middles(edges)), 2 * layout.blank_half_width
    half = layout.blank_half_width
    modulus = as_one(widths_within(layout.strips, -half, half), [wood.bending_modulus for wood in woods])
    sag = beam_sag(PRESS, modulus, edges, width * thick**3 / 12)
    return BlankSag(x_from, x_to, width, float(thick.min()), sag)


def _lowest(points: list[Point]) -> list[float]:
    """x of the lowest corners."""
    low = min(z for _, z in points)
    return [x for x, z in points if z <= low + SAME]


def _thickness(profile: tuple[Point, ...], x: Floats) -> Floats:
    """(k,) thickness of the sawn side at each x, mm."""
    high, low = np.full(len(x), -np.inf), np.full(len(x), np.inf)
    for (x0, z0), (x1, z1) in zip(profile, [*profile[1:], profile[0]], strict=True):
        if abs(x1 - x0) > SAME:
            over = (x >= min(x0, x1)) & (x <= max(x0, x1))
            z = z0 + (z1 - z0) * (x - x0) / (x1 - x0)
            high, low = np.where(over, np.maximum(high, z), high), np.where(over, np.minimum(low, z), low)
    return np.asarray(high - low)
