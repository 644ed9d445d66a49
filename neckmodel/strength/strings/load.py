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
class Load:
    """All strings together: their pull, N, and the height of its line over the glue plane, straight between nut and
    bridge, mm. Each string counts with its own tension."""

    pull: float
    z_nut: float
    z_bridge: float
    scale: float

    def height(self, x: Floats) -> Floats:
        """Height of the pull's line over the glue plane at x, mm."""
        return np.asarray(self.z_nut + (self.z_bridge - self.z_nut) * x / self.scale)

    def moment(self, x: Floats, neutral: Floats) -> Floats:
        """`M(x) = T (z_string - z_n)`, N mm, positive where it pulls the neck hollow."""
        return np.asarray(self.pull * (self.height(x) - neutral))


def load_of(layout: Layout, pull: Pull) -> Load:
    """The strings' load on this layout; the axis of a string lies half its diameter over its underside."""
    lines = layout.frets.strings
    scale = layout.frets.scale

    def mean(x: float) -> float:
        heights = (line.z(x) + line.diameter / 2 for line in lines)
        return math.fsum(f * z for f, z in zip(pull.each, heights, strict=True)) / pull.total

    return Load(pull.total, mean(0.0), mean(scale), scale)


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
        shares = [force / pull.total for force in pull.each]
    else:
        if layout.head.angle == 0:
            return None
        slope = math.degrees(math.atan2(load.z_bridge - load.z_nut, load.scale))
        angles, falls, shares = [max(layout.head.angle - slope, 0.0)], [layout.head.angle], [1.0]
    three = (min(angles), math.fsum(angles) / len(angles), max(angles))
    likely = math.fsum(press_on_nut(load.pull * share, angle) for share, angle in zip(shares, angles, strict=True))
    press = press_on_nut(load.pull, three[0]), likely, press_on_nut(load.pull, three[2])
    return HeadSide(math.fsum(falls) / len(falls), three, press)
