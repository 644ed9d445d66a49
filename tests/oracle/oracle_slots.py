"""Slotted heads, for the oracle: wood beside slots and bores by plain formulas, strings walked step by step. mm.

From a design's own tables and the place of its head line; nothing of the package is used to work them out.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING, Any

from oracle_kinds import outer_heights
from oracle_neck import Neck, step3

if TYPE_CHECKING:
    from neckmodel.findings import Finding
    from neckmodel.layout import Layout

Tables = dict[str, dict[str, Any]]
SAME, BRUTE, WALKED, ON_SOLIDS = 1e-6, 2e-3, 6e-3, 0.03
COVE, INTO = 20.0, 6.0  # the head's own sides begin so far beyond the head line; a bore's depth unless stated
STEPS = 20000


class Slots:
    """The slots of a design. x_line, swell: of its head, as laid out."""

    def __init__(self, tables: Tables, x_line: float, swell: float) -> None:
        self.tables, self.head, self.x_line = tables, tables["head"], x_line
        self.turn = math.radians(self.head["angle"])
        self.neck, self.cut = Neck(tables), tables["head"]["slots"]
        self.cove = min(COVE, x_line + swell)
        places = [self.cut["to"] + (self.cut["from"] - self.cut["to"]) * k / 4000 for k in range(4001)]
        self.half = min(self.half_at(along) for along in places)
        self.outer = self.half - self.cut["edge"]
        self.inner = self.outer - self.cut["width"]
        self.middle = (self.outer + self.inner) / 2
        self.radius = self.cut["width"] / 2 if self.cut.get("ends", "round") == "round" else 0.0

    def half_at(self, along: float) -> float:
        """Half width of the head at a place along its face: straight sides beyond a cove or, narrower, a taper."""
        back = -along * math.cos(self.turn)  # from the head line, in plan
        near, far, long = (*self._widths(), self.head["length"] * math.cos(self.turn))

        def side(at: float) -> float:
            return (near + (far - near) * at / long) / 2

        u = min(back / self.cove, 1.0)
        bass = self._bass(self.x_line)
        if near / 2 < (self.neck.half(self.x_line) + bass) / 2:
            return (1 - u) * bass + u * side(self.cove) if u < 1 else side(back)
        s = step3(u)
        return (1 - s) * self._bass(self.x_line - back) + s * side(back)

    def _bass(self, x: float) -> float:
        """Half width of the neck on its narrower side: the bass side, beside a string that starts later."""
        return self.neck.half(x) - self.neck.later.inward(x)

    def _widths(self) -> tuple[float, float]:
        return self.head["outline"]["near"], self.head["outline"]["far"]

    def bores(self) -> list[float]:
        """Wood of every bore: to face, back and slot's end, and between every two."""
        found, thick = [], self.head["thickness"]
        for one in self.head.get("tuners", []):
            r = one["hole"] / 2
            found += [one["below_face"] - r, thick - one["below_face"] - r]
            found.append(min(self.cut["from"] - one["x"], one["x"] - self.cut["to"]) - r)
        for a, b in combinations(self.head.get("tuners", []), 2):
            beside = math.hypot(a["x"] - b["x"], a["below_face"] - b["below_face"]) - (a["hole"] + b["hole"]) / 2
            over = 2 * self.inner - a.get("into_core", INTO) - b.get("into_core", INTO)
            if a["side"] == b["side"]:
                found.append(beside)
            elif beside > 0:
                found.append(math.hypot(over, beside) if over > 0 else beside)
            else:
                found.append(over if over > 0 else max(over, beside))
        return found

    def room(self, y_nut: float, x_nut: float, z_nut: float, tuner: dict[str, Any]) -> float:
        """The least room under a string on its way into its slot, walked from the nut in small steps."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        dx = x_nut - self.x_line
        start = (dx * c + z_nut * s, y_nut, z_nut * c - dx * s)
        sign = -1.0 if tuner["side"] == "bass" else 1.0
        end = (tuner["x"], sign * self.middle, tuner["hole"] / 2 - tuner["below_face"])
        ramp, near, least = self.cut.get("ramp"), self.cut["from"], math.inf
        begins = near + (ramp["length"] if ramp else 0.0)
        fall = math.tan(math.radians(ramp["angle"])) if ramp else 0.0
        for k in range(STEPS + 1):
            u, v, w = (a + (b - a) * k / STEPS for a, b in zip(start, end, strict=True))
            off = abs(sign * v - self.middle)
            inside = off <= self.cut["width"] / 2
            if inside and u <= near - self.radius + math.sqrt(max(self.radius**2 - off**2, 0.0)):
                floor = (begins - u) * fall if ramp and u >= near - self.radius - BRUTE * 5 else 0.0
                return min(least, w + floor)
            least = min(least, w + ((begins - u) * fall if inside and u <= begins and u >= near - self.radius else 0.0))
        return least


def slots_differ(tables: Tables, layout: Layout) -> list[str]:
    """What a layout tells of its slots against this page's own numbers."""
    if "slots" not in tables["head"] or layout.slots is None:
        return [] if ("slots" in tables["head"]) == (layout.slots is not None) else ["slots: there, or not"]
    own, pair, found = Slots(tables, layout.head.x_line, layout.head.swell), layout.slots, []

    def same(what: str, got: float, want: float, within: float = SAME) -> None:
        if abs(got - want) > within:
            found.append(f"{what}: {got:.6f}, the oracle has {want:.6f}")

    same("half width over the slots", pair.half, own.half, BRUTE)
    same("core", pair.core, 2 * own.inner, 2 * BRUTE)
    if pair.rollers:
        same("least wood of the bores", min(w.wood for w in pair.bore_walls()), min(own.bores()), 2 * BRUTE)
    (bass, _), (treble, _) = outer_heights(tables)
    tuners = tables["head"].get("tuners", [])
    last = len(layout.frets.strings)
    for number, y, z in ((1, -own.neck.s0 / 2, bass), (last, own.neck.s0 / 2, treble)):
        for descent in (one for one in layout.descents if one.string == number):
            tuner = tuners[int(descent.tuner.removeprefix("tuner-")) - 1]
            want = own.room(y, own.neck.slope(0) * y, z, tuner)
            same(f"room under string {number}", descent.least.room, want, WALKED)
    return found


def slots_found_differ(tables: Tables, layout: Layout, told: dict[str, Finding]) -> list[str]:
    """The findings on solids against the layout's numbers, each worked out another way."""
    pair, found = layout.slots, []
    if "slots" not in tables["head"] or pair is None:
        return []
    pairs = [("head/bores", min((w.wood for w in pair.bore_walls()), default=None), ON_SOLIDS)]
    pairs.append(("head/ramp", min((d.least.room for d in layout.descents), default=None), ON_SOLIDS))
    for name, want, within in pairs:
        finding = told.get(name)
        measured = None if finding is None else finding.measured
        if want is not None and (measured is None or abs(measured - want) > within):
            found.append(f"{name}: {measured}, the layout has {want:.4f}")
    cheek = told["head/cheek"].measured
    if cheek is None or cheek > pair.edge + ON_SOLIDS:
        found.append(f"head/cheek: {cheek}, more than the edge of {pair.edge}")
    return found
