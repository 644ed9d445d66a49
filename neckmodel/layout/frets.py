"""Where the frets lie and where the strings run."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

if TYPE_CHECKING:
    from neckmodel.design import Design

Floats = NDArray[np.float64]


def fret_distance(scale: float, number: ArrayLike) -> Floats:
    """Distance of a fret from the nut, mm: `L (1 - 2**(-n/12))` (equal temperament, Mersenne's law).

    scale: mm. number: any shape, fret numbers; 0 is the nut. Returns the same shape.
    """
    return np.asarray(scale * (1.0 - np.exp2(-np.asarray(number, dtype=float) / 12.0)))


RULE_DIVISOR = 17.817  # of the workshop rule; exactly 1/(1 - 2**(-1/12)) = 17.81715...


def rule_distance(scale: float, number: ArrayLike, divisor: float = RULE_DIVISOR) -> Floats:
    """Where the old workshop rule puts a fret, mm: each step takes 1/divisor of what remains of the scale length.

    scale: mm. number: any shape, fret numbers. Returns the same shape. An older form of the rule divides by 18.
    """
    return np.asarray(scale * (1.0 - (1.0 - 1.0 / divisor) ** np.asarray(number, dtype=float)))


@dataclass(frozen=True)
class Fret:
    """One fret: x on the centre line and where it meets the outer strings, mm."""

    number: int
    x: float
    x_bass: float
    x_treble: float


@dataclass(frozen=True)
class StringLine:
    """One string, straight from nut to bridge: its centre at both ends, mm; y positive toward the treble side.

    z at the nut and at fret 12 is the string's underside over the fretboard's glue plane.
    """

    number: int
    y_nut: float
    y_bridge: float
    x_bridge: float
    diameter: float
    z_nut: float
    z_12: float
    x_12: float

    def y(self, x: float) -> float:
        return self.y_nut + (self.y_bridge - self.y_nut) * x / self.x_bridge

    def z(self, x: float) -> float:
        """Height of the string's underside at x, mm (straight line through nut and fret 12)."""
        return self.z_nut + (self.z_12 - self.z_nut) * x / self.x_12


@dataclass(frozen=True)
class Frets:
    """All frets of a neck with one scale length, and the strings over them."""

    scale: float
    frets: tuple[Fret, ...]
    strings: tuple[StringLine, ...]

    def x(self, number: float) -> float:
        """x of a fret on the centre line, mm; 0 is the nut; need not lie on the fretboard."""
        return float(fret_distance(self.scale, number))

    def nearest(self, x: float) -> int:
        """Number of the fret nearest to x; 0 is the nut."""
        places = np.array([0.0, *(fret.x for fret in self.frets)])
        return int(np.argmin(np.abs(places - x)))


def string_positions(spacing: float, diameters: tuple[float, ...], divided_by: str) -> Floats:
    """y of each string's centre, bass first, mm.

    spacing: between the outer strings' centres. "gaps": equal clear gaps between strings,
    `gap = (S - sum(d) + d_1/2 + d_n/2)/(n-1)`; "centres": equal distances of centres.
    """
    d = np.asarray(diameters, dtype=float)
    if divided_by == "centres":
        return np.linspace(-spacing / 2, spacing / 2, len(d))
    gap = (spacing - d.sum() + d[0] / 2 + d[-1] / 2) / (len(d) - 1)
    steps = gap + (d[:-1] + d[1:]) / 2
    return np.concatenate(([0.0], np.cumsum(steps))) - spacing / 2


def place_frets(design: Design) -> tuple[Fret, ...]:
    scale = design.strings.scale.bass
    numbers = np.arange(1, design.fretboard.frets + 1)
    return tuple(
        Fret(int(n), float(x), float(x), float(x)) for n, x in zip(numbers, fret_distance(scale, numbers), strict=True)
    )


def crown_drop(radius: float, y: float) -> float:
    """How far a crown of this radius lies below its middle at distance y, mm: `R - sqrt(R**2 - y**2)`; 0 if flat."""
    return 0.0 if math.isinf(radius) else radius - math.sqrt(radius * radius - y * y)


DEFAULT_STRING = 0.5  # mm, taken for spacing when no strings are stated; common practice, no source


def place_strings(
    design: Design, crown_thickness: float, radius_nut: float, radius_12: float
) -> tuple[StringLine, ...]:
    """Every string's line. Heights: fretboard at the string + fret + the stated action at nut and fret 12."""
    strings, scale = design.strings, design.strings.scale.bass
    stated = [s.diameter for s in strings.each if s.diameter is not None]
    diameters = tuple(stated) if len(stated) == strings.courses else (DEFAULT_STRING,) * strings.courses
    nut = string_positions(strings.spacing_at_nut, diameters, strings.divided_by)
    bridge = string_positions(strings.spacing_at_bridge, diameters, strings.divided_by)
    x_12, fret, action = float(fret_distance(scale, 12)), design.fretboard.fret_height, design.action
    lines = []
    for k, (y0, y1, d) in enumerate(zip(nut, bridge, diameters, strict=True)):
        y12 = (y0 + y1) / 2
        z0 = crown_thickness - crown_drop(radius_nut, y0) + fret + action.at_nut
        z12 = crown_thickness - crown_drop(radius_12, y12) + fret + action.at_12
        lines.append(StringLine(k + 1, float(y0), float(y1), scale, d, z0, z12, x_12))
    return tuple(lines)
