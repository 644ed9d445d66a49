"""The slots of a slotted head, and the rollers bored into it from the sides: where they lie, and the wood beside them.

On the face a place is told by three numbers, mm: `along` from the head line, toward the far end negative; y; `over` the
face, negative in the wood.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from neckmodel.geometry.types import Point, Point3
from neckmodel.layout.neck.outside import Head, Outside
from neckmodel.layout.sides import Side
from neckmodel.lengths import no_more

if TYPE_CHECKING:
    from collections.abc import Sequence

    from neckmodel.design import Design
    from neckmodel.design.tables.slots import SideTuner

LEAST_CORE = 1.0  # mm between the slots; with less there is nothing that holds them apart
APART = 0.25  # mm along the head between places at which its width is looked at
PAST_SIDE = 2.0  # mm that a hole's tool, and a tuner's envelope, reach beyond the head's side


def in_frame(head: Head, along: float, y: float, over: float) -> Point3:
    """A place told on the head's face, in the frame of the layout, mm."""
    turn = math.radians(head.angle)
    x, z = head.on_face(along)
    return x - over * math.sin(turn), y, z + over * math.cos(turn)


def on_head(head: Head, at: Point3) -> Point3:
    """(along, y, over) of a place in the frame of the layout, mm."""
    turn = math.radians(head.angle)
    dx, dz = at[0] - head.x_line, at[2] + head.drop
    return dx * math.cos(turn) + dz * math.sin(turn), at[1], dz * math.cos(turn) - dx * math.sin(turn)


def sides_at(outside: Outside, x: float) -> Point:
    """y of the head's edge on the bass and on the treble side at x, mm; where the outline has none, its widest."""
    contour = outside.head.contour
    if contour is None or x > outside.head.x_swell:
        half, middle = outside.half_width(x), outside.middle(x)
        return middle - half, middle + half
    ys = contour.crossings(x)
    return (ys[0], ys[-1]) if len(ys) > 1 else (-outside.head.widest, outside.head.widest)


@dataclass(frozen=True)
class Roller:
    """One tuner of a slotted head: its hole, bored from `side` through cheek and slot into the core, mm.

    below: depth of the axis under the face, square to it; y: middle of its slot, where the string lies; y_end: the
    hole's inner end; y_out: beyond the head's side. string: its number from the bass, None where there are fewer.
    """

    name: str
    side: Side
    along: float
    below: float
    hole: float
    into_core: float
    y: float
    y_end: float
    y_out: float
    middle: Point3
    start: Point3
    end: Point3
    string: int | None

    @property
    def sign(self) -> int:
        """The sign of y on its side."""
        return -1 if self.side == Side.BASS else 1

    @property
    def top(self) -> float:
        """Height of the roller's top over the face, mm; negative in the wood."""
        return self.hole / 2 - self.below


@dataclass(frozen=True)
class BoreWall:
    """Wood beside a bore, or room to its slot's end, mm. to: "face", "back", "slot" (the slot's end) or the name of the
    other tuner."""

    tuner: str
    to: str
    wood: float


@dataclass(frozen=True)
class SlotPair:
    """Both slots, mirrored: along the face from `near` to `far`, negative; their walls `inner` and `outer` from the
    centre line, mm. half: the head's half width where it is narrowest over them, at `narrowest` along the face.
    ramp: (length before `near`, degrees by which it falls), None without one."""

    near: float
    far: float
    width: float
    edge: float
    ends: str
    ramp: tuple[float, float] | None
    half: float
    narrowest: float
    thickness: float
    rollers: tuple[Roller, ...]

    @property
    def outer(self) -> float:
        """Distance of the outer walls from the centre line, mm."""
        return self.half - self.edge

    @property
    def inner(self) -> float:
        """Distance of the inner walls from the centre line, mm."""
        return self.outer - self.width

    @property
    def middle(self) -> float:
        """Distance of the slots' middle lines from the centre line, mm."""
        return (self.outer + self.inner) / 2

    @property
    def core(self) -> float:
        """Wood between the slots, mm."""
        return 2 * self.inner

    @property
    def radius(self) -> float:
        """Radius of the slots' ends, mm; 0 where they are squared."""
        return self.width / 2 if self.ends != "squared" else 0.0

    @property
    def ramp_start(self) -> float:
        """Where the ramp begins along the face, or the slot without one, mm."""
        return self.near + (0.0 if self.ramp is None else self.ramp[0])

    def bore_walls(self) -> tuple[BoreWall, ...]:
        """The wood beside every bore, by its axis and radius."""
        found = []
        for one in self.rollers:
            r = one.hole / 2
            found.append(BoreWall(one.name, "face", one.below - r))
            found.append(BoreWall(one.name, "back", self.thickness - one.below - r))
            found.append(BoreWall(one.name, "slot", min(self.near - one.along, one.along - self.far) - r))
        pairs = [BoreWall(a.name, b.name, between(a, b)) for a, b in combinations(self.rollers, 2)]
        for one in self.rollers:  # of each its nearest
            own = [wall for wall in pairs if one.name in (wall.tuner, wall.to)]
            nearest = min(own, key=lambda wall: wall.wood, default=None)
            if nearest is not None and nearest not in found:
                found.append(nearest)
        return tuple(found)


def between(one: Roller, other: Roller) -> float:
    """Wood between two bores, mm; negative where they meet. Those from one side lie beside each other, those from the
    two sides end to end or aslant."""
    beside = math.hypot(one.along - other.along, one.below - other.below) - (one.hole + other.hole) / 2
    if one.side == other.side:
        return beside
    ends = one.sign * one.y_end + other.sign * other.y_end
    if beside <= 0:
        return ends if ends > 0 else max(ends, beside)
    return math.hypot(ends, beside) if ends > 0 else beside


def place_slots(design: Design, outside: Outside) -> SlotPair | None:
    """The slots of a design with their rollers; None without any. Raises DesignError where no core would be left."""
    cut, head = design.head.slots, outside.head
    if cut is None:
        return None
    if -cut.to >= head.length:
        says = f"lies beyond the head, {head.length:.2f} mm long"
        raise design.problem("head.slots.to", says, "", "end the slots sooner, or draw a longer head")
    half, narrowest = _narrowest(outside, cut.to, cut.from_)
    pair = SlotPair(
        near=cut.from_,
        far=cut.to,
        width=cut.width,
        edge=cut.edge,
        ends=cut.ends,
        ramp=None if cut.ramp is None else (cut.ramp.length, cut.ramp.angle),
        half=half,
        narrowest=narrowest,
        thickness=head.thickness,
        rollers=(),
    )
    if pair.core < LEAST_CORE:
        room = half - cut.edge - LEAST_CORE / 2
        says = f"leaves no wood between the slots: the head is {2 * half:.2f} mm wide where it is narrowest over them"
        allowed = f"at most {no_more(room)} with this edge" if room > 0 else ""
        raise design.problem("head.slots.width", says, allowed, "a wider head, a smaller head.slots.edge")
    return replace(pair, rollers=_rollers(design, outside, pair))


def _narrowest(outside: Outside, far: float, near: float) -> tuple[float, float]:
    """(least half width of the head's face between two places along it, that place), mm."""
    count = math.ceil((near - far) / APART)
    places = [near + (far - near) * k / count for k in range(count + 1)]
    cove = (outside.x_cove - outside.head.x_line) / math.cos(math.radians(outside.head.angle))
    places += [cove] if far < cove < near else []  # where the sides may have a corner

    def half(along: float) -> float:
        low, high = sides_at(outside, outside.head.on_face(along)[0])
        return min(-low, high)

    found = min(places, key=half)
    return half(found), found


def _rollers(design: Design, outside: Outside, pair: SlotPair) -> tuple[Roller, ...]:
    head, tuners = outside.head, design.head.side_tuners
    count = design.strings.courses * (2 if design.strings.paired else 1)
    found = []
    for k, (tuner, string) in enumerate(
        zip(tuners, strings_of(tuners, count, 1 if design.strings.later is None else 2), strict=True)
    ):
        if tuner.into_core >= pair.core:
            says = f"goes right through the {pair.core:.2f} mm of wood between the slots"
            raise design.problem(f"head.tuners.{k}.into_core", says, "", "a hole less deep, or a wider core")
        side = Side(tuner.side)
        sign = -1 if side == Side.BASS else 1
        y_out = sign * (max(outside.widest, _wings(design, outside)) + design.allowance.sides + PAST_SIDE)
        y, y_end = sign * pair.middle, sign * (pair.inner - tuner.into_core)
        middle, start, end = (in_frame(head, tuner.x, at, -tuner.below_face) for at in (y, y_out, y_end))
        found.append(
            Roller(
                name=f"tuner-{k + 1}",
                side=side,
                along=tuner.x,
                below=tuner.below_face,
                hole=tuner.hole,
                into_core=tuner.into_core,
                y=y,
                y_end=y_end,
                y_out=y_out,
                middle=middle,
                start=start,
                end=end,
                string=string,
            )
        )
    return tuple(found)


def _wings(design: Design, outside: Outside) -> float:
    """More than the half width of the head's stock, its wings included, mm."""
    return outside.widest + sum(wing.width for wing in design.head.wings)


def strings_of(tuners: Sequence[SideTuner], strings: int, first: int = 1) -> list[int | None]:
    """The string of each tuner, counted from the bass, as listed; None where all strings are taken.

    As stated; the others by common practice, no source: on each side the outermost string to the tuner nearest the nut,
    and so on inward. first: number of the first string that runs on to the head.
    """
    found = [tuner.string for tuner in tuners]
    left = [number for number in range(first, strings + 1) if number not in found]
    for side, end in ((Side.BASS, 0), (Side.TREBLE, -1)):
        open_ = [k for k, tuner in enumerate(tuners) if tuner.side == side and found[k] is None]
        for k in sorted(open_, key=lambda k: -tuners[k].x):
            found[k] = left.pop(end) if left else None
    return found
