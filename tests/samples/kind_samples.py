"""Necks of the kinds beyond a rod in a channel, as texts: invented, for the tests alone."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from neckmodel.design import Design, read_text
from neckmodel.findings import Findings
from neckmodel.layout import Layout, lay_out

if TYPE_CHECKING:
    from measured_runs import Measured

    from neckmodel.solids.parts import Parts

# six nylon strings over a neck of Spanish-cedar with neither rod nor bar
KNOT = """
[design]
name = "knot"
instrument = "nylon-string"
[strings]
courses = 6
scale = 650.0
spacing_at_nut = 43.0
spacing_at_bridge = 58.0
each = [
  {note = "E2", diameter = 1.10, tension = 63.0},
  {note = "A2", diameter = 0.88, tension = 68.0},
  {note = "D3", diameter = 0.74, tension = 70.0},
  {note = "G3", diameter = 1.02, tension = 54.0},
  {note = "B3", diameter = 0.82, tension = 53.0},
  {note = "E4", diameter = 0.71, tension = 67.0},
]
[fretboard]
frets = 19
edge_margin = 4.5
thickness = 6.5
radius = "flat"
wood = "ebony"
[neck]
reinforcement = "none"
wood = "Spanish-cedar"
joint_fret = 12
thickness = {fret_1 = 22.5, fret_12 = 24.5}
[heel]
swell_from = 20.0
[board]
length = 900.0
width = 80.0
thickness = 100.0
"""

# a plain fretless bass with a straight rod
SLOE = """
[design]
name = "sloe"
instrument = "bass"
[strings]
courses = 4
scale = 852.0
spacing_at_nut = 36.0
spacing_at_bridge = 68.0
each = [
  {note = "E1", diameter = 2.54, mass_per_length = 36.7},
  {note = "A1", diameter = 1.98, mass_per_length = 22.0},
  {note = "D2", diameter = 1.52, mass_per_length = 12.7},
  {note = "G2", diameter = 1.09, mass_per_length = 6.92},
]
[action]
bridge_height = 14.0
[fretboard]
fretless = "plain"
frets = 24
ends_at = 647.0
thickness = 6.0
radius = {nut = 350.0, end = 450.0}
[neck]
joint_fret = 20
[rod]
kind = "two-way"
adjuster_at = "head"
length = 600.0
width = 6.0
height = 9.2
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[adjusting_key]
kind = "straight"
length = 190.0
[board]
length = 1000.0
width = 80.0
thickness = 45.0
"""
PLAIN, LINED, FRETTED = (
    SLOE,
    SLOE.replace('"plain"', '"lined"'),
    SLOE.replace('fretless = "plain"\n', ""),
)


@cache
def design(text: str, *overrides: str) -> Design:
    return read_text(text, "sample.toml", overrides)


@cache
def laid_out(text: str, *overrides: str) -> Layout:
    return lay_out(design(text, *overrides))


@cache
def built(text: str, *overrides: str) -> Parts:
    from neckmodel.solids import build

    return build(laid_out(text, *overrides))


@cache
def checked(text: str, *overrides: str) -> Findings:
    from neckmodel.checks import check

    return check(built(text, *overrides))


@cache
def uncut(text: str, *overrides: str) -> Measured:
    """What the checks measure: see `measured_runs`."""
    from measured_runs import measured_parts

    return measured_parts(laid_out(text, *overrides), uncut(text) if overrides else None)


@cache
def found_all(text: str, *overrides: str) -> Findings:
    """What all checks find, without facts about the parts."""
    from measured_runs import found_on

    from neckmodel.checks.bench import Bench

    return found_on(Bench(uncut(text, *overrides)))
