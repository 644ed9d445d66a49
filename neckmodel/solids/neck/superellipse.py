"""The back's section as a spline: cubic poles for a quarter of a superellipse, and for a box with a round foot.

All curves share one knot vector, so that poles of different exponents can be blended pole by pole. A quarter runs from
(1, 0), the edge at the glue plane, to (0, 1), the deepest line; u across, v down. Plain numpy, no kernel.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from neckmodel.geometry.splines import Array, basis

DEGREE = 3
SPANS = 6
KNOTS = np.linspace(0.0, 1.0, SPANS + 1)
FULL_KNOTS = np.concatenate([np.zeros(DEGREE), KNOTS, np.ones(DEGREE)])
POLES = SPANS + DEGREE
SPLIT = SPANS // 2  # the knot up to which the box's side is exactly straight
LEAST_EXPONENT, GREATEST_EXPONENT = 1.3, 4.0  # of a back; between them the fit below was measured

_PER_SPAN = 30
_ROUNDS = 10
_STIFFNESS = 1e-2  # ties each pole to the first fit: without it poles may slide along the curve and jump with p


_SAMPLES = np.linspace(0.0, 1.0, SPANS * _PER_SPAN + 1)
_BASIS = basis(_SAMPLES, FULL_KNOTS, DEGREE)


def curve(poles: Array, t: Array) -> Array:
    """(n, 2) points of the spline with the poles (POLES, 2) at parameters t in [0, 1]."""
    return basis(t, FULL_KNOTS, DEGREE) @ poles


def radial(u: Array, v: Array, exponent: float) -> Array:
    """(n, 2) points of |u|**p + |v|**p = 1 on the rays from the origin through (u, v)."""
    u, v = np.abs(u), np.abs(v)
    return np.column_stack([u, v]) / (u**exponent + v**exponent)[:, None] ** (1 / exponent)


@lru_cache(maxsize=4096)  # of the exponent alone: each section of a skin asks, most with the same few
def _across(exponent: float) -> tuple[float, ...]:
    """u of each pole; v is the same list backwards, for the quarter is symmetric about u = v.

    Least squares on the distance square to the curve, the foot of each point found anew in every round. Held fixed: the
    end at (1, 0), and the next pole above it, so that the curve leaves the edge square to the glue plane and arrives at
    the deepest line square to the middle plane; and the third, near where a free fit puts it, but never beyond the edge
    (else the side would be undercut) and without the kink over p that a bound would make.
    """
    free = slice(3, POLES - 1)
    u = np.zeros(POLES)
    u[:3] = 1.0, 1.0, 1 - 0.0245 * np.exp(-(((exponent - 1.85) / 0.55) ** 2))
    # this start crowds points toward the ends, where a small exponent bends sharply
    crowding = 0.25 * ((2 / exponent) ** 3.54 - 1)
    angle = np.pi / 2 * (_SAMPLES - crowding * np.sin(2 * np.pi * _SAMPLES) / (2 * np.pi))
    start = radial(np.cos(angle), np.sin(angle), exponent)
    u[free] = np.linalg.lstsq(_BASIS[:, free], start[:, 0] - _BASIS @ u, rcond=None)[0]
    first = u[free].copy()
    tie = _STIFFNESS * np.eye(len(first))
    for _ in range(_ROUNDS):
        points = _BASIS @ np.column_stack([u, u[::-1]])
        foot = radial(points[:, 0], points[:, 1], exponent)
        normal = foot ** (exponent - 1)
        normal /= np.hypot(normal[:, 0], normal[:, 1])[:, None]
        slopes = normal[:, :1] * _BASIS[:, free] + normal[:, 1:] * _BASIS[:, ::-1][:, free]
        apart = np.einsum("ij,ij->i", normal, foot - points)
        wanted = np.concatenate([apart, _STIFFNESS * (first - u[free])])
        u[free] += np.linalg.lstsq(np.vstack([slopes, tie]), wanted, rcond=None)[0]
    return tuple(u.tolist())


def quarter_poles(exponent: float) -> Array:
    """(POLES, 2) poles for a quarter of |u|**p + |v|**p = 1; p from 1.3 to 4, else ValueError.

    The spline keeps within 1.2e-4 of the curve; it is the same on every call, and changes smoothly with p.
    """
    inside = float(np.clip(exponent, LEAST_EXPONENT, GREATEST_EXPONENT))
    if not abs(inside - exponent) <= 1e-9:  # so that NaN is refused; a blend may overshoot by a rounding
        raise ValueError(f"exponent {exponent} is outside {LEAST_EXPONENT} to {GREATEST_EXPONENT}")
    u = np.array(_across(inside))
    return np.column_stack([u, u[::-1]])


# z of the second to fifth pole of a side that narrows, as shares of its depth; the sixth may lie a little deeper
_DOWN, _SIXTH = (0.1545, 0.469, 0.6315, 0.861), 1.065
_NARROWS = slice(2, POLES - 2)  # poles that take part in the narrowing; the first two keep the edge upright


def _narrowing(straight: float, bottom: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """(z of each pole, how far of the narrowing each pole lies in) for a side 1 deep; straight, bottom: as of the box.

    Least squares on the smoothstep over the depth. It keeps within 0.0007 of the narrowing for a bottom 1.03 or more
    deep, within 0.0025 for less.
    """
    down = box_poles(1.0, straight, bottom)[:, 1]
    down[1 : 1 + len(_DOWN)] = _DOWN
    down[1 + len(_DOWN)] = min(_SIXTH, bottom - 0.1 * (straight - 1))
    z = _BASIS @ down
    inside = z < 1
    rise = z[inside] ** 2 * (3 - 2 * z[inside])
    share = np.zeros(POLES)
    share[_NARROWS] = np.linalg.lstsq(_BASIS[inside][:, _NARROWS], rise, rcond=None)[0]
    return tuple(down.tolist()), tuple(share.tolist())


def narrowing_poles(half_width: float, narrowest: float, level: float, straight: float, depth: float) -> Array:
    """(POLES, 2) poles, mm, of half a box whose side narrows by the smoothstep from `half_width` at 0 to `narrowest`,
    `level` down; then it goes straight down, and round to (0, depth). depth > straight > level > 0."""
    down, share = _narrowing(straight / level, depth / level)
    across = half_width - (half_width - narrowest) * np.array(share)
    across[POLES - 2 :] = 0.55 * narrowest, 0.0
    return np.column_stack([across, level * np.array(down)])


def box_poles(half_width: float, straight: float, depth: float) -> Array:
    """(POLES, 2) poles, mm, of half a box: exactly straight from (half_width, 0) down to `straight`, then round to
    (0, depth), level there. The straight part ends at knot SPLIT. depth > straight > 0.
    """
    reach = min(straight / 3, (depth - straight) / 2)
    down = np.empty(POLES)
    above = SPLIT  # index of the last pole above the end of the straight part
    greville = np.array([FULL_KNOTS[i + 1 : i + 1 + DEGREE].mean() for i in range(POLES)])
    down[: above + 1] = (straight - reach) * greville[: above + 1] / greville[above]
    # at a simple knot of an even vector the curve lies at (a + 4 b + c)/6 of the poles around it
    down[above + 1], down[above + 2] = straight, straight + reach
    down[above + 3] = straight + reach + 0.8 * (depth - straight - reach)
    down[above + 4 :] = depth
    across = np.full(POLES, half_width)
    across[above + 3], across[above + 4], across[above + 5] = 0.92 * half_width, 0.55 * half_width, 0.0
    return np.column_stack([across, down])
