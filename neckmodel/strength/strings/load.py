"""How the strings load the neck: their line over the frets, and their way from the nut to the tuners. mm, N."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from neckmodel.geometry.types import Floats
from neckmodel.strength.strings.pull import Pull, press_on_nut

if TYPE_CHECKING:
    from neckmodel.layout import Layout


@dataclass(frozen=True)
class LaterPull:
    """A string that starts later than the nut: its pull, N, the x from which the neck bears it (its peg, or where it
    starts), mm, and the height of its line over the glue plane at x = 0 and its rise for each mm of x."""

    pull: float
    x_from: float
    z_nut: float
    rise: float

    def moment(self, x: Floats, neutral: Floats) -> Floats:
        """(n,) N mm: nothing on the head side of x_from."""
        return np.where(x > self.x_from, self.pull * (self.z_nut + self.rise * x - neutral), 0.0)


@dataclass(frozen=True)
class Load:
    """All strings together: their pull, N, and the height of its line over the glue plane, straight between nut and
    bridge, mm. Each string counts with its own tension.

    later: a string that starts later than the nut. It counts in `pull`, which the neck bears as a column (on the safe
    side between nut and peg); z_nut and z_bridge are the other strings'.
    """

    pull: float
    z_nut: float
    z_bridge: float
    scale: float
    later: LaterPull | None = None

    @property
    def at_nut(self) -> float:
        """Pull of the strings that run over the nut, N."""
        return self.pull if self.later is None else self.pull - self.later.pull

    def height(self, x: Floats) -> Floats:
        """Height over the glue plane at x of the line of what pulls at the nut, mm."""
        return np.asarray(self.z_nut + (self.z_bridge - self.z_nut) * x / self.scale)

    def moment(self, x: Floats, neutral: Floats) -> Floats:
        """`M(x) = T (z_string - z_n)`, N mm, positive where it pulls the neck hollow."""
        found = self.at_nut * (self.height(x) - neutral)
        return np.asarray(found if self.later is None else found + self.later.moment(x, neutral))


def load_of(layout: Layout, pull: Pull) -> Load:
    """The strings' load on this layout; the axis of a string lies half its diameter over its underside."""
    scale = layout.frets.scale
    pairs = [(force, line) for force, line in zip(pull.each, layout.frets.strings, strict=True) if line.fret == 0]

    def mean(x: float) -> float:
        total = math.fsum(force for force, _ in pairs)
        return math.fsum(force * (line.z(x) + line.diameter / 2) for force, line in pairs) / total

    return Load(pull.total, mean(0.0), mean(scale), scale, _later(layout, pull))


def _later(layout: Layout, pull: Pull) -> LaterPull | None:
    line = layout.frets.strings[0]
    if line.fret == 0:
        return None
    z0, z1 = (line.z(x) + line.diameter / 2 for x in (0.0, 1.0))
    return LaterPull(pull.each[0], line.x_nut if layout.peg is None else layout.peg.mouth[0], z0, z1 - z0)


@dataclass(frozen=True)
class HeadSide:
    """The strings between nut and tuners. fall: degrees by which the mean string falls below the level. angles: degrees
    by which the strings bend at the nut, least, mean and most. press: force on the nut, N, the same three."""

    fall: float
    angles: tuple[float, float, float]
    press: tuple[float, float, float]

    def height(self, z_nut: float, x: float) -> float:
        """Height of the mean string at x < 0, mm."""
        return z_nut + x * math.tan(math.radians(self.fall))


def head_side(layout: Layout, load: Load, pull: Pull) -> HeadSide | None:
    """The strings from the nut to the posts, string by string; along an inclined head's face where there are more or
    fewer tuners than strings. None where neither is known.

    On the bridge's side of the nut a string rises with the slope of its line. A string that fell by as much on the
    head's side would run straight on, so a string bends by its fall less that slope.
    """
    ways = layout.head_ways
    if ways:
        angles, falls = [way.bend for way in ways], [way.fall for way in ways]
        running = [force for force, line in zip(pull.each, layout.frets.strings, strict=True) if line.fret == 0]
        shares = [force / load.at_nut for force in running]
    else:
        if layout.head.angle == 0:
            return None
        slope = math.degrees(math.atan2(load.z_bridge - load.z_nut, load.scale))
        angles, falls, shares = [max(layout.head.angle - slope, 0.0)], [layout.head.angle], [1.0]
    three = (min(angles), math.fsum(angles) / len(angles), max(angles))
    likely = math.fsum(press_on_nut(load.at_nut * share, angle) for share, angle in zip(shares, angles, strict=True))
    press = press_on_nut(load.at_nut, three[0]), likely, press_on_nut(load.at_nut, three[2])
    return HeadSide(math.fsum(falls) / len(falls), three, press)
