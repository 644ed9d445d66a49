"""The strings' pull: Mersenne's law, for each string and for all, and the part of it that presses on the nut. Forces
N."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from neckmodel.design.values.scale import fret_share
from neckmodel.lengths import listed
from neckmodel.strength.materials.metals import STRING_DENSITY, WRAP_DENSITY, WRAPS_FROM_MEMORY
from neckmodel.strength.strings.wire import frequency, mass_of_wire

if TYPE_CHECKING:
    from neckmodel.design.tables.strings import String, Strings, Wound

WOUND_SPREAD = 0.05  # of a mass by core and wraps; common practice, no source


def tension(length: float, hertz: float, mass_per_length: float) -> float:
    """`T = 4 L**2 f**2 mu` (Mersenne's law), N. length mm, mass_per_length g/m."""
    return 4 * (length * 1e-3) ** 2 * hertz**2 * mass_per_length * 1e-3


def press_on_nut(pull: float, angle: float) -> float:
    """Force of a string on the nut where it bends by `angle` degrees: `2 T sin(angle/2)`, N."""
    return 2 * pull * math.sin(math.radians(angle) / 2)


@dataclass(frozen=True)
class Pull:
    """The tension of each string from the bass side, N, and the key that is missing where it is not known.

    masses: of each, g/m (None: its tension is stated, and not its note). estimated: which of it is estimated, in words;
    empty where nothing is.
    """

    each: tuple[float, ...]
    missing: str | None = None
    masses: tuple[float | None, ...] = ()
    estimated: str = ""

    @property
    def total(self) -> float:
        """Tension of all strings together, N."""
        return math.fsum(self.each)


def mass_of_wound(wound: Wound) -> float:
    """Mass per length, g/m, of core and wraps: each wrap as rings of round wire, turn touching turn, about what lies
    under it, `rho (pi/4) d_w**2 pi (d + d_w)/d_w`. Right to some 5 %: wire is flattened, cores may be hexagons or
    strands (common practice, no source)."""
    mass, under = mass_of_wire(wound.core, STRING_DENSITY[wound.on]), wound.core
    for wire in wound.wrap:
        mass += mass_of_wire(wire, WRAP_DENSITY[wound.material]) * math.pi * (under + wire) / wire
        under += 2 * wire
    return mass


def mass_of(string: String) -> float | None:
    """Mass per length, g/m: as stated, of a plain string of a stated material, or of core and wraps; None where none is
    stated."""
    if string.mass_per_length is not None:
        return string.mass_per_length
    if string.wound is not None:
        return mass_of_wound(string.wound)
    if string.material is not None:
        return mass_of_wire(string.diameter, STRING_DENSITY[string.material])
    return None


def _lengths(strings: Strings) -> list[float]:
    """Scale length of each string, mm; with two scale lengths it changes evenly from bass to treble. A string that
    starts at a fret speaks from there."""
    count, scale = len(strings.each), strings.scale
    shares = [k / (count - 1) if count > 1 else 0.0 for k in range(count)]
    stops = [1.0 - fret_share(string.starts_at_fret or 0) for string in strings.each]
    return [
        (scale.bass + (scale.treble - scale.bass) * share) * stop for share, stop in zip(shares, stops, strict=True)
    ]


def pull_of(strings: Strings) -> Pull:
    """The tension of every string, as stated or by Mersenne's law."""
    if not strings.each:
        return Pull((), "strings.each")
    forces, masses = [], []
    for k, (string, length) in enumerate(zip(strings.each, _lengths(strings), strict=True)):
        force, mass = string.tension, mass_of(string)
        hertz = None if string.note is None else frequency(string.note)
        if force is None:
            if hertz is None or mass is None:
                what = "note" if hertz is None else "mass_per_length"
                return Pull((), f"strings.each[{k}].{what}")
            force = tension(length, hertz, mass)
        elif hertz is not None:
            mass = force / tension(length, hertz, 1.0)
        forces.append(force)
        masses.append(mass)
    return Pull(tuple(forces), None, tuple(masses), _estimated(strings))


def _estimated(strings: Strings) -> str:
    """Which masses are estimated from core and wraps, in words."""
    wound = {k: string.wound for k, string in enumerate(strings.each, 1) if string.wound is not None}
    if not wound:
        return ""
    numbers = listed(str(k) for k in wound)
    many = "masses of strings" if len(wound) > 1 else "mass of string"
    says = f"{many} {numbers} by core and wraps, right to some {100 * WOUND_SPREAD:.0f} %"
    metals = [name for name in WRAPS_FROM_MEMORY if name in {string.material for string in wound.values()}]
    return says + (f" (density of {listed(metals)} from memory, not verified)" if metals else "")
