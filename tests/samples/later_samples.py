"""A five-string neck whose short string starts at fret 5, with its peg in the neck's side."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from neckmodel.design import Design, read_text
from neckmodel.layout import Layout, lay_out

if TYPE_CHECKING:
    from neckmodel.findings import Findings
    from neckmodel.solids.parts import Parts

PEG = ', peg = {from = "side", x = 160.0, below = 7.5, hole = 8.0, depth = 9.0}'
RINGLET = """
[design]
name = "ringlet"
[strings]
courses = 5
scale = 670.0
spacing_at_nut = 38.0
spacing_at_bridge = 50.0
divided_by = "centres"
each = [
  {note = "G4", diameter = 0.25, mass_per_length = 0.3975, starts_at_fret = 5@PEG@},
  {note = "D3", diameter = 0.56, material = "steel"},
  {note = "G3", diameter = 0.41, material = "steel"},
  {note = "B3", diameter = 0.3, material = "steel"},
  {note = "D4", diameter = 0.25, material = "steel"},
]
[fretboard]
frets = 22
past_last_fret = 8.0
edge_margin = 3.5
radius = "flat"
[neck]
joint_fret = 19
thickness = {fret_1 = 23.0, fret_12 = 25.0}
back = "D"
[heel]
depth = 22.0
[head]
tuners = [
  {x = -40.0, y = -14.0, hole = 10.0, housing = {length = 24.0, width = 15.0}},
  {x = -80.0, y = -14.0, hole = 10.0, housing = {length = 24.0, width = 15.0}},
  {x = -40.0, y = 14.0, hole = 10.0, housing = {length = 24.0, width = 15.0}},
  {x = -80.0, y = 14.0, hole = 10.0, housing = {length = 24.0, width = 15.0}},
]
[rod_place]
from_nut = 10.0
[rod]
kind = "two-way"
width = 6.0
height = 9.2
length = 456.0
adjuster = {diameter = 7.0, length = 10.0, axis_below_top = 4.2, socket = {kind = "hex", size = 4.0, depth = 5.0}}
[workshop]
cutters = [{diameter = 6.0, flute_length = 20.0, stick_out = 38.0}]
""".replace("@PEG@", PEG)
SHORT = "strings.each.0"


@cache
def design(*over: str) -> Design:
    return read_text(RINGLET, "ringlet.toml", over)


@cache
def laid_out(*over: str) -> Layout:
    return lay_out(design(*over))


@cache
def built(*over: str) -> Parts:
    from neckmodel.solids import build  # kept inside: the tests of the layout need no kernel

    return build(laid_out(*over))


@cache
def checked(*over: str) -> Findings:
    from neckmodel.checks import check

    return check(built(*over))
