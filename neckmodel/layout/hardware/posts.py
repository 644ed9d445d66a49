"""The strings between nut and tuners: which string goes to which tuner, and how far it bends at the nut. mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from neckmodel.geometry.types import Point3
from neckmodel.layout.hardware.slots import Roller, SlotPair, in_frame
from neckmodel.layout.hardware.tuners import TunerPlace
from neckmodel.layout.neck.outside import Head
from neckmodel.layout.strings.strings import StringLine


@dataclass(frozen=True)
class HeadWay:
    """The middle of one string from the nut to its tuner: points (x, y, z) in that order, with one at its string tree
    where the tree holds it down. tree_idle: a tree is stated, but the string runs clear below it."""

    string: int
    tuner: str
    points: tuple[Point3, ...]
    rise: float
    tree_idle: bool = False

    @property
    def fall(self) -> float:
        """Degrees by which the string falls from the nut to the first point that holds it."""
        (x0, y0, z0), (x1, y1, z1) = self.points[:2]
        return math.degrees(math.atan2(z0 - z1, math.hypot(x1 - x0, y1 - y0)))

    @property
    def bend(self) -> float:
        """Degrees by which the string bends down over the nut: its fall less its rise toward the bridge. 0 where it
        would lift off."""
        return max(self.fall - self.rise, 0.0)


def tuner_of_each(strings: Sequence[StringLine], tuners: Sequence[TunerPlace]) -> tuple[TunerPlace, ...]:
    """The tuner of each string, bass side first; () where there are more or fewer tuners than strings.

    On either side of the head the outermost string goes to the tuner nearest to the nut, so that no string crosses
    another; common practice, no source.
    """
    if len(tuners) != len(strings):
        return ()
    from_nut = sorted(tuners, key=lambda tuner: -tuner.on_face[0])
    bass = [tuner for tuner in from_nut if tuner.on_face[1] < 0]
    treble = [tuner for tuner in from_nut if tuner.on_face[1] >= 0]
    return (*bass, *treble[::-1])


def head_ways(strings: Sequence[StringLine], tuners: Sequence[TunerPlace], head: Head) -> tuple[HeadWay, ...]:
    """The way of every string, bass side first; () where there are more or fewer tuners than strings."""
    pairs = zip(strings, tuner_of_each(strings, tuners), strict=False)
    return tuple(way_of(string, tuner, head) for string, tuner in pairs)


def slotted_ways(strings: Sequence[StringLine], pair: SlotPair, head: Head) -> tuple[HeadWay, ...]:
    """The way of every string to its roller's top, bass side first; () where there are more or fewer tuners than
    strings."""
    held = {roller.string: roller for roller in pair.rollers}
    if len(pair.rollers) != len(strings) or any(string.number not in held for string in strings):
        return ()
    return tuple(_to_roller(string, held[string.number], head) for string in strings)


def _to_roller(string: StringLine, roller: Roller, head: Head) -> HeadWay:
    top = in_frame(head, roller.along, roller.y, roller.top + string.diameter / 2)
    return HeadWay(string.number, roller.name, (_over_nut(string), top), _rise(string))


def _over_nut(string: StringLine) -> Point3:
    """The middle of a string where it leaves the nut."""
    return string.x_nut, string.y_nut, string.z_nut + string.diameter / 2


def _rise(string: StringLine) -> float:
    """Degrees by which a string rises toward the bridge."""
    return math.degrees(math.atan2(string.z_12 - string.z_nut, string.x_12 - string.x_nut))


def way_of(string: StringLine, tuner: TunerPlace, head: Head) -> HeadWay:
    """The way of one string from the nut to its tuner."""
    nut, rise = _over_nut(string), _rise(string)
    post = over_face(tuner.on_face, tuner.axis, tuner.string_height)
    if tuner.tree is None:
        return HeadWay(string.number, tuner.name, (nut, post), rise)
    along, height = tuner.tree
    x, z = head.on_face(along)
    y = nut[1] + (post[1] - nut[1]) * (x - nut[0]) / (post[0] - nut[0])
    held = over_face((x, y, z), tuner.axis, height + string.diameter / 2)
    straight = nut[2] + (post[2] - nut[2]) * (held[0] - nut[0]) / (post[0] - nut[0])
    if held[2] >= straight:
        return HeadWay(string.number, tuner.name, (nut, post), rise, tree_idle=True)
    return HeadWay(string.number, tuner.name, (nut, held, post), rise)


def over_face(on_face: Point3, axis: Point3, height: float) -> Point3:
    """The point at this height over a point of the head's face, mm."""
    x, y, z = np.add(on_face, np.multiply(axis, height)).tolist()
    return x, y, z
