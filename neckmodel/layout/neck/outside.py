"""The finished neck's outside: shaft, head and heel, and the transitions between them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from neckmodel.geometry.bounds import nearest_enough
from neckmodel.geometry.smooth import smoothstep
from neckmodel.geometry.types import Point
from neckmodel.layout.head.head import HEAD_CORNER, Head, one_piece_height
from neckmodel.layout.head.volute import Volute
from neckmodel.layout.heel.heel import Heel
from neckmodel.layout.heel.tenon import Tenon
from neckmodel.layout.neck.back import Back

__all__ = ["HEAD_CORNER", "Head", "Heel", "Outside", "Point", "Tenon", "Volute", "one_piece_height"]

COVE = 20.0  # mm, the head's side reaches its own line within this; common practice, no source
LEAST_STEP = 0.5  # mm, the least by which a flat back must lie below the carved one for a clean run-out
LEAST_STOCK = 0.25  # mm of wood to carve away all along the carve; with less, sawn surface would stay

# How far the bottom of a transition's box lies below the flat back beside it: a share of the step between
# the two backs, within bounds in mm. Less where the flat back is inclined, or the carve would leave it too early.
LEVEL_GAP, INCLINED_GAP = (0.2, 0.6, 6.0), (0.1, 0.3, 6.0)
CAPPED_GAP = (0.35, 0.6, 60.0)  # leaves about a third of the swell level under a heel, for its cap to be glued to
UPRIGHT = 0.3  # share of that gap to which the box's sides go straight down


@dataclass(frozen=True)
class Outside:
    """The finished neck's outside: the back's shape, the two ends, and the transitions between them.

    The cross-section at x is `(1 - s) superellipse + s box`: s is 0 on the shaft and 1 where head or heel begins. The
    box is as wide as the plan there, its sides upright, its bottom a little below the flat back that the saw has left,
    so that the carve meets the flat back before the transition ends.

    level_back: the blank's back between the ramps is sawn level, for a channel that is routed from there.
    """

    back: Back
    head: Head
    heel: Heel
    level_back: bool = False

    @property
    def x_cove(self) -> float:
        """x at which the head's own straight sides begin, mm. A nut end's sides flow out over the whole swell."""
        if self.head.is_none:
            return self.head.x_swell
        return self.head.x_line - min(COVE, self.head.x_line - self.head.x_swell)

    @property
    def head_tapers(self) -> bool:
        """Whether the head is narrower than the neck at the head line: then a straight taper with corners joins them,
        not a cove."""
        return self.head.side(self.head.x_line) < self.back.half_width(self.head.x_line)

    def half_width(self, x: float) -> float:
        """Half width in plan at the glue plane, mm; of a drawn head only as far as the swell."""
        law, head, heel = self.back.half_width(x), self.head, self.heel
        if heel.tenon is not None and x > heel.x_joint:
            return heel.tenon.half_at(x)
        if x < head.x_line:
            u = min((head.x_line - x) / (head.x_line - self.x_cove), 1.0)
            if u == 1.0:
                return head.side(x)
            if self.head_tapers:
                return (1 - u) * self.back.half_width(head.x_line) + u * head.side(self.x_cove)
            s = smoothstep(u)
            return (1 - s) * law + s * head.side(x)
        if heel.half_width is None or x <= heel.x_swell:
            return law
        s = smoothstep((x - heel.x_swell) / (heel.x_joint - heel.x_swell))
        return (1 - s) * law + s * heel.half_width

    def middle(self, x: float) -> float:
        """y half way between the two sides at x, mm: 0, but as far as a string that starts later leaves the bass side
        narrower. The head is even about the centre line."""
        law, head, heel = self.back.middle(x), self.head, self.heel
        if law != 0.0 and heel.half_width is not None and x > heel.x_swell:
            return (1 - self.weight(x)) * law
        if law == 0.0 or x >= head.x_line:
            return law
        u = min((head.x_line - x) / (head.x_line - self.x_cove), 1.0)
        return (1 - u) * self.back.middle(head.x_line) if self.head_tapers else (1 - smoothstep(u)) * law

    def reach(self, x: float) -> float:
        """How far the side that is farther from the centre line lies from it at x, mm."""
        return self.half_width(x) + abs(self.middle(x))

    def flat_depth(self, x: float) -> float:
        """Depth of the flat back that the transition at x runs out into, mm."""
        return -self.head.back(x) if x < 0 else self.heel.depth_at(x)

    @cached_property
    def _gaps(self) -> tuple[float, float]:
        """How far the box's bottom lies below the flat back, at the head and at the heel, mm."""

        def gap(x: float, rule: tuple[float, float, float]) -> float:
            share, least, most = rule
            return min(max(share * (self.flat_depth(x) - self.back.depth(x)), least), most)

        return gap(self.head.x_swell, INCLINED_GAP if self.head.angle > 0 else LEVEL_GAP), gap(
            self.heel.x_joint, LEVEL_GAP if self.heel.cap is None else CAPPED_GAP
        )

    @cached_property
    def x_blend(self) -> float:
        """x at which the blend toward the head starts, mm: at the nut, but on an inclined head not before the box is as
        deep as the shaft, or the back would first grow thinner on its way to the head."""
        over_end = self.flat_depth(self.head.x_swell) + self._gaps[0] - self.back.depth(self.head.x_swell)
        rate = math.tan(math.radians(self.head.angle)) + self.back.depth_slope
        over_nut = over_end + rate * self.head.x_swell
        return over_nut / rate if over_nut < 0 < over_end else 0.0

    @property
    def deepest_shaft(self) -> float:
        """Largest depth of the wood between the nut and the heel's swell, a volute left out, mm."""
        return max(self.back.depth(0.0), self.back.depth(self.heel.x_swell))

    @property
    def deepest_volute(self) -> float:
        """Largest depth of the carve along a volute, mm; 0 without one."""
        volute = self.head.volute
        if volute is None:
            return 0.0
        step = volute.length / SEARCH
        return max(self.carved(volute.x_start + k * step) for k in range(SEARCH + 1))

    def weight(self, x: float) -> float:
        """s: how far the section at x has changed from the superellipse (0) to the box of head or heel (1)."""
        if x < 0:
            return smoothstep((self.x_blend - x) / (self.x_blend - self.head.x_swell))
        return smoothstep((x - self.heel.x_swell) / (self.heel.x_joint - self.heel.x_swell))

    def box_bottom(self, x: float) -> tuple[float, float]:
        """(depth to which the box's sides are upright, depth of its bottom at the middle) at x, mm; parallel to the
        flat back."""
        gap, flat = self._gaps[0] if x < 0 else self._gaps[1], self.flat_depth(x)
        return flat + UPRIGHT * gap, flat + gap

    def carved(self, x: float) -> float:
        """Depth of the carve at the deepest line, mm, whether or not wood is left there."""
        s = self.weight(x)
        return (1 - s) * self.back.depth(x) + s * self.box_bottom(x)[1] + self.swelling(x)

    def swelling(self, x: float) -> float:
        """What a volute adds to the depth at x, mm."""
        return 0.0 if self.head.volute is None else self.head.volute.swelling(x)

    def to_carve(self, x: float) -> float:
        """Wood between the carve and the flat back at the deepest line, mm; negative where the flat back remains."""
        return self.flat_depth(x) - self.carved(x)

    @cached_property
    def x_head_stock(self) -> float:
        """How far toward the nut the stock may follow the head's back, mm: 0, or the place where an inclined back comes
        too near to the carve. It is the head's end of the swell if wood enough to carve is left nowhere. Before a
        volute, which stands deeper than the flat back, it ends on the volute's head side."""
        step = self.head.x_swell / SEARCH
        wood = [self.to_carve(min(k * step, -1e-9)) >= LEAST_STOCK for k in range(SEARCH)]
        if not any(wood):
            return self.head.x_swell
        if self.head.volute is None:
            k = wood.index(True)
            toward = k - 1
        else:
            k = SEARCH - 1 - wood[::-1].index(True)
            if all(wood[:k]):
                return 0.0
            toward = k + 1
        if k == 0:
            return 0.0
        return _crossing(lambda x: self.to_carve(x) - LEAST_STOCK, k * step, toward * step)

    @cached_property
    def x_head_run_out(self) -> float:
        """x at which the carve's deepest line comes out in the head's back, mm."""
        return _crossing(self.to_carve, self.x_head_stock or -1e-9, self.head.x_swell)

    @cached_property
    def x_heel_run_out(self) -> float:
        """x at which the carve's deepest line comes out in the heel's bottom, mm."""
        return _crossing(self.to_carve, self.heel.x_swell, self.heel.x_joint)

    def keel(self, x: float) -> float:
        """Depth of the finished wood at the deepest line, mm: the carve's, or the flat back's where the carve has run
        out."""
        if x <= self.x_head_run_out or x >= self.x_heel_run_out:
            return self.flat_depth(x)
        return self.carved(x)

    @property
    def widest(self) -> float:
        """Largest half width of the finished neck, mm."""
        heel = self.heel.half_width if self.heel.half_width is not None else self.back.half_width(self.heel.x_end)
        shaft = (self.back.reach(self.head.x_line), self.back.reach(self.heel.x_swell))
        return max(self.head.widest, heel, *shaft)


SEARCH = 64  # places looked at along the head's swell
CROSSING = 1e-9  # mm to which it is known where two backs cross


def _crossing(function: Callable[[float], float], above: float, below: float) -> float:
    """x between `above` and `below` at which the function, positive at the one and not at the other, is 0, mm: to
    CROSSING, on the side of `above`."""
    found = nearest_enough(lambda x: function(x) > 0, below, above, CROSSING)
    return above if found is None else found
