"""The shape of a carved back: its sections along the neck, and the spline poles that follow them. Numpy only. Lengths
mm.

A section at x is half a superellipse below the glue plane, blended into a box toward the head and the heel: poles(x) =
(1 - s) superellipse(a, b, p, y0) + s box(a, ...), with a the half width of the plan outline, so that the skin's edge is
the outline at every x, whatever the blend.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from neckmodel.errors import KernelError
from neckmodel.geometry.paths import PlanPath
from neckmodel.geometry.splines import basis
from neckmodel.solids.neck.superellipse import POLES, box_poles, narrowing_poles, quarter_poles

Array = NDArray[np.float64]
Law = Callable[[Array], Array | float]  # of x, (n,) mm; a number stands for a constant

DEGREE = 4  # along x: a linear width or depth times a cubic smoothstep is followed exactly
TOLERANCE = 1e-3  # mm between a law and its spline along x, where the law is no polynomial of that degree
MOST_PIECES = 64
BASS, TREBLE = 0, 1


def nothing(x: Array) -> Array:
    """Zeros, for a law that adds nothing."""
    return np.zeros_like(x)


@dataclass(frozen=True)
class SlabEnd:
    """The slab with upright walls, along its outline in plan, in which the skin ends at the head or the heel.

    straight: how far the box's sides go straight down, mm; more than the wood at that end of the skin is deep. depth:
    of the box's middle, mm; more than `straight`. slab: how deep the upright walls go, mm; more than `depth`, and more
    than the wood is deep anywhere along the path. fall: by how much `straight` and `depth` grow for each mm of x (an
    inclined head back), 0 where the end is level. path: head: from (x_from, -a) round the far end to (x_from, +a);
    heel: from (x_to, +a) round its end to (x_to, -a). narrows: (share of the width that is left, depth from which on it
    is, mm) where the box's sides narrow on their way down; None where they are upright. Only of a level end.
    """

    straight: float
    depth: float
    slab: float
    path: PlanPath
    fall: float = 0.0
    narrows: tuple[float, float] | None = None


@dataclass(frozen=True)
class BackLaw:
    """The finished neck's outside below the glue plane, from the end of the skin at the head to that at the heel.

    breaks: (x_from, ..., x_to), ascending: where a law changes its formula; each law is smooth between two breaks, and
    at every break but the `corners` its slope is continuous too. corners: the breaks where the plan has a real corner.
    half_width: of the plan outline, a(x). depth: b(x). exponent: p(x). apex: y0(x), y of the deepest line (lean to the
    bass side: negative); the bass half is then a + y0 wide, the treble half a - y0.
    head_blend, heel_blend: s(x) from 0 (the superellipse) to 1 (the end's box): 1 at that end of the skin, never both.
    middle: y of the middle between the two sides, from which half_width and apex count; 0 at both ends of the skin.
    swelling: added to the depth whatever the blend (a volute), mm.
    """

    breaks: tuple[float, ...]
    half_width: Law
    depth: Law
    exponent: Law
    head: SlabEnd
    heel: SlabEnd
    head_blend: Law
    heel_blend: Law
    apex: Law = nothing
    middle: Law = nothing
    swelling: Law = nothing
    corners: tuple[float, ...] = field(default=())

    def __post_init__(self) -> None:
        if len(self.breaks) < 2 or any(b <= a for a, b in zip(self.breaks, self.breaks[1:], strict=False)):
            raise KernelError("back law", "the breaks do not ascend", breaks=self.breaks)
        if not set(self.corners) <= set(self.breaks[1:-1]):
            raise KernelError("back law", "a corner is not among the inner breaks", corners=self.corners)
        ends = (
            ("head", self.head, self.x_from, -1, self.head_blend),
            ("heel", self.heel, self.x_to, 1, self.heel_blend),
        )
        for name, end, x, side, blend in ends:
            half = float(at(self.half_width, np.array([x]))[0])
            if not 0 < end.straight < end.depth < end.slab:
                raise KernelError("back law", f"the {name}'s depths do not ascend: straight, depth, slab", end=end)
            if max(np.abs(np.subtract((*end.path.start, *end.path.end), (x, side * half, x, -side * half)))) > 1e-7:
                raise KernelError("back law", f"the {name}'s outline does not meet the skin", x=x, half_width=half)
            if abs(at(blend, np.array([x]))[0] - 1) > 1e-9:
                raise KernelError("back law", f"the skin's section is no box where the {name} begins", x=x)

    @property
    def x_from(self) -> float:
        """x at which the skin begins, at the head, mm."""
        return self.breaks[0]

    @property
    def x_to(self) -> float:
        """x at which the skin ends, at the heel, mm."""
        return self.breaks[-1]

    @cached_property
    def _boxes(self) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
        """For head and heel: the box's poles for half width 1, and how they change for each mm of x."""
        return _box_law(self.head), _box_law(self.heel)

    def sections(self, x: Array) -> Array:
        """(n, 2, POLES, 2) poles (y, z) of the sections at x, bass and treble half, each from edge to deepest line."""
        half, depth, apex = at(self.half_width, x), at(self.depth, x), at(self.apex, x)
        to_head, to_heel = at(self.head_blend, x), at(self.heel_blend, x)
        rest = 1 - to_head - to_heel
        quarter = np.array([quarter_poles(p) for p in at(self.exponent, x)])
        (head, head_fall), (heel, heel_fall) = self._boxes
        boxed = half[:, None] * (to_head[:, None] * head[:, 0] + to_heel[:, None] * heel[:, 0])
        head_down = head[:, 1] + (x - self.x_from)[:, None] * head_fall[:, 1]
        heel_down = heel[:, 1] + (x - self.x_to)[:, None] * heel_fall[:, 1]
        down = (rest * depth + at(self.swelling, x))[:, None] * quarter[:, :, 1]
        down = down + to_head[:, None] * head_down + to_heel[:, None] * heel_down
        poles = np.empty((len(x), 2, POLES, 2))
        for side, sign in ((BASS, -1.0), (TREBLE, 1.0)):
            wide = apex[:, None] + sign * (half - sign * apex)[:, None] * quarter[:, :, 0]
            poles[:, side, :, 0] = at(self.middle, x)[:, None] + rest[:, None] * wide + sign * boxed
        poles[:, :, :, 1] = -down[:, None, :]
        return poles


def _box_law(end: SlabEnd) -> tuple[Array, Array]:
    if end.narrows is not None:
        box = narrowing_poles(1.0, *end.narrows, end.straight, end.depth)
        return box, np.zeros_like(box)
    box = box_poles(1.0, end.straight, end.depth)
    return box, box_poles(1.0, end.straight + end.fall, end.depth + end.fall) - box


def at(law: Law, x: Array) -> Array:
    """(n,) values of a law."""
    return np.broadcast_to(np.asarray(law(x), dtype=np.float64), x.shape)


@dataclass(frozen=True)
class Net:
    """Poles of one stretch of the skin between two corners, of degree DEGREE along x.

    knots: (n + DEGREE + 1,) mm. x: (n,) of each row of poles. poles: (n, 2, POLES, 2) of y and z.
    """

    knots: Array
    x: Array
    poles: Array


def nets(law: BackLaw) -> tuple[Net, ...]:
    """The skin's poles, one net for each stretch between corners; rows are added until the spline follows the law along
    x within TOLERANCE."""
    cuts = [law.x_from, *law.corners, law.x_to]
    return tuple(_net(law, [b for b in law.breaks if a <= b <= c]) for a, c in itertools.pairwise(cuts))


def _net(law: BackLaw, breaks: list[float]) -> Net:
    pieces = [1] * (len(breaks) - 1)
    while True:
        knots = _knots(breaks, pieces)
        count = len(knots) - DEGREE - 1
        # clipped: a mean of equal knots may lie one unit in the last place outside
        x = np.clip([knots[i + 1 : i + DEGREE + 1].mean() for i in range(count)], breaks[0], breaks[-1])
        x[0], x[-1] = breaks[0], breaks[-1]
        poles = np.linalg.solve(basis(x, knots, DEGREE), law.sections(x).reshape(count, -1))
        coarse = []
        for i, (a, b) in enumerate(itertools.pairwise(breaks)):
            between = a + (b - a) * (np.arange(3 * pieces[i]) + 0.5) / (3 * pieces[i])
            off = np.abs(basis(between, knots, DEGREE) @ poles - law.sections(between).reshape(len(between), -1)).max()
            if off > TOLERANCE:
                coarse.append(i)
        if not coarse:
            return Net(knots, x, np.asarray(poles.reshape(count, 2, POLES, 2), dtype=np.float64))
        for i in coarse:
            pieces[i] *= 2
            if pieces[i] > MOST_PIECES:
                raise KernelError(
                    "skin", "the law is not smooth between two breaks", x_from=breaks[i], x_to=breaks[i + 1]
                )


def _knots(breaks: list[float], pieces: list[int]) -> Array:
    """Full ends; slope continuous at a break, three times differentiable inside a zone."""
    knots = [breaks[0]] * (DEGREE + 1)
    for (a, b), count in zip(itertools.pairwise(breaks), pieces, strict=True):
        knots += np.linspace(a, b, count + 1)[1:-1].tolist()
        knots += [b] * (DEGREE - 1)
    return np.array([*knots[: -(DEGREE - 1)], *[breaks[-1]] * (DEGREE + 1)])
